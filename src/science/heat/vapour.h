// Water vapour in air, in the forms of FAO-56.
#pragma once

#include <algorithm>
#include <cmath>

#include "base/units/quantity.h"
#include "science/heat/smooth.h"

namespace leat::science {

/// Pressure per temperature difference.
template <class N = double>
using PressureSlope = Quantity<dim::pressure - dim::temperature, N>;
/// Energy per mass.
template <class N = double>
using SpecificEnergy = Quantity<dim::energy - dim::mass, N>;

inline constexpr PressureSlope<> kilopascal_per_kelvin{1e3};
inline constexpr SpecificEnergy<> megajoule_per_kilogram{1e6};

/// Pressure of vapour over a flat surface of pure water.
///
///   es = 0.6108 exp(17.27 T / (T + 237.3))     kPa, T in °C
///
/// water    temperature of the surface   -20 to 60 °C
/// error    0.1 % against steam tables, 0 to 50 °C; over ice too high (10 % at -10 °C)
/// source   FAO-56 equation 11
template <class N>
Pressure<N> saturation_vapour_pressure(Temperature<N> water) {
  using std::exp;
  const N t_c = water.celsius();
  return Pressure<N>(610.8 * exp(17.27 * t_c / (t_c + 237.3)));
}

/// Its slope with temperature: 4098 es / (T + 237.3)^2.
/// source   FAO-56 equation 13
template <class N>
PressureSlope<N> saturation_slope(Temperature<N> water) {
  const N above = water.celsius() + 237.3;
  return PressureSlope<N>(4098.0 * saturation_vapour_pressure(water).si() / (above * above));
}

/// Temperature at which a vapour pressure saturates: the inverse of `saturation_vapour_pressure`.
template <class N>
Temperature<N> dew_point(Pressure<N> vapour) {
  using std::log;
  const N x = log(N(vapour.si() / 610.8));
  return Temperature<N>::from_celsius(237.3 * x / (17.27 - x));
}

/// Mean saturation pressure of a day: the mean of those of its extremes, not that of the mean temperature.
/// source   FAO-56 equation 12
template <class N>
Pressure<N> mean_saturation_vapour_pressure(Temperature<N> high, Temperature<N> low) {
  return (saturation_vapour_pressure(high) + saturation_vapour_pressure(low)) * 0.5;
}

/// Pressure of air at a height above the sea.
///
///   P = 101.3 ((293 - 0.0065 z)/293)^5.26     kPa, z in m
///
/// altitude -400 to 5000 m
/// source   FAO-56 equation 7
inline Pressure<> air_pressure_from_elevation(Length<> altitude) {
  return 101.3 * std::pow((293.0 - 0.0065 * altitude.si()) / 293.0, 5.26) * units::kilopascal;
}

/// gamma = 0.665e-3 P.
/// source   FAO-56 equation 8
template <class N>
PressureSlope<N> psychrometric_constant(Pressure<N> air) {
  return PressureSlope<N>(0.665e-3 * air.si());
}

/// Heat to evaporate water: 2.501 - 0.002361 T MJ/kg, T in °C.
/// source   FAO-56 annex 3 equation 3-1
template <class N>
SpecificEnergy<N> latent_heat(Temperature<N> water) {
  return SpecificEnergy<N>(1e6 * (2.501 - 2.361e-3 * water.celsius()));
}

/// Vapour pressure from a dry and a wet thermometer: es(Twet) - a P (Tdry - Twet).
///
/// a        0.000662 K^-1 ventilated at 5 m/s, 0.0008 naturally ventilated, 0.0012 indoors
/// source   FAO-56 equations 15 and 16
template <class N>
Pressure<N> vapour_pressure_from_psychrometer(Temperature<N> dry, Temperature<N> wet, Pressure<N> air,
                                              double a = 0.000662) {
  return saturation_vapour_pressure(wet) - a * (dry - wet).si() * air;
}

/// From relative humidity (0 to 1) at one temperature.
template <class N>
Pressure<N> vapour_pressure_from_humidity(Temperature<N> air, Number<Same<N>> humidity) {
  return Pressure<N>(humidity.si() * saturation_vapour_pressure(air).si());
}

/// From the humidity at the day's coldest and warmest.
/// source   FAO-56 equation 17
inline Pressure<> vapour_pressure_from_humidity_extremes(Temperature<> low, Temperature<> high, Number<> humidity_max,
                                                         Number<> humidity_min) {
  return 0.5 * (vapour_pressure_from_humidity(low, humidity_max) + vapour_pressure_from_humidity(high, humidity_min));
}

/// From the mean humidity of a day: RHmean times the mean of the saturation pressures.
/// source   FAO-56 equation 19
inline Pressure<> vapour_pressure_from_humidity_mean(Temperature<> low, Temperature<> high, Number<> humidity) {
  return humidity.si() * mean_saturation_vapour_pressure(high, low);
}

/// Dew point of a day from its coldest air, in the three answers to "does dew form on most clear mornings?".
enum class MorningDew { most, some, hardly };

/// Tmin less 0, 3 or 6 K.
/// error    +1 K humid, +5 K arid when nothing is taken off
/// source   FAO-56 equation 48; the deductions are the trade's
inline Temperature<> dew_point_from_lowest_air(Temperature<> low, MorningDew dew = MorningDew::most) {
  const double off_k = dew == MorningDew::most ? 0.0 : dew == MorningDew::some ? 3.0 : 6.0;
  return low - TemperatureDifference<>(off_k);
}

/// Vapour pressure held over a day, capped at saturation for the hour.
inline Pressure<> vapour_pressure_capped(Pressure<> vapour, Temperature<> air) {
  return std::min(vapour, saturation_vapour_pressure(air));
}

/// Temperature at which air of the same density would be dry: T / (1 - 0.378 e/P). Light air rises.
template <class N>
Temperature<N> virtual_temperature(Temperature<N> t, Pressure<Same<N>> vapour, Pressure<Same<N>> air) {
  return Temperature<N>::from_kelvin(t.kelvin() / (1.0 - 0.378 * vapour.si() / air.si()));
}

/// Mass of vapour in a volume of air: e / (461.5 T).
template <class N>
Density<N> vapour_density(Pressure<N> vapour, Temperature<N> t) {
  return Density<N>(vapour.si() / (461.5 * t.kelvin()));
}

/// Mass of vapour per mass of dry air: 0.622 e / (P - e).
template <class N>
Number<N> mixing_ratio(Pressure<N> vapour, Pressure<Same<N>> air) {
  return Number<N>(0.622 * vapour.si() / (air.si() - vapour.si()));
}

/// Wet-bulb temperature of moist air: rain falls at about it.
///
///   e = es(Tw) - gamma (T - Tw), by Newton steps from the dry bulb; es is convex, so they do not overshoot
inline Temperature<> wet_bulb(Temperature<> dry, Pressure<> vapour, Pressure<> air) {
  const double gamma = psychrometric_constant(air).si();
  Temperature<> wet = dry;
  for (int i = 0; i < 20; ++i) {
    const double excess = saturation_vapour_pressure(wet).si() - gamma * (dry - wet).si() - vapour.si();
    wet = wet - TemperatureDifference<>(excess / (saturation_slope(wet).si() + gamma));
  }
  return wet;
}

}  // namespace leat::science
