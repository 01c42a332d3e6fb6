// The cross-section of a round pipe that runs part full.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "science/hydraulics/gravity.h"

namespace leat::science {

/// Half the angle that the water's surface spans from the middle: cos(t) = 1 - 2y/D. 0 when empty, pi when full.
///
/// depth   0 to D; held there outside
inline Number<> circular_half_angle(Length<> depth, Length<> bore) {
  return Number<>(std::acos(std::clamp(1.0 - 2.0 * depth.si() / bore.si(), -1.0, 1.0)));
}

/// A = D^2 (2t - sin 2t)/8
inline Area<> circular_section_area(Length<> depth, Length<> bore) {
  const double angle = 2.0 * circular_half_angle(depth, bore).si();
  return Area<>(bore.si() * bore.si() * (angle - std::sin(angle)) / 8.0);
}

/// Wetted perimeter P = D t.
inline Length<> circular_section_perimeter(Length<> depth, Length<> bore) {
  return circular_half_angle(depth, bore).si() * bore;
}

/// A / P; 0 when empty.
inline Length<> circular_section_hydraulic_radius(Length<> depth, Length<> bore) {
  if (depth.si() <= 0.0) return Length<>(0.0);
  return circular_section_area(depth, bore) / circular_section_perimeter(depth, bore);
}

/// Width of the surface T = 2 sqrt(y (D - y)).
inline Length<> circular_section_width(Length<> depth, Length<> bore) {
  return Length<>(2.0 * std::sqrt(std::max(depth.si() * (bore.si() - depth.si()), 0.0)));
}

/// First moment of the area about the surface, A times the depth of its middle: (T^3/12 - (D/2 - y) A).
inline Volume<> circular_section_moment(Length<> depth, Length<> bore) {
  const double width = circular_section_width(depth, bore).si();
  const double above_middle = 0.5 * bore.si() - depth.si();
  return Volume<>(width * width * width / 12.0 - above_middle * circular_section_area(depth, bore).si());
}

/// Depth over bore at a share of the full area: the inverse of the area.
/// area_ratio   0 to 1
Number<> part_full_depth_ratio(Number<> area_ratio);

/// The same as shares of the full pipe, against y/D.
inline Number<> part_full_area_ratio(Number<> depth_ratio) {
  return Number<>(circular_section_area(Length<>(depth_ratio.si()), Length<>(1.0)).si() / (std::numbers::pi / 4.0));
}
inline Number<> part_full_radius_ratio(Number<> depth_ratio) {
  return Number<>(circular_section_hydraulic_radius(Length<>(depth_ratio.si()), Length<>(1.0)).si() / 0.25);
}
inline Number<> part_full_width_ratio(Number<> depth_ratio) {
  return Number<>(circular_section_width(Length<>(depth_ratio.si()), Length<>(1.0)).si());
}
/// A R^(2/3) over that of the full pipe.
inline Number<> part_full_section_factor(Number<> depth_ratio) {
  return Number<>(part_full_area_ratio(depth_ratio).si() *
                  std::pow(part_full_radius_ratio(depth_ratio).si(), 2.0 / 3.0));
}

/// Where a round pipe carries most, when Q goes as A R^m: 0.938 D and 1.076 of the full flow for m = 2/3 (Manning).
struct LargestPartFull {
  Number<> depth_ratio, flow_ratio;
};
/// exponent  of the hydraulic radius: 2/3 by Manning, 1/2 by Chezy and by Darcy
LargestPartFull part_full_largest_flow(Number<> exponent = Number<>(2.0 / 3.0));

}  // namespace leat::science
