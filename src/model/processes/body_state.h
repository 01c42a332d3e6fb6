// One body of water as its processes see it: temperature, concentrations, acidity.
#pragma once

#include <algorithm>
#include <cmath>

#include "model/books/layout.h"
#include "science/carbonate/acidity.h"
#include "science/fish/ramp.h"

namespace leat::model {

/// Heat held by a cubic metre of water per kelvin.
inline constexpr VolumetricHeat<> water_heat{4.18e6};

/// Temperature from heat, in degrees above freezing as if no ice formed. Below freezing the heat that leaves makes ice:
/// 334 kJ/kg, eighty times what cools the water by a degree, so the temperature all but stays. Rounded over 0.05
/// degrees.
template <class N>
Temperature<N> temperature_with_ice(const N& degrees) {
  constexpr double cooling_per_ice = 4.18 / 334.0;
  return Temperature<N>::from_celsius(cooling_per_ice * degrees +
                                      (1.0 - cooling_per_ice) * science::rounded_ramp(degrees, 0.05));
}

template <class N>
struct BodyState {
  Volume<N> water;
  Temperature<N> temperature;
  Concentration<N> oxygen, carbon, ammonia, nitrite, nitrate, strong_ions;
  Concentration<N> alkalinity;  ///< equivalents
  Number<N> pH;
  Concentration<N> carbon_dioxide;  ///< dissolved as gas
  Concentration<N> unionised_ammonia;
};

/// What a body needs besides its slots: heat held by what shares its temperature (stones), and the last known pH.
struct BodyConstants {
  HeatCapacity<> solids{};
};

/// Ionic strength from what is known: the loop carries about as much divalent as monovalent charge, so each equivalent
/// of strong ions with its partner counts 1.25 times (common practice, no source).
template <class N>
Concentration<N> ionic_strength_of(Concentration<N> strong_ions) {
  using std::sqrt;
  const N eq = strong_ions.si();
  return Concentration<N>(1.25 * sqrt(eq * eq + 1e-2));
}

template <class N>
BodyState<N> body_state(std::span<const N> y, const BodySlots& slots, const BodyConstants& constants, double pH_guess) {
  const auto slot = [&](int i) -> const N& { return y[static_cast<std::size_t>(i)]; };
  BodyState<N> s;
  s.water = Volume<N>(slot(slots.water));
  const N capacity = slot(slots.water) * water_heat.si() + constants.solids.si();
  s.temperature = temperature_with_ice(N(slot(slots.heat) / capacity));
  const auto dissolved = [&](int i) { return Concentration<N>(slot(i) / slot(slots.water)); };
  s.oxygen = dissolved(slots.oxygen);
  s.carbon = dissolved(slots.carbon);
  s.ammonia = dissolved(slots.ammonia);
  s.nitrite = dissolved(slots.nitrite);
  s.nitrate = dissolved(slots.nitrate);
  s.strong_ions = dissolved(slots.strong_ions);
  // Charge balance: what the strong ions leave over is alkalinity.
  s.alkalinity =
      science::alkalinity_from_strong_ions(s.strong_ions - s.nitrate, s.ammonia, s.nitrite, Concentration<N>(N(0.0)));
  const auto constants_of = science::mixed_constants(s.temperature, ionic_strength_of(s.strong_ions));
  const science::AcidBaseTotals<N> totals{s.alkalinity, s.carbon, s.ammonia, s.nitrite, Concentration<N>(N(0.0))};
  s.pH = science::acidity_closed(constants_of, totals, pH_guess);
  s.carbon_dioxide = science::carbon_dioxide_of(s.pH, constants_of, s.carbon);
  s.unionised_ammonia = s.ammonia * science::unionised_ammonia_share(s.pH, constants_of);
  return s;
}

}  // namespace leat::model
