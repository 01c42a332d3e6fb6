// Friction factor of a full round pipe (Darcy's, four times Fanning's).
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "numerics/dual.h"
#include "science/hydraulics/gravity.h"

namespace leat::science {

/// Laminar flow.
///
///   f = 64 / Re
///
/// reynolds  Reynolds number   above 0, to 2000
/// returns   f
/// error     exact for steady flow far from the ends
/// beyond    still evaluates; the flow is not laminar there
/// source    EPANET 2.2 User Manual, chapter 12
template <class N>
Number<N> friction_factor_laminar(Number<N> reynolds) {
  return Number<N>(64.0 / reynolds.si());
}

/// Explicit approximation to Colebrook.
///
///   1/sqrt f = -1.8 log10( (e/D / 3.7)^1.11 + 6.9/Re )
///
/// reynolds            4000 to 1e8
/// relative_roughness  roughness over bore   0 to 0.05
/// error               1.4 % of Colebrook
/// source              Haaland 1983
template <class N>
Number<N> friction_factor_haaland(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log10;
  using std::pow;
  const N rough = relative_roughness.si() > 0.0 ? N(pow(relative_roughness.si() / 3.7, 1.11)) : N(0.0);
  const N x = -1.8 * log10(rough + 6.9 / reynolds.si());
  return Number<N>(1.0 / (x * x));
}

namespace colebrook {
inline constexpr double two_over_ln10 = 0.86858896380650365530;

/// What the logarithm is taken of, at x = 1/sqrt f.
template <class N, class X>
N argument(const X& x, const N& reynolds, const N& rr) {
  return rr / 3.7 + 2.51 * x / reynolds;
}

/// x with x + 2 log10(argument) = 0, for plain numbers.
inline double inverse_root(double reynolds, double rr) {
  double x = 1.0 / std::sqrt(friction_factor_haaland(Number<>(reynolds), Number<>(rr)).si());
  for (int i = 0; i < 20; ++i) {
    const double a = argument(x, reynolds, rr);
    const double step = (x + 2.0 * std::log10(a)) / (1.0 + two_over_ln10 * 2.51 / (reynolds * a));
    x -= step;
    if (std::abs(step) <= 1e-15 * x) break;
  }
  return x;
}
}  // namespace colebrook

/// A friction factor and its slope df/dRe.
template <class N>
struct FrictionFactor {
  Number<N> factor, slope;
};

/// Turbulent flow in smooth and rough pipes, solved to the last digits: Newton on x = 1/sqrt f from Haaland's value;
/// slopes follow from one more step in the generic number (implicit function).
///
///   1/sqrt f = -2 log10( (e/D)/3.7 + 2.51/(Re sqrt f) )
///
/// reynolds            4000 to 1e8
/// relative_roughness  0 to 0.05
/// error               the formula is within about 5 % of measured pipes
/// beyond              still evaluates above Re 1000; below that the logarithm may go negative, never call it there
/// source              Colebrook 1939, constants as in EPANET 2.2 User Manual, chapter 12
template <class N>
FrictionFactor<N> friction_factor_colebrook_and_slope(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log10;
  const N re = reynolds.si(), rr = relative_roughness.si();
  const double x0 = colebrook::inverse_root(plain(re), plain(rr));
  const double bend =
      1.0 + colebrook::two_over_ln10 * 2.51 / (plain(re) * colebrook::argument(x0, plain(re), plain(rr)));
  const N x = x0 - (x0 + 2.0 * log10(colebrook::argument(x0, re, rr))) / bend;
  const N p = colebrook::two_over_ln10 * 2.51 / (re * colebrook::argument(x, re, rr));
  const N f = 1.0 / (x * x);
  return {Number<N>(f), Number<N>(-2.0 * f * p / (re * (1.0 + p)))};
}

/// The factor alone.
template <class N>
Number<N> friction_factor_colebrook(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  return friction_factor_colebrook_and_slope(reynolds, relative_roughness).factor;
}

/// Explicit approximation to Colebrook by three nested evaluations and Steffensen's step.
///
/// reynolds            4000 to 1e8
/// relative_roughness  0 to 0.05
/// error               0.003 % of Colebrook
/// source              Serghides 1984
template <class N>
Number<N> friction_factor_serghides(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log10;
  const N re = reynolds.si();
  const N rough = relative_roughness.si() / 3.7;
  const N a = -2.0 * log10(rough + 12.0 / re);
  const N b = -2.0 * log10(rough + 2.51 * a / re);
  const N c = -2.0 * log10(rough + 2.51 * b / re);
  const N x = a - (b - a) * (b - a) / (c - 2.0 * b + a);
  return Number<N>(1.0 / (x * x));
}

/// The law of this program for every Reynolds number: laminar below 2000, Colebrook above 4000, between them the
/// cubic in Re that meets both in value and slope. What flows there is undetermined, so smoothness decides.
///
/// reynolds            above 0
/// relative_roughness  0 to 0.05
/// error               between 2000 and 4000 accepted laws differ by up to 39 %
/// source              Hermite cubic; the two ends as above
template <class N>
FrictionFactor<N> friction_factor_bridged_and_slope(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  constexpr double low = 2000.0, high = 4000.0, wide = high - low;
  const N re = reynolds.si();
  if (re <= low) return {Number<N>(64.0 / re), Number<N>(-64.0 / (re * re))};
  if (re >= high) return friction_factor_colebrook_and_slope(reynolds, relative_roughness);
  const auto end = friction_factor_colebrook_and_slope(Number<N>(N(high)), relative_roughness);
  constexpr double f0 = 64.0 / low, d0 = -f0 / low * wide;
  const N d1 = wide * end.slope.si(), rise = end.factor.si() - f0;
  const N square = 3.0 * rise - 2.0 * d0 - d1, cube = d0 + d1 - 2.0 * rise;
  const N s = (re - low) / wide;
  return {Number<N>(f0 + s * (d0 + s * (square + s * cube))),
          Number<N>((d0 + s * (2.0 * square + s * 3.0 * cube)) / wide)};
}

/// The factor alone.
template <class N>
Number<N> friction_factor_bridged(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  return friction_factor_bridged_and_slope(reynolds, relative_roughness).factor;
}

}  // namespace leat::science
