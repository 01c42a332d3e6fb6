// How much oxygen water holds when it is in balance with air.
#pragma once

#include <cmath>

#include "science/heat/smooth.h"
#include "science/water/properties.h"
#include "science/water/substances.h"

namespace leat::science {

/// Salt mass per mass of water, 1 for kg/kg.
inline constexpr Number<> gram_per_kilogram{1e-3};

/// Dissolved oxygen in balance with moist air, as mass.
///
///   ln C1 = -139.34411 + 1.575701e5/T - 6.642308e7/T^2 + 1.243800e10/T^3 - 8.621949e11/T^4
///           - S (0.017674 - 10.754/T + 2140.7/T^2)                       mg/L, T in K, S in g/kg
///   C(P)  = C1 P (1 - u/P)(1 - th P) / ((1 - u)(1 - th))                 P in atm
///   th    = 0.000975 - 1.426e-5 t + 6.436e-8 t^2                         t in °C
///
/// water    temperature               0 to 40 °C
/// air      pressure at the place     50 to 110 kPa, not reduced to the sea
/// salinity salt                      0 to 40 g/kg
/// error    0.002 mg/L against the printed table
/// source   Benson & Krause 1980 and 1984, as adopted by USGS 2011 and APHA 4500-O
template <class N>
Density<N> oxygen_saturation_mass(Temperature<N> water, Pressure<Same<N>> air, Number<> salinity = Number<>(0.0)) {
  using std::exp;
  const N t_c = water.celsius(), x = 1.0 / water.kelvin();
  const N salt = salinity.si() * 1e3 * (0.017674 + x * (-10.754 + 2140.7 * x));
  const N ln_c1 = -139.34411 + x * (1.575701e5 + x * (-6.642308e7 + x * (1.243800e10 - 8.621949e11 * x))) - salt;
  const N u = vapour_pressure_benson_krause(water).in(units::atmosphere);
  const N th = 0.000975 + t_c * (-1.426e-5 + 6.436e-8 * t_c);
  const N p_atm = air.in(units::atmosphere);
  return Density<N>(1e-3 * exp(ln_c1) * (p_atm - u) * (1.0 - th * p_atm) / ((1.0 - u) * (1.0 - th)));
}

/// Dissolved oxygen in balance with moist air, as amount.
template <class N>
Concentration<N> oxygen_saturation(Temperature<N> water, Pressure<Same<N>> air, Number<> salinity = Number<>(0.0)) {
  return oxygen_saturation_mass(water, air, salinity) / molar_mass::oxygen;
}

/// Dissolved oxygen over what the water would hold in balance with the air at the place.
template <class N>
Number<N> oxygen_share_of_saturation(Density<N> oxygen, Temperature<Same<N>> water, Pressure<Same<N>> air,
                                     Number<> salinity = Number<>(0.0)) {
  return oxygen / oxygen_saturation_mass(Temperature<N>(water), air, salinity);
}

/// Saturation that bubbles see which are let out below the surface.
///
///   C' = C (1 + share depth / 10.33 m)
///
/// share    of the depth that counts  0.25 to 0.45
/// source   Tchobanoglous et al. 2014 (Metcalf & Eddy, 5th ed.)
template <class Q>
Q saturation_at_depth(Q at_surface, Length<> depth, Number<> share = Number<>(0.4)) {
  return at_surface * (1.0 + share.si() * depth.si() / 10.33);
}

}  // namespace leat::science
