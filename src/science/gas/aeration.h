// Aerators as they are rated, and what they do in a tank.
#pragma once

#include <cmath>

#include "science/gas/transfer.h"

namespace leat::science {

/// Mass per energy.
template <class N = double>
using AerationEfficiency = Quantity<dim::mass - dim::energy, N>;
inline constexpr AerationEfficiency<> kilogram_per_kilowatt_hour{1.0 / 3.6e6};

/// Density of dry air: P M / (R T), M = 28.97 g/mol.
/// source   Tchobanoglous et al. 2014 (Metcalf & Eddy, 5th ed.), appendix B-3
template <class N>
Density<N> air_density_dry(Temperature<N> air, Pressure<Same<N>> pressure) {
  return Density<N>(pressure.si() * 28.97e-3 / (8.314 * air.kelvin()));
}

/// Rated oxygen transfer (clean water at 20 °C, free of oxygen, 1 atm) from what the transfer coefficient is there.
///
///   SOTR = KLa V 9.092 mg/L
///
/// source   ASCE/EWRI 2-06
template <class N>
MassRate<N> standard_oxygen_transfer(Frequency<N> kla, Volume<Same<N>> water) {
  return kla * Volume<N>(water) * standard_saturation;
}

/// Rated oxygen transfer of an air stone: air flow times the oxygen in it times the share that dissolves.
template <class N>
MassRate<N> standard_oxygen_transfer_of_air(Flow<N> air, Number<Same<N>> share_dissolved) {
  return air * Number<N>(share_dissolved) * oxygen_in_air;
}

/// Oxygen transfer in use. Nothing is passed at saturation, so a rated value must not be used to choose a size.
///
///   OTR = SOTR alpha 1.024^(t - 20) (beta C* - C) / 9.092
///
/// alpha    transfer in fish water over clean   0.6 to 0.9
/// beta     saturation in fish water over clean 0.98 to 1.0
/// oxygen   dissolved
/// source   ASCE/EWRI 2-06
template <class N>
MassRate<N> oxygen_transfer_in_use(MassRate<N> standard, Number<> alpha, Number<> beta, Temperature<Same<N>> water,
                                   Pressure<Same<N>> air, Density<Same<N>> oxygen) {
  const Temperature<N> t(water);
  const Density<N> short_of = beta * oxygen_saturation_mass(t, air) - Density<N>(oxygen);
  return standard * alpha.si() * transfer_temperature_factor(t) * (short_of / standard_saturation);
}

/// Rated oxygen per energy.
template <class N>
AerationEfficiency<N> standard_aeration_efficiency(MassRate<N> standard, Power<Same<N>> power) {
  return standard / Power<N>(power);
}

/// Greatest share of the carbon dioxide above balance that one stage of air can take: 1 / (1 + 1/(H G/L)).
///
/// gas_liquid_ratio  volume of air per volume of water
/// returns  0.48 at 1, 0.82 at 5, 0.90 at 10 (15 °C)
/// source   one equilibrium stage with fresh air
template <class N>
Number<N> carbon_dioxide_stripping_limit(Number<N> gas_liquid_ratio, Temperature<Same<N>> water) {
  const N h = carbon_dioxide_gas_over_water(Temperature<N>(water)).si();
  return Number<N>(h * gas_liquid_ratio.si() / (1.0 + h * gas_liquid_ratio.si()));
}

// --- for comparison only: both go to zero in a calm, which no sheltered tank does

/// Transfer velocity of oxygen: 0.728 sqrt(U) - 0.317 U + 0.0372 U^2     m/d at 20 °C, U at 10 m in m/s
/// source   Banks & Herrera 1977
inline Velocity<> transfer_velocity_banks_herrera(Velocity<> wind) {
  const double u = wind.si();
  return (0.728 * std::sqrt(u) - 0.317 * u + 0.0372 * u * u) * metre_per_day;
}

/// Transfer velocity of oxygen: 0.0986 U^1.64     m/d at 20 °C, U at 10 m in m/s
/// source   Wanninkhof et al. 1991
inline Velocity<> transfer_velocity_wanninkhof_1991(Velocity<> wind) {
  return 0.0986 * std::pow(wind.si(), 1.64) * metre_per_day;
}

}  // namespace leat::science
