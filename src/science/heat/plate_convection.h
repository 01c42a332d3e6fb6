// Convection along a flat plate in wind: an independent look at outside films and wind functions.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/heat/smooth.h"

namespace leat::science {

/// What convection asks of still dry air at sea level. Straight lines through the tables, -20 to 50 °C, within 1 %.
/// source   Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, air at atmospheric pressure
template <class N>
KinematicViscosity<N> dry_air_viscosity(Temperature<N> air) {
  return KinematicViscosity<N>(13.50e-6 + 8.9e-8 * air.celsius());
}
template <class N>
Conductivity<N> dry_air_conductivity(Temperature<N> air) {
  return Conductivity<N>(0.02415 + 8.0e-5 * air.celsius());
}
inline constexpr double dry_air_prandtl = 0.71;

/// Mean over a plate along the wind, turbulent from its edge: Nu = 0.037 Re^0.8 Pr^(1/3).
///
/// beyond   for a smooth edge and Re under 5e5 the layer is laminar and the true value about half
/// source   Incropera and DeWitt
template <class N>
Conductance<N> plate_convection_turbulent(Velocity<N> wind, Length<> along, Temperature<Same<N>> air) {
  using std::pow;
  const N re = wind.si() * along.si() / dry_air_viscosity(Temperature<N>(air)).si();
  const N nu = 0.037 * pow(re, 0.8) * std::cbrt(dry_air_prandtl);
  return Conductance<N>(nu * dry_air_conductivity(Temperature<N>(air)).si() / along.si());
}

/// Laminar: Nu = 0.664 Re^0.5 Pr^(1/3).
/// source   Incropera and DeWitt
template <class N>
Conductance<N> plate_convection_laminar(Velocity<N> wind, Length<> along, Temperature<Same<N>> air) {
  using std::sqrt;
  const N re = wind.si() * along.si() / dry_air_viscosity(Temperature<N>(air)).si();
  const N nu = 0.664 * sqrt(re) * std::cbrt(dry_air_prandtl);
  return Conductance<N>(nu * dry_air_conductivity(Temperature<N>(air)).si() / along.si());
}

}  // namespace leat::science
