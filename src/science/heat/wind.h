// Wind: from one height to another, and over the day.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/units/quantity.h"

namespace leat::science {

inline constexpr Length<> roughness_open_ground{0.03};
inline constexpr Length<> roughness_water{0.0002};

/// Wind at another height by the logarithmic profile: u ln(z2/z0) / ln(z1/z0).
///
/// from, to   heights, both above the roughness
/// beyond     0 at and below the roughness
template <class N>
Velocity<N> wind_log_profile(Velocity<N> wind, Length<> from, Length<> to, Length<> roughness) {
  const double ratio = std::log(to.si() / roughness.si()) / std::log(from.si() / roughness.si());
  return wind * (to > roughness ? ratio : 0.0);
}

/// Wind at 2 m over short grass: u 4.87 / ln(67.8 z - 5.42); 0.748 from 10 m.
/// source   FAO-56 equation 47
template <class N>
Velocity<N> wind_to_2m(Velocity<N> wind, Length<> from) {
  return wind * (4.87 / std::log(67.8 * from.si() - 5.42));
}

/// Wind at the rim of a vessel over wind at 2 m: 0.62 for a rim at 0.4 m, 0.84 at 1 m.
///
/// rim      height of the rim above the ground    0.1 to 2 m
/// returns  0.3 to 1; water well below the rim feels less
/// source   log profile with z0 = 0.03 m, which fits a class A pan (rim 0.4 m)
inline Number<> rim_wind_factor(Length<> rim, Length<> roughness = roughness_open_ground) {
  const Length<> height = std::max(rim, Length<>(0.1));
  return Number<>(std::log(height.si() / roughness.si()) / std::log(2.0 / roughness.si()));
}

/// Wind of an hour over the mean of the day: 1 + 0.35 cos(2 pi (h - 14.5)/24), h by the sun's clock.
/// error    real records span 0.5 to 1.6 in deserts, 0.8 to 1.3 in humid places
/// source   the trade's
inline Number<> wind_of_hour_factor(Duration<> solar_clock) {
  return Number<>(1.0 + 0.35 * std::cos(2.0 * std::numbers::pi * (solar_clock.in(units::hour)-14.5) / 24.0));
}

}  // namespace leat::science
