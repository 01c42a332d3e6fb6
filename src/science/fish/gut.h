// How long a meal stays in the stomach.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/fish/ramp.h"

namespace leat::science {

inline constexpr MassRate<> gram_per_hour{1e-3 / 3600.0};

/// Share of the stomach's content that leaves per time, for fish prey.
///
///   R = 0.053 exp(0.073 T)        1/h, T in °C
///
/// water    temperature of the water          4 to 23 °C
/// returns  7 %/h at 4.5 °C, 27 %/h at 22.5 °C
/// error    6 % against the 29 %/h observed at 22.5 °C
/// source   He & Wurtsbaugh 1993 (brown trout)
template <class N>
Frequency<N> gastric_evacuation_rate(Temperature<N> water) {
  using std::exp;
  return Frequency<N>(0.053 * exp(N(0.073 * water.celsius())) / 3600.0);
}

/// Time until half of the content is gone under a constant share per time: ln 2 / R.
template <class N>
Duration<N> gastric_half_time(Temperature<N> water) {
  return Duration<N>(0.69314718055994531 / gastric_evacuation_rate(water).si());
}

/// Coefficient of the square-root law by mass of fish, g^0.5 per hour.
///
///   k = 0.00245 W^0.41 exp(0.06 T)        W in g, T in °C
///
/// source   farmed brown trout on pellets, Aquac. Res. 52:4849 (2021)
template <class N>
N gastric_coefficient_mass(Temperature<N> water, Mass<N> fish) {
  using std::exp;
  using std::pow;
  return 0.00245 * pow(fish.in(units::gram), 0.41) * exp(N(0.06 * water.celsius()));
}

/// The same by length of fish.
///
///   k = 0.000464 L^1.31 exp(0.052 T)        L in cm
///
/// source   brook trout, Khan et al. 2016
template <class N>
N gastric_coefficient_length(Temperature<N> water, Length<N> fish) {
  using std::exp;
  using std::pow;
  return 0.000464 * pow(fish.in(10.0 * units::millimetre), 1.31) * exp(N(0.052 * water.celsius()));
}

/// Content that leaves the stomach per time: k sqrt(S), S in g, per hour.
template <class N>
MassRate<N> gastric_rate_square_root(N coefficient, Mass<N> content) {
  using std::sqrt;
  return MassRate<N>(coefficient * sqrt(content.in(units::gram)) * gram_per_hour.si());
}

/// Time until a meal is gone under the square-root law: 2 sqrt(S0) / k.
template <class N>
Duration<N> gastric_empty_time(N coefficient, Mass<N> meal) {
  using std::sqrt;
  return Duration<N>(2.0 * sqrt(meal.in(units::gram)) / coefficient * 3600.0);
}

/// Time until rainbow trout have passed a meal of pellets.
///
///   72.4 h at 5 °C and 16.4 h at 20 °C, exponential between and beyond
///
/// water    temperature of the water          5 to 20 °C
/// source   Windell et al. 1976
template <class N>
Duration<N> gut_passage_trout(Temperature<N> water) {
  using std::exp;
  const double slope = std::log(16.4 / 72.4) / 15.0;
  return Duration<N>(72.4 * 3600.0 * exp(N(slope * (water.celsius() - 5.0))));
}

}  // namespace leat::science
