// How fast fish grow: thermal units, their temperature, and the daily rate that both give.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/fish/ramp.h"

namespace leat::science {

/// Thermal-unit growth coefficient of a stock, as the equation takes it ("raw"): g^b per °C and day. Papers print the
/// same number times 100 or times 1000. The exponent belongs to the coefficient: 0.001 with 0.33 is another stock than
/// 0.001 with 1/3.
template <class N = double>
struct ThermalGrowth {
  N coefficient{};
  double exponent = 1.0 / 3.0;

  static ThermalGrowth from_thousandfold(N printed, double b = 1.0 / 3.0) { return {printed / 1000.0, b}; }
  N thousandfold() const { return coefficient * 1000.0; }
};

/// Temperatures at which growth stops rising, starts falling and ends, and from which its degrees count.
struct GrowthTemperatures {
  Temperature<> plateau_low, plateau_high, zero;
  Temperature<> base{};  ///< 0 °C for trout; warm fish start higher
};

/// Temperature above a base, summed over time: degree-days.
inline constexpr Dimension thermal_time_dimension{.time = 1, .temperature = 1};
template <class N = double>
using ThermalTime = Quantity<thermal_time_dimension, N>;
inline constexpr ThermalTime<> degree_day{86400.0};

/// Temperature that counts for growth: the water's own up to the plateau, falling to nothing at the upper limit.
///
///   0 | T | T1 | T1 (T0 - T) / (T0 - T2) | 0        broken at 0 °C, T1, T2, T0, all counted from the base
///
/// water    temperature of the water          0 to 40 °C
/// limits   T1, T2, T0 and base
/// returns  degrees that count, above base    0 to T1 - base
/// beyond   0 on both sides
/// source   bell shape after Jobling 2003; for trout cardinal points around Hokanson et al. 1977
template <class N>
TemperatureDifference<N> effective_temperature_trapezoid(Temperature<N> water, const GrowthTemperatures& limits) {
  const double base = limits.base.celsius(), t1 = limits.plateau_low.celsius() - base;
  const double t2 = limits.plateau_high.celsius() - base, t0 = limits.zero.celsius() - base;
  const N t = water.celsius() - base;
  const N rising = held_within(t, 0.0, t1);
  const N left = held_within(N((t0 - t) / (t0 - t2)), 0.0, 1.0);
  return TemperatureDifference<N>(rising * left);
}

/// The same with its corners rounded, for rates. The two differ only within `half_width` of a corner, there by at most
/// a quarter of it times the change in slope: below at the plateau's ends, above at the two feet.
template <class N>
TemperatureDifference<N> effective_temperature_rounded(Temperature<N> water, const GrowthTemperatures& limits,
                                                       TemperatureDifference<> half_width = 0.25 * units::kelvin) {
  const double base = limits.base.celsius(), t1 = limits.plateau_low.celsius() - base;
  const double t2 = limits.plateau_high.celsius() - base, t0 = limits.zero.celsius() - base;
  const double h = half_width.si(), fall = t1 / (t0 - t2);
  const N t = water.celsius() - base;
  const N up = rounded_ramp(t, h) - rounded_ramp(N(t - t1), h);
  const N down = rounded_ramp(N(t - t2), h) - rounded_ramp(N(t - t0), h);
  return TemperatureDifference<N>(up - fall * down);
}

/// Mass after a sum of degree-days.
///
///   W^b = W0^b + G S        W in g, S in °C d
///
/// start    mass at the start                 5 to 1000 g
/// sum      degree-days that count
/// stock    coefficient and exponent
/// returns  mass
/// error    a stock's coefficient varies by 25 % between trials
/// beyond   evaluates; not for fry, nor after maturation
/// source   Iwama & Tautz 1981 (exponent 0.33); Cho 1992 and Jobling 2003 (1/3)
template <class N>
Mass<N> fish_mass_thermal_unit(Mass<N> start, ThermalTime<N> sum, ThermalGrowth<N> stock) {
  using std::pow;
  const N grown = pow(start.in(units::gram), stock.exponent) + stock.coefficient * sum.in(degree_day);
  return Mass<N>(0.001 * pow(grown, 1.0 / stock.exponent));
}

/// Relative growth rate at this moment under thermal-unit growth.
///
///   (dW/dt) / W = (G / b) T W^-b        W in g, T in °C, per day; for b = 1/3: 3 G T W^(-1/3)
///
/// fish        mass of one fish               5 to 1000 g
/// effective   degrees that count
/// returns     rate per time
/// source      derivative of the equation of Iwama & Tautz 1981
template <class N>
Frequency<N> specific_growth_thermal_unit(Mass<N> fish, TemperatureDifference<N> effective, ThermalGrowth<N> stock) {
  using std::pow;
  const N in_a_day = stock.coefficient / stock.exponent * effective.si() * pow(fish.in(units::gram), -stock.exponent);
  return Frequency<N>(in_a_day / units::day.si());
}

/// Coefficient that two weighings and the degree-days between them imply.
template <class N>
ThermalGrowth<N> thermal_growth_from_weights(Mass<N> start, Mass<N> end, ThermalTime<N> sum, double exponent) {
  using std::pow;
  const N gained = pow(end.in(units::gram), exponent) - pow(start.in(units::gram), exponent);
  return {gained / sum.in(degree_day), exponent};
}

/// Degree-days from one mass to another.
template <class N>
ThermalTime<N> thermal_time_to_mass(Mass<N> start, Mass<N> end, ThermalGrowth<N> stock) {
  using std::pow;
  const N gained = pow(end.in(units::gram), stock.exponent) - pow(start.in(units::gram), stock.exponent);
  return ThermalTime<N>(gained / stock.coefficient * degree_day.si());
}

/// Growth in length under the assumptions behind the exponent 1/3 (mass goes with the cube of length).
///
///   dL/dt = (100 / K)^(1/3) G T        cm/d, K in g per cm3 times 100
///
/// condition   Fulton's K                     0.7 to 2
/// source      Jobling 2003 (assumptions), algebra ours
template <class N>
Velocity<N> length_growth_thermal_unit(TemperatureDifference<N> effective, ThermalGrowth<N> stock,
                                       Number<N> condition) {
  using std::cbrt;
  const N cm_per_day = cbrt(N(100.0 / condition.si())) * stock.coefficient * effective.si();
  return Velocity<N>(cm_per_day * 0.01 / units::day.si());
}

/// Mass after growing at a constant specific rate: W0 exp(g t). Rates in %/d here are natural logarithms per day.
template <class N>
Mass<N> fish_mass_specific_growth(Mass<N> start, Frequency<N> rate, Duration<N> span) {
  using std::exp;
  return Mass<N>(start.si() * exp(rate.si() * span.si()));
}

/// Specific growth rate between two weighings: ln(W1 / W0) / t.
template <class N>
Frequency<N> specific_growth_from_weights(Mass<N> start, Mass<N> end, Duration<N> span) {
  using std::log;
  return Frequency<N>(log(end.si() / start.si()) / span.si());
}

}  // namespace leat::science
