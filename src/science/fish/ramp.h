// Corners for rates: the same straight lines, with the kinks made smooth so that an integrator sees no jump in slope.
// Written with absolute values only, so that duals and packs of numbers take them unchanged.
#pragma once

#include <cmath>

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
  const N u = held_within(x, -half_width, half_width) + half_width;
  return u * u / (4.0 * half_width) + positive_part(N(x - half_width));
}

/// The smaller of two with the corner rounded.
template <class N>
N rounded_smaller_of(const N& a, const N& b, double half_width) {
  return a - rounded_ramp(N(a - b), half_width);
}

/// 0 up to `from`, 1 from `to` on, in between the cubic that is level at both ends.
template <class N>
N smooth_step(const N& x, double from, double to) {
  const N s = held_within(N((x - from) / (to - from)), 0.0, 1.0);
  return s * s * (3.0 - 2.0 * s);
}

}  // namespace leat::science
