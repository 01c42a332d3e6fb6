// One body of water as its processes see it: temperature, concentrations, acidity.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "model/books/layout.h"
#include "science/carbonate/ion_pairs.h"
#include "science/fish/ramp.h"
#include "science/water/ions.h"

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

inline constexpr double oxygen_molar_kg = 31.998e-3;

/// A quantity, in SI, that depends on temperature alone; f takes temperatures of any kind of number.
template <class N, class F>
N by_temperature(const Temperature<N>& water, F&& f) {
  return of_one(water.kelvin(), [&](const auto& kelvin) {
    using M = std::decay_t<decltype(kelvin)>;
    return M(f(Temperature<M>::from_kelvin(kelvin)).si());
  });
}

/// Share of their need for oxygen that fish and algae can still take up: all of it above 2 mg/L, half at 0.5, nothing
/// where nothing is left. Fish are long dead there; it only keeps the water from giving what it does not have.
template <class N>
N share_of_breath(const Concentration<N>& oxygen) {
  return of_one(oxygen.si(), [](const auto& c) {
    constexpr double half = 0.5e-3 / oxygen_molar_kg;
    using M = std::decay_t<decltype(c)>;
    const M x = science::rounded_ramp(M(c / half), 0.02);
    const M fourth = x * x * x * x;
    return M(fourth / (1.0 + fourth));
  });
}

template <class N>
struct BodyState : Contents<N> {
  Volume<N> water;
  Temperature<N> temperature;
  Concentration<N> alkalinity;  ///< equivalents
  Concentration<N> ionic_strength;
  Number<N> pH;
  Concentration<N> carbon_dioxide;  ///< dissolved as gas
  Concentration<N> bicarbonate;     ///< with its pairs
  Concentration<N> unionised_ammonia;
};

/// What a body needs besides its slots.
struct BodyConstants {
  HeatCapacity<> stones{};                               ///< heat held by what shares its temperature
  double lets_solids_pass = 1.0, lets_algae_pass = 1.0;  ///< of what its water carries; gravel holds it back
};

/// Charge of the ions that neither take up nor give acid, nitrate left out, in equivalents.
template <class N>
Concentration<N> strong_ions_of(const Contents<N>& c) {
  return c.sodium + c.potassium + 2.0 * (c.calcium + c.magnesium) - c.chloride - 2.0 * c.sulphate;
}

/// Charge balance: what the strong ions leave over is alkalinity.
template <class N>
Concentration<N> alkalinity_of_charge(const Contents<N>& c) {
  return science::alkalinity_from_strong_ions(strong_ions_of(c) - c.nitrate, c.ammonia, c.nitrite, c.phosphorus);
}

/// From all ions; bicarbonate is taken as the alkalinity, and phosphate and ammonium as singly charged. Rounded over
/// 0.1 mmol/L at zero.
template <class N>
Concentration<N> ionic_strength_of(const Contents<N>& c, const Concentration<N>& alkalinity) {
  using std::sqrt;
  const N bicarbonate = sqrt(N(alkalinity.si() * alkalinity.si() + 1e-2));
  return science::ionic_strength(science::Ions<N>{c.sodium, c.potassium, c.calcium, c.magnesium, c.ammonia, c.chloride,
                                                  c.nitrate, c.sulphate, Concentration<N>(bicarbonate), c.phosphorus});
}

/// Constants of the weak acids with the activities of this water and its pairs of calcium and magnesium, whose totals
/// stand for the free ions (0.005 of pH).
template <class N>
science::MixedConstants<N> constants_of(const Contents<N>& c, const Temperature<N>& water,
                                        const Concentration<N>& ionic_strength) {
  return science::with_ion_pairs(science::mixed_constants(water, ionic_strength),
                                 science::pair_constants(water, ionic_strength), c.calcium, c.magnesium);
}

/// What follows from temperature and concentrations: acidity and the forms that hang on it.
template <class N>
void speciate(BodyState<N>& s, const Plain<N>& pH_guess) {
  s.alkalinity = alkalinity_of_charge<N>(s);
  s.ionic_strength = ionic_strength_of<N>(s, s.alkalinity);
  const auto weak = constants_of<N>(s, s.temperature, s.ionic_strength);
  const science::AcidBaseTotals<N> totals{s.alkalinity, s.carbon, s.ammonia, s.nitrite, s.phosphorus};
  s.pH = science::acidity_closed(weak, totals, pH_guess);
  const auto shares = science::carbon_shares(s.pH, weak);
  s.carbon_dioxide = s.carbon * Number<N>(shares.carbon_dioxide);
  s.bicarbonate = s.carbon * Number<N>(shares.bicarbonate);
  s.unionised_ammonia = s.ammonia * science::unionised_ammonia_share(s.pH, weak);
}

/// Temperature of a body from its heat.
template <class N>
Temperature<N> body_temperature(const N& water, const N& heat, const BodyConstants& constants) {
  const N capacity = water * water_heat.si() + constants.stones.si();
  return temperature_with_ice(N(heat / capacity));
}

template <class N>
BodyState<N> body_state(std::span<const N> y, const BodySlots& slots, const BodyConstants& constants,
                        const Plain<N>& pH_guess) {
  const auto slot = [&](int i) -> const N& { return y[static_cast<std::size_t>(i)]; };
  BodyState<N> s;
  s.water = Volume<N>(slot(slots.water));
  s.temperature = body_temperature(slot(slots.water), slot(slots.heat), constants);
  for (std::size_t i = 0; i < Contents<N>::size; ++i)
    s.*Contents<N>::members[i] = Concentration<N>(slot(slots.carried + static_cast<int>(i)) / slot(slots.water));
  speciate(s, pH_guess);
  return s;
}

/// The numbers of a body's state in a row: water, temperature, what it carries; then what follows from those.
namespace state_number {
inline constexpr std::size_t water = 0, temperature = 1, carried = 2, first_derived = carried + Contents<>::size,
                             derived = 6, all = first_derived + derived;
}  // namespace state_number

template <class N>
N get_number(const BodyState<N>& s, std::size_t which) {
  using namespace state_number;
  if (which == water) return s.water.si();
  if (which == temperature) return s.temperature.kelvin();
  if (which < first_derived) return (s.*Contents<N>::members[which - carried]).si();
  const std::array<N, derived> rest = {s.alkalinity.si(),     s.ionic_strength.si(), s.pH.si(),
                                       s.carbon_dioxide.si(), s.bicarbonate.si(),    s.unionised_ammonia.si()};
  return rest[which - first_derived];
}

template <class N>
void set_number(BodyState<N>& s, std::size_t which, const N& x) {
  using namespace state_number;
  if (which == water) {
    s.water = Volume<N>(x);
  } else if (which == temperature) {
    s.temperature = Temperature<N>::from_kelvin(x);
  } else if (which < first_derived) {
    s.*Contents<N>::members[which - carried] = Concentration<N>(x);
  } else if (which == first_derived + 2) {
    s.pH = Number<N>(x);
  } else {
    constexpr std::array<Concentration<N> BodyState<N>::*, derived> rest = {
        &BodyState<N>::alkalinity,     &BodyState<N>::ionic_strength, nullptr,
        &BodyState<N>::carbon_dioxide, &BodyState<N>::bicarbonate,    &BodyState<N>::unionised_ammonia};
    s.*rest[which - first_derived] = Concentration<N>(x);
  }
}

}  // namespace leat::model
