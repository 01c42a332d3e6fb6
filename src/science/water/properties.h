// Pure water at the pressure of the air.
#pragma once

#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

/// Pressure times time.
template <class N = double>
using DynamicViscosity = Quantity<dim::pressure + dim::time, N>;

/// Mass per volume of air-free water.
///
///   rho = 999.974950 (1 - (t - 3.983035)^2 (t + 301.797) / (522528.9 (t + 69.34881)))     kg/m3, t in °C
///
/// water    temperature               0 to 40 °C
/// error    0.001 kg/m3; salt adds about 0.8 kg/m3 per g/kg
/// source   Tanaka et al. 2001 (adopted by CIPM)
template <class N>
Density<N> water_density(Temperature<N> water) {
  const N t_c = water.celsius();
  const N off = t_c - 3.983035;
  return Density<N>(999.974950 * (1.0 - off * off * (t_c + 301.797) / (522528.9 * (t_c + 69.34881))));
}

/// The same under a pressure: rho (1 + kappa (P - 1 atm)), kappa = (50.74 - 0.326 t + 0.00416 t^2) 1e-11 per Pa.
/// source   Tanaka et al. 2001 (compressibility from memory)
template <class N>
Density<N> water_density_under_pressure(Temperature<N> water, Pressure<> air) {
  const N t_c = water.celsius();
  const N kappa = (50.74 + t_c * (-0.326 + 0.00416 * t_c)) * 1e-11;
  return Density<N>(water_density(water).si() * (1.0 + kappa * (air - units::atmosphere).si()));
}

/// Viscosity of water at 0.1 MPa.
///
///   mu = 280.68 r^-1.9 + 511.45 r^-7.7 + 61.131 r^-19.6 + 0.45903 r^-40     uPa s, r = T / 300 K
///
/// water    temperature               -20 to 110 °C
/// error    0.05 % against the full formulation
/// source   IAPWS SR6-08, equation 7
template <class N>
DynamicViscosity<N> water_dynamic_viscosity(Temperature<N> water) {
  using std::exp;
  using std::log;
  const N ln_r = log(N(water.kelvin() / 300.0));
  return DynamicViscosity<N>(1e-6 * (280.68 * exp(N(-1.9 * ln_r)) + 511.45 * exp(N(-7.7 * ln_r)) +
                                     61.131 * exp(N(-19.6 * ln_r)) + 0.45903 * exp(N(-40.0 * ln_r))));
}

/// Dynamic viscosity over density.
template <class N>
KinematicViscosity<N> water_kinematic_viscosity(Temperature<N> water) {
  return water_dynamic_viscosity(water) / water_density(water);
}

/// Pressure of vapour over fresh water, as the gas solubilities of Benson and Krause use it.
///
///   u = exp(11.8571 - 3840.70 / T - 216961 / T^2)     atm, T in K
///
/// water    temperature               0 to 40 °C
/// error    0.1 % against IAPWS IF97
/// source   Benson & Krause 1984
template <class N>
Pressure<N> vapour_pressure_benson_krause(Temperature<N> water) {
  using std::exp;
  const N per_kelvin = 1.0 / water.kelvin();
  return Pressure<N>(101325.0 * exp(N(11.8571 - per_kelvin * (3840.70 + 216961.0 * per_kelvin))));
}

/// Static permittivity of water relative to vacuum.
///
///   eps = 87.740 - 0.40008 t + 9.398e-4 t^2 - 1.410e-6 t^3     t in °C
///
/// water    temperature               0 to 100 °C
/// error    0.1 % against IAPWS
/// source   Malmberg & Maryott 1956
template <class N>
Number<N> water_permittivity(Temperature<N> water) {
  const N t_c = water.celsius();
  return Number<N>(87.740 + t_c * (-0.40008 + t_c * (9.398e-4 - 1.410e-6 * t_c)));
}

}  // namespace leat::science
