// Nitrogen dissolved from air, and the pressure of all gases together, which gives fish the bends.
#pragma once

#include <cmath>

#include "science/gas/oxygen_saturation.h"

namespace leat::science {

/// Dissolved nitrogen in balance with moist air, as mass.
///
///   ln b = -59.6274 + 85.7661 (100/T) + 24.3696 ln(T/100)     Bunsen coefficient, T in K
///   C    = 1.25043 g/L b 0.78084 (P - u)                      P in atm
///
/// water    temperature               0 to 40 °C
/// source   Weiss 1970 (from memory; agrees with Colt 1984). A public copy prints 85.7761: 0.4 % high.
template <class N>
Density<N> nitrogen_saturation_mass(Temperature<N> water, Pressure<Same<N>> air) {
  using std::exp;
  using std::log;
  const N hundreds = water.kelvin() / 100.0;
  const N bunsen = exp(N(-59.6274 + 85.7661 / hundreds + 24.3696 * log(hundreds)));
  const N dry = (air - vapour_pressure_benson_krause(water)).in(units::atmosphere);
  return Density<N>(1.25043 * 0.78084 * bunsen * dry);
}

/// Pressure of all dissolved gases and vapour over that of the air.
///
///   TGP = ((0.2095 fO2 + 0.7905 fN2)(P - u) + u) / P
///
/// oxygen, nitrogen  shares of saturation at the place; argon counts with nitrogen
/// returns  1 in balance; above 1.03 to 1.05 trout suffer over weeks, 1.10 is a legal limit
/// source   Colt 1984 (from memory)
template <class N>
Number<N> total_gas_pressure(Number<N> oxygen, Number<Same<N>> nitrogen, Temperature<Same<N>> water,
                             Pressure<Same<N>> air) {
  const N u = vapour_pressure_benson_krause(Temperature<N>(water)).si();
  const N p = air.si();
  return Number<N>(((0.2095 * oxygen.si() + 0.7905 * nitrogen.si()) * (p - u) + u) / p);
}

/// The same, felt at a depth: about 10 % less for each metre.
template <class N>
Number<N> total_gas_pressure_at_depth(Number<N> at_surface, Length<> depth, Pressure<> air) {
  constexpr double weight = 999.7 * 9.80665;
  return at_surface * (air.si() / (air.si() + weight * depth.si()));
}

}  // namespace leat::science
