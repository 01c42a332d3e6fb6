// Other forms of the friction factor: kept to compare with, and for sources that use them. The program itself uses
// friction_factor_bridged.
#pragma once

#include <cmath>

#include "science/hydraulics/friction_factor.h"

namespace leat::science {

/// Smooth pipe, explicit: f = 0.3164 / Re^0.25.
///
/// reynolds  4000 to 1e5
/// error     2 % of the implicit smooth law in that range
/// source    Blasius 1913
template <class N>
Number<N> friction_factor_blasius(Number<N> reynolds) {
  using std::pow;
  return Number<N>(0.3164 * pow(reynolds.si(), -0.25));
}

/// Smooth pipe: Colebrook without roughness.
/// source    Prandtl, von Karman, Nikuradse
template <class N>
Number<N> friction_factor_smooth(Number<N> reynolds) {
  return friction_factor_colebrook(reynolds, Number<N>(N(0.0)));
}

/// Fully rough pipe: 1/sqrt f = -2 log10( (e/D)/3.7 ).
///
/// relative_roughness  above 0, to 0.05
/// source              von Karman
template <class N>
Number<N> friction_factor_rough(Number<N> relative_roughness) {
  using std::log10;
  const N x = -2.0 * log10(relative_roughness.si() / 3.7);
  return Number<N>(1.0 / (x * x));
}

/// 1/sqrt f = -2 log10( (6.97/Re)^0.9 + (e/D)/3.7 ).
///
/// reynolds            5000 to 1e8
/// relative_roughness  1e-6 to 0.05
/// error               3.3 % of Colebrook; 1.9 % up to e/D = 0.001. Other prints have 5.74 for 6.97^0.9
/// source              Swamee and Jain 1976
template <class N>
Number<N> friction_factor_swamee_jain(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log10;
  using std::pow;
  const N x = -2.0 * log10(pow(N(6.97 / reynolds.si()), 0.9) + relative_roughness.si() / 3.7);
  return Number<N>(1.0 / (x * x));
}

/// One formula for every Reynolds number.
///
///   f = 8 ( (8/Re)^12 + (A + B)^-1.5 )^(1/12)
///   A = ( -2.457 ln( (7/Re)^0.9 + 0.27 e/D ) )^16,  B = (37530/Re)^16
///
/// error     3.1 % of Colebrook above 4000; between 2000 and 4000 up to 39 % from other laws
/// source    Churchill 1977
template <class N>
Number<N> friction_factor_churchill(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log;
  using std::pow;
  const N re = reynolds.si();
  const N a = pow(N(-2.457 * log(pow(N(7.0 / re), 0.9) + 0.27 * relative_roughness.si())), 16.0);
  const N b = pow(N(37530.0 / re), 16.0);
  return Number<N>(8.0 * pow(N(pow(N(8.0 / re), 12.0) + pow(N(a + b), -1.5)), 1.0 / 12.0));
}

/// Two nested evaluations of Colebrook's logarithm.
///
/// reynolds            4000 to 1e8
/// relative_roughness  4e-5 to 0.05
/// error               0.11 % of Colebrook
/// source              Zigrang and Sylvester 1982, second form
template <class N>
Number<N> friction_factor_zigrang_sylvester_2(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log10;
  const N re = reynolds.si();
  const N rough = relative_roughness.si() / 3.7;
  const N inner = rough - 5.02 / re * log10(rough + 13.0 / re);
  const N x = -2.0 * log10(rough - 5.02 / re * log10(inner));
  return Number<N>(1.0 / (x * x));
}

/// A cubic in Re between laminar flow and Swamee-Jain (5.74) at 4000.
///
/// reynolds  2000 to 4000
/// source    Dunlop 1991, coefficients as in EPANET 2.2 User Manual, chapter 12
template <class N>
Number<N> friction_factor_transition_cubic(Number<N> reynolds, Number<AsGiven<N>> relative_roughness) {
  using std::log10;
  constexpr double aa = -1.5634601348517065795, ab = 0.00328895476345399058690;
  const N r = reynolds.si() / 2000.0;
  const N y2 = relative_roughness.si() / 3.7 + ab;
  const N y3 = -2.0 * log10(y2);
  const N fa = 1.0 / (y3 * y3);
  const N fb = fa * (2.0 - aa * ab / (y2 * y3));
  const N x1 = 7.0 * fa - fb;
  const N x2 = 0.128 - 17.0 * fa + 2.5 * fb;
  const N x3 = -0.128 + 13.0 * fa - 2.0 * fb;
  const N x4 = 0.032 - 3.0 * fa + 0.5 * fb;
  return Number<N>(x1 + r * (x2 + r * (x3 + r * x4)));
}

}  // namespace leat::science
