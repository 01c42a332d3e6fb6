// How much carbon dioxide water holds when it is in balance with air.
#pragma once

#include <cmath>

#include "science/heat/smooth.h"
#include "science/water/blend.h"
#include "science/water/properties.h"
#include "science/water/substances.h"

namespace leat::science {

/// Amount dissolved per volume of water and pressure of the gas.
template <class N = double>
using Solubility = Quantity<dim::concentration - dim::pressure, N>;
inline constexpr Solubility<> mole_per_litre_atmosphere{1000.0 / 101325.0};

/// log10 of the solubility of carbon dioxide in fresh water, mol/(kg atm).
///
///   log K0 = 108.3865 + 0.01985076 T - 6919.53/T - 40.45154 log T + 669365/T^2     T in K
///
/// water    temperature               0 to 250 °C
/// error    0.5 % against Weiss 1974
/// source   Plummer & Busenberg 1982
template <class N>
Number<N> carbon_dioxide_log_solubility(Temperature<N> water) {
  using std::log;
  const N t = water.kelvin(), x = 1.0 / t;
  const N log_t = log(t) / ln10;
  return Number<N>(108.3865 + 0.01985076 * t - 40.45154 * log_t + x * (-6919.53 + 669365.0 * x));
}

/// Solubility of carbon dioxide in fresh water. One kilogram of water is taken as one litre (0.3 % at 25 °C).
template <class N>
Solubility<N> carbon_dioxide_solubility(Temperature<N> water) {
  return Number<N>(ten_to(carbon_dioxide_log_solubility(water).si())) * mole_per_litre_atmosphere;
}

/// ln of the solubility in salt water over that in fresh.
///
///   S (0.023517 - 0.023656 (T/100) + 0.0047036 (T/100)^2)     S in g/kg
///
/// salinity salt                      0 to 40 g/kg
/// source   Weiss 1974 (from memory)
template <class N>
Number<N> carbon_dioxide_salting_out(Temperature<N> water, Number<> salinity) {
  const N h = water.kelvin() / 100.0;
  return Number<N>(salinity.si() * 1e3 * (0.023517 + h * (-0.023656 + 0.0047036 * h)));
}

/// Pressure of carbon dioxide in air that is saturated with vapour: share of the dry air times (P - u).
/// share    0.00042 outdoors; 0.0006 to 0.001 in a greenhouse or over beds on a still night (common practice)
template <class N>
Pressure<N> carbon_dioxide_pressure(Number<> share, Temperature<N> water, Pressure<Same<N>> air) {
  return share * (air - vapour_pressure_benson_krause(water));
}

/// Dissolved carbon dioxide in balance with its pressure.
template <class N>
Concentration<N> carbon_dioxide_saturation(Temperature<N> water, Pressure<Same<N>> carbon_dioxide) {
  return carbon_dioxide_solubility(water) * Pressure<N>(carbon_dioxide);
}

/// Concentration in the gas over that in the water, at balance: 1 / (K0 R T).
///
/// returns  0.8 at 10 °C, 1.06 at 20 °C; oxygen has 23 to 32
template <class N>
Number<N> carbon_dioxide_gas_over_water(Temperature<N> water) {
  constexpr double gas_constant = 8.314462618;
  return Number<N>(1.0 / (carbon_dioxide_solubility(water).si() * gas_constant * water.kelvin()));
}

}  // namespace leat::science
