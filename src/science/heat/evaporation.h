// Evaporation and convection from open water. Every law is a wind function f, heat per area and vapour pressure
// difference; one f serves both vapour and warmth (Bowen's analogy).
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/heat/smooth.h"
#include "science/heat/vapour.h"

namespace leat::science {

/// Heat per area, time and pressure difference. (Its SI unit is that of a speed; the alias keeps the sense.)
template <class N = double>
using VapourCoefficient = Quantity<dim::flux - dim::pressure, N>;
inline constexpr VapourCoefficient<> watt_per_square_metre_kilopascal{1e-3};
/// Density of the evaporated water, for depths.
inline constexpr Density<> evaporated_water{1000.0};

/// What a wind law may ask. `wind` is said by each law: at the rim, or at 2 m.
template <class N = double>
struct AirOverWater {
  Temperature<N> temperature;
  Pressure<N> vapour;
  Pressure<N> pressure{N(101325.0)};
  Velocity<N> wind;
};

/// Difference of virtual temperature between the film on the water and the air: what drives free convection.
template <class N>
TemperatureDifference<N> buoyant_difference(Temperature<N> water, const AirOverWater<Same<N>>& air) {
  return virtual_temperature(water, saturation_vapour_pressure(water), air.pressure) -
         virtual_temperature(air.temperature, air.vapour, air.pressure);
}

/// Free convection: 27 dTv^(1/3) W/m2/kPa, fading out where the air is the lighter.
/// error    the corner at 0 is rounded over 0.1 K, under 0.6 % above 1 K
/// source   Ryan, Harleman and Stolzenbach 1974
template <class N>
VapourCoefficient<N> wind_function_free(Temperature<N> water, const AirOverWater<Same<N>>& air) {
  const N root = smooth_cube_root_of_positive(N(buoyant_difference(water, air).si()), 0.1);
  return VapourCoefficient<N>(0.027 * root);
}

template <class N>
N adams_size(Area<N> area) {
  using std::pow;
  return 51.0 * pow(N(area.si() / 1e4), -0.05);
}
/// What follows, where what the size brings in, 51 A^-0.05, is known.
template <class N>
VapourCoefficient<N> wind_function_adams_sized(Temperature<N> water, const AirOverWater<Same<N>>& air,
                                               const Same<N>& size) {
  using std::sqrt;
  const N free = 1e3 * wind_function_free(water, air).si();
  const N forced = size * air.wind.si();
  return VapourCoefficient<N>(1e-3 * sqrt(N(free * free + forced * forced + 1e-12)));
}

/// The default. Free and forced convection as two sides of a right angle, with the size of the water.
///
///   f = sqrt((27 dTv^(1/3))^2 + (51 A^-0.05 u)^2)     W/m2/kPa, A in ha, u in m/s
///
/// air.wind at the RIM of the vessel: bring 2 m wind down with `rim_wind_factor` first
/// area     of the free surface              0.5 m2 and up
/// error    -11 to +9 % of a class A pan in three windows when given rim wind; +40 to +70 % when given 2 m wind
/// source   Adams, Cosler and Helfrich 1990; remembered
template <class N>
VapourCoefficient<N> wind_function_adams(Temperature<N> water, const AirOverWater<Same<N>>& air, Area<Same<N>> area) {
  return wind_function_adams_sized(water, air, adams_size(area));
}

/// f = 27 dTv^(1/3) + 32 u2     W/m2/kPa, wind at 2 m
/// error    -13 to +2 % of the same pan
/// source   Ryan, Harleman and Stolzenbach 1974 (3.59 and 4.26 W/m2/mmHg, taken as 27 and 32 per kPa)
template <class N>
VapourCoefficient<N> wind_function_ryan(Temperature<N> water, const AirOverWater<Same<N>>& air) {
  return VapourCoefficient<N>(wind_function_free(water, air).si() + 0.032 * air.wind.si());
}

/// f = 6.43 (a + 0.536 u2)     MJ/m2/d/kPa, wind at 2 m; a = 1 in 1948, 0.5 in 1956
/// source   Penman 1948, 1956
template <class N>
VapourCoefficient<N> wind_function_penman(Velocity<N> wind, double calm = 1.0) {
  return VapourCoefficient<N>(6.43e3 / 86400.0 * (calm + 0.536 * wind.si()));
}
template <class N>
VapourCoefficient<N> wind_function_penman_1948(Velocity<N> wind) {
  return wind_function_penman(wind, 1.0);
}
template <class N>
VapourCoefficient<N> wind_function_penman_1956(Velocity<N> wind) {
  return wind_function_penman(wind, 0.5);
}

/// f = (5/A)^0.05 (3.80 + 1.57 u10)     MJ/m2/d/kPa, A in km2, wind at 10 m
/// area     1 ha and up; far too high for tanks
/// source   McJannet et al. 2012
template <class N>
VapourCoefficient<N> wind_function_mcjannet(Velocity<N> wind, Area<> area) {
  return VapourCoefficient<N>(1e3 / 86400.0 * std::pow(5.0 / (area.si() / 1e6), 0.05) * (3.80 + 1.57 * wind.si()));
}

/// E = 0.291 A^-0.05 u2 de     mm/d, A in m2, e in hPa, wind at 2 m; as f with 28.36 W/m2 to the mm/d. Calm means none.
/// source   Harbeck 1962; remembered
template <class N>
VapourCoefficient<N> wind_function_harbeck(Velocity<N> wind, Area<> area) {
  return VapourCoefficient<N>(0.291 * 10.0 * 28.3565e-3 * std::pow(area.si(), -0.05) * wind.si());
}

/// E = 1.201 + 1.621 u2     mm/d/kPa, wind at 2 m: a class A pan
/// source   Thom, Thony and Vauclin 1981; remembered
template <class N>
VapourCoefficient<N> wind_function_pan(Velocity<N> wind) {
  return VapourCoefficient<N>(28.3565e-3 * (1.201 + 1.621 * wind.si()));
}

/// Heat that leaves with vapour: f (es(Tw) - e). Negative when dew falls on cold water.
template <class N>
Flux<N> evaporation_heat(VapourCoefficient<N> f, Temperature<N> water, Pressure<Same<N>> vapour) {
  return f * (saturation_vapour_pressure(water) - vapour);
}

/// Warmth that leaves by convection: gamma f (Tw - Ta), Bowen's analogy.
template <class N>
Flux<N> convection_heat(VapourCoefficient<N> f, Temperature<N> water, const AirOverWater<Same<N>>& air) {
  return f * (psychrometric_constant(air.pressure) * (water - air.temperature));
}

/// Depth of water per time that a heat flux evaporates.
template <class N>
Velocity<N> evaporation_depth_rate(Flux<N> heat, SpecificEnergy<Same<N>> latent = SpecificEnergy<Same<N>>(2.45e6)) {
  return Velocity<N>(heat.si() / (latent.si() * evaporated_water.si()));
}

/// Warmth over vapour: gamma (Tw - Ta) / (es(Tw) - e).
/// beyond   grows without bound where es = e
/// source   Bowen 1926
template <class N>
Number<N> bowen_ratio(Temperature<N> water, Temperature<Same<N>> air, Pressure<Same<N>> at_water,
                      Pressure<Same<N>> in_air, Pressure<Same<N>> air_pressure) {
  const N gamma = psychrometric_constant(Pressure<N>(air_pressure)).si();
  return Number<N>(gamma * (water - Temperature<N>(air)).si() / (at_water.si() - in_air.si()));
}

}  // namespace leat::science
