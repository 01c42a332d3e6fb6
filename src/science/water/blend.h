// A minimum without a corner, for factors that share a unit and go to zero with what they stand for.
#pragma once

#include <cmath>

#include "numerics/dual.h"

namespace leat::science {

/// The smaller of two factors, its corner rounded:
///
///   (a + b - sqrt((a - b)^2 + roundness a b)) / 2
///
/// Goes to zero in proportion to either factor and scales with both, so a limited rate never outlives what limits it.
/// error    at a = b, sqrt(roundness)/2 of a too low; at b = 2 a, about roundness/2; never above the true minimum
template <class N>
N rounded_minimum(const N& a, const N& b, double roundness) {
  return of_two(a, b, [roundness](const auto& x, const auto& y) {
    using std::sqrt;
    using M = std::decay_t<decltype(x)>;
    const M gap = x - y;
    return M(0.5 * (x + y - sqrt(M(gap * gap + roundness * x * y + 1e-30))));
  });
}

/// ln(10), for 10^x = exp(ln10 x).
inline constexpr double ln10 = 2.302585092994045684;

/// 10^x.
template <class N>
N ten_to(const N& x) {
  return of_one(x, [](const auto& a) {
    using std::exp;
    return exp(std::decay_t<decltype(a)>(ln10 * a));
  });
}

}  // namespace leat::science
