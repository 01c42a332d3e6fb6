// A minimum without a corner, for factors that share a unit and go to zero with what they stand for.
#pragma once

#include <cmath>

namespace leat::science {

/// The smaller of two factors, its corner rounded:
///
///   (a + b - sqrt((a - b)^2 + roundness a b)) / 2
///
/// Goes to zero in proportion to either factor and scales with both, so a limited rate never outlives what limits it.
/// error    at a = b, sqrt(roundness)/2 of a too low; at b = 2 a, about roundness/2; never above the true minimum
template <class N>
N rounded_minimum(const N& a, const N& b, double roundness) {
  using std::sqrt;
  const N gap = a - b;
  return 0.5 * (a + b - sqrt(N(gap * gap + roundness * a * b + 1e-30)));
}

/// ln(10), for 10^x = exp(ln10 x).
inline constexpr double ln10 = 2.302585092994045684;

/// 10^x.
template <class N>
N ten_to(const N& x) {
  using std::exp;
  return exp(N(ln10 * x));
}

}  // namespace leat::science
