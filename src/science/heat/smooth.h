// Corners made smooth, without comparing, so that slopes stay finite and packs of numbers can take the same path.
#pragma once

#include <cmath>
#include <type_traits>

#include "numerics/dual.h"

namespace leat::science {

/// A number type that an argument may be widened to but that is not deduced from it: weather is often a plain double
/// beside a state that is a dual.
template <class N>
using Same = std::type_identity_t<N>;

/// max(x, 0), rounded within about `width` of 0: (x + sqrt(x^2 + width^2)) / 2. Never quite 0 (width/2 at x = 0).
template <class N>
N smooth_positive_part(const N& x, double width) {
  return of_one(x, [width](const auto& a) {
    using std::sqrt;
    using M = std::decay_t<decltype(a)>;
    return M(0.5 * (a + sqrt(M(a * a + width * width))));
  });
}

/// 0 below, 1 above, rounded likewise: the slope of the function above.
template <class N>
N smooth_is_positive(const N& x, double width) {
  return of_one(x, [width](const auto& a) {
    using std::sqrt;
    using M = std::decay_t<decltype(a)>;
    return M(0.5 + 0.5 * a / sqrt(M(a * a + width * width)));
  });
}

/// max(x, 0)^(1/3) with a finite slope at 0: p / (p^2 + width^2)^(1/3), p the rounded positive part of x.
/// error    at x = 10 width, 0.6 %; at 100 width, 0.006 %
template <class N>
N smooth_cube_root_of_positive(const N& x, double width) {
  return of_one(x, [width](const auto& a) {
    using std::cbrt;
    using M = std::decay_t<decltype(a)>;
    const M p = smooth_positive_part(a, width);
    return M(p / cbrt(M(p * p + width * width)));
  });
}

}  // namespace leat::science
