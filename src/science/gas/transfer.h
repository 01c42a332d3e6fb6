// How fast gases pass between water and air: open surface, falls, bubbles.
//
// An exchange is a flow: the volume of water per time that is brought to balance with the air. Amount passed per time =
// exchange flow times (saturation - concentration).
#pragma once

#include <cmath>

#include "science/gas/carbon_dioxide.h"
#include "science/gas/oxygen_saturation.h"

namespace leat::science {

inline constexpr Velocity<> metre_per_day{1.0 / 86400.0};

/// Schmidt number of oxygen in fresh water: 1745.1 - 124.34 t + 4.8055 t^2 - 0.10115 t^3 + 8.6842e-4 t^4.
///
/// water    temperature               -2 to 40 °C
/// source   Wanninkhof 2014, table 1
template <class N>
Number<N> schmidt_number_oxygen(Temperature<N> water) {
  const N t_c = water.celsius();
  return Number<N>(1745.1 + t_c * (-124.34 + t_c * (4.8055 + t_c * (-0.10115 + 0.00086842 * t_c))));
}

/// Schmidt number of carbon dioxide in fresh water: 1923.6 - 125.06 t + 4.3773 t^2 - 0.085681 t^3 + 7.0284e-4 t^4.
///
/// water    temperature               -2 to 40 °C
/// source   Wanninkhof 2014, table 1 (from memory; 600 at 20 °C agrees)
template <class N>
Number<N> schmidt_number_carbon_dioxide(Temperature<N> water) {
  const N t_c = water.celsius();
  return Number<N>(1923.6 + t_c * (-125.06 + t_c * (4.3773 + t_c * (-0.085681 + 0.00070284 * t_c))));
}

/// Transfer velocity of a gas of Schmidt number 600 over open water.
///
///   k600 = 0.24 (2.07 + 0.215 U^1.7)     m/d, U in m/s at 10 m
///
/// wind     at 10 m                   0 to 10 m/s; not zero in a calm
/// source   Cole & Caraco 1998
/// beyond   measured on a small lake; at the size of a tank nothing better was found
template <class N>
Velocity<N> transfer_velocity_cole_caraco(Velocity<N> wind) {
  using std::pow;
  return Number<N>(0.24 * (2.07 + 0.215 * pow(wind.si(), 1.7))) * metre_per_day;
}

/// Transfer velocity of a gas from that at Schmidt number 600: k = k600 (Sc/600)^-1/2.
template <class N>
Velocity<N> transfer_velocity_of_gas(Velocity<N> k600, Number<Same<N>> schmidt) {
  using std::sqrt;
  return k600 / Number<N>(sqrt(N(schmidt.si() / 600.0)));
}

/// Transfer of oxygen against that at 20 °C: theta^(t - 20).
///
/// theta    1.024                     1.00 to 1.05
template <class N>
Number<N> transfer_temperature_factor(Temperature<N> water, Number<> theta = Number<>(1.024)) {
  using std::exp;
  return Number<N>(exp(N(std::log(theta.si()) * (water.celsius() - 20.0))));
}

/// Transfer velocity of carbon dioxide over that of oxygen: (Sc_CO2 / Sc_O2)^-1/2.
/// returns  0.922 at 20 °C
template <class N>
Number<N> transfer_ratio_carbon_dioxide(Temperature<N> water) {
  using std::sqrt;
  return Number<N>(sqrt(N(schmidt_number_oxygen(water).si() / schmidt_number_carbon_dioxide(water).si())));
}

/// The same ratio from molar masses: (32/44)^(1/4) = 0.923.
/// source   Chapra & Pelletier, QUAL2K
inline Number<> transfer_ratio_by_molar_mass() {
  return Number<>(std::pow((molar_mass::oxygen / molar_mass::carbon_dioxide).si(), 0.25));
}

/// Water of a fall: how clean it is decides how well it takes up air (a of Gameson's formula).
namespace fall_water {
inline constexpr Number<> clean{1.8}, slightly_polluted{1.6}, moderately_polluted{1.0}, grossly_polluted{0.65};
}
/// Shape of a fall (b of Gameson's formula).
namespace fall_shape {
inline constexpr Number<> broad_crest_low{0.70}, broad_crest_high{0.90}, sharp_sloping{1.05}, sharp_vertical{0.80},
    submerged{0.05};
}

/// Oxygen deficit above a fall over that below it.
///
///   r = 1 + 0.38 a b H (1 - 0.11 H)(1 + 0.046 t)     H in m, t in °C
///
/// drop     free fall                 0 to 4 m
/// a, b     water and shape           see fall_water, fall_shape
/// returns  1 (nothing gained) and up; holds for supersaturation too
/// error    made for weirs: a jet from a pipe or water splashing on gravel can do twice as much
/// source   Gameson 1957; Butts & Evans 1983
template <class N>
Number<N> deficit_ratio_of_fall(Length<N> drop, Temperature<Same<N>> water, Number<> a, Number<> b) {
  const N h = drop.si();
  return Number<N>(1.0 + 0.38 * a.si() * b.si() * h * (1.0 - 0.11 * h) * (1.0 + 0.046 * water.celsius()));
}

/// Concentration below a fall: C* - (C* - C) / r.
template <class N>
Concentration<N> concentration_below_fall(Concentration<N> above, Concentration<Same<N>> saturation,
                                          Number<Same<N>> ratio) {
  return Concentration<N>(saturation.si() - (saturation.si() - above.si()) / ratio.si());
}

/// Exchange flow of a fall: the share 1 - 1/r of the water that falls comes to balance.
template <class N>
Flow<N> exchange_flow_of_fall(Flow<N> water_flow, Number<Same<N>> ratio) {
  return Flow<N>(water_flow.si() * (1.0 - 1.0 / ratio.si()));
}

/// Deficit ratio of carbon dioxide where oxygen's is r: r^(k_CO2/k_O2), exponent about 0.92 (common practice).
template <class N>
Number<N> deficit_ratio_carbon_dioxide(Number<N> oxygen_ratio, Number<Same<N>> transfer_ratio) {
  using std::exp;
  using std::log;
  return Number<N>(exp(N(transfer_ratio.si() * log(oxygen_ratio.si()))));
}

/// Exchange flow of an open surface: area times transfer velocity.
template <class N>
Flow<N> exchange_flow_of_surface(Area<N> open, Velocity<Same<N>> transfer) {
  return open * Velocity<N>(transfer);
}

// --- bubbles

/// Oxygen in balance with air at 20 °C and 1 atm, the standard's round value.
inline constexpr Density<> standard_saturation = 9.092 * milligram_per_litre;

/// Oxygen in a volume of dry air at 20 °C and 1 atm: 0.2318 kg/kg times 1.2044 kg/m3.
inline constexpr Density<> oxygen_in_air{0.2318 * 1.20438};

/// Exchange flow of an air stone at 20 °C in clean water, from the share of the air's oxygen that dissolves when the
/// water holds none:  Q w share / 9.092 mg/L
///
/// air_flow at 20 °C and 1 atm
/// share    dissolved in water free of oxygen   1 to 2 % per metre coarse, 3 to 6 % fine (common practice)
template <class N>
Flow<N> exchange_flow_of_air_stone(Flow<N> air_flow, Number<Same<N>> share_dissolved) {
  return air_flow * Number<N>(share_dissolved) * (oxygen_in_air / standard_saturation);
}

/// Exchange flow with bubbles for a gas that fills them as they rise:
///
///   E = Q H (1 - exp(-k / (Q H)))
///
/// unhindered  exchange flow if the bubbles stayed fresh, k
/// gas_flow    air, Q                 > 0
/// gas_over_water  at balance, H      oxygen 23 to 32, carbon dioxide 0.8 to 1.06
/// returns  never more than Q H: bubbles cannot carry off more carbon dioxide than they hold at balance
/// source   mass balance of a bubble in mixed water
template <class N>
Flow<N> exchange_flow_of_bubbles(Flow<N> unhindered, Flow<Same<N>> gas_flow, Number<Same<N>> gas_over_water) {
  using std::exp;
  const N most = gas_flow.si() * gas_over_water.si();
  return Flow<N>(most * (1.0 - exp(N(-unhindered.si() / most))));
}

}  // namespace leat::science
