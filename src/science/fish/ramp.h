// Corners for rates: the same straight lines, with the kinks made smooth so that an integrator sees no jump in slope.
// Written with absolute values only, so that duals and packs of numbers take them unchanged.
#pragma once

#include <cmath>

#include "numerics/dual.h"

namespace leat::science {

/// max(x, 0)
template <class N>
N positive_part(const N& x) {
  using std::fabs;
  return 0.5 * (x + fabs(x));
}

template <class N>
N smaller_of(const N& a, const N& b) {
  return a - positive_part(N(a - b));
}

template <class N>
N larger_of(const N& a, const N& b) {
  return a + positive_part(N(b - a));
}

/// x held within [low, high].
template <class N>
N held_within(const N& x, double low, double high) {
  return low + positive_part(N(x - low)) - positive_part(N(x - high));
}

/// max(x, 0) with its corner replaced, within `half_width` of zero, by the parabola that meets both lines in slope.
///
///   (u + h)^2 / 4h + max(x - h, 0),   u = x held within -h and h
template <class N>
N rounded_ramp(const N& x, double half_width) {
  return of_one(x, [half_width](const auto& a) {
    using M = std::decay_t<decltype(a)>;
    const M u = held_within(a, -half_width, half_width) + half_width;
    return M(u * u / (4.0 * half_width) + positive_part(M(a - half_width)));
  });
}

/// The smaller of two with the corner rounded.
template <class N>
N rounded_smaller_of(const N& a, const N& b, double half_width) {
  return a - rounded_ramp(N(a - b), half_width);
}

/// 0 up to `from`, 1 from `to` on, in between the cubic that is level at both ends.
template <class N>
N smooth_step(const N& x, double from, double to) {
  return of_one(x, [from, to](const auto& a) {
    using M = std::decay_t<decltype(a)>;
    const M s = held_within(M((a - from) / (to - from)), 0.0, 1.0);
    return M(s * s * (3.0 - 2.0 * s));
  });
}

/// x / (half + x): what is had of something at x, of what would be had of plenty.
template <class N>
N share_of_plenty(const N& x, double half) {
  return of_one(x, [half](const auto& a) { return std::decay_t<decltype(a)>(a / (half + a)); });
}

}  // namespace leat::science
