// Solids that rot: nitrogen set free, oxygen taken.
#pragma once

#include <cmath>

#include "science/fish/ramp.h"
#include "science/nitrogen/nitrifier_growth.h"

namespace leat::science {

/// First-order decay: rate at 20 °C and its temperature factor.
struct Decay {
  Frequency<> at_20c;
  Number<> theta;
};
/// source   fresh faeces 0.2 to 0.3 per day (common practice); the others after Zhang & Johnson 2016
inline constexpr Decay fresh_faeces{0.25 * per_day, Number<>(1.047)};
inline constexpr Decay particles{0.10 * per_day, Number<>(1.047)};
inline constexpr Decay oxygen_demand{0.12 * per_day, Number<>(1.047)};
inline constexpr Decay organic_nitrogen{0.10 * per_day, Number<>(1.074)};

/// Rate of decay at a temperature.
template <class N>
Frequency<N> decay_rate(const Decay& decay, Temperature<N> water) {
  return temperature_factor(water, decay.theta) * decay.at_20c;
}

/// The share of decay that oxygen allows: O/(0.5 + O), mg/L. What it forbids goes on with nitrate, then turns foul.
/// source   Zhang & Johnson 2016
template <class N>
Number<N> decay_oxygen_factor(Concentration<N> oxygen) {
  constexpr Concentration<> half = 0.5 * milligram_per_litre / molar_mass::oxygen;
  return Number<N>(share_of_plenty(oxygen.si(), half.si()));
}

/// Oxygen taken in a time by organic matter of a known final demand: L (1 - exp(-k t)).
/// source   Chapra 1997
template <class N>
Density<N> oxygen_demand_exerted(Density<N> ultimate, Frequency<Same<N>> rate, Duration<> time) {
  using std::exp;
  return Density<N>(ultimate.si() * (1.0 - exp(N(-rate.si() * time.si()))));
}

}  // namespace leat::science
