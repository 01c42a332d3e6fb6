#include "science/hydraulics/circular_section.h"

#include "numerics/root.h"

namespace leat::science {

Number<> part_full_depth_ratio(Number<> area_ratio) {
  const auto excess = [&](double y) { return part_full_area_ratio(Number<>(y)).si() - area_ratio.si(); };
  return Number<>(numerics::bracketed_root(excess, 0.0, 1.0, 1e-15));
}

LargestPartFull part_full_largest_flow(Number<> exponent) {
  const double m = exponent.si();
  // d(A^(1+m) P^-m) = 0 with A ~ a - sin a, P ~ a, a the whole angle.
  const auto slope = [&](double a) { return (1.0 + m) * (1.0 - std::cos(a)) * a - m * (a - std::sin(a)); };
  const double a = numerics::bracketed_root(slope, std::numbers::pi, 2.0 * std::numbers::pi, 1e-14);
  const Number<> depth(0.5 * (1.0 - std::cos(0.5 * a)));
  const double flow = part_full_area_ratio(depth).si() * std::pow(part_full_radius_ratio(depth).si(), m);
  return {depth, Number<>(flow)};
}

}  // namespace leat::science
