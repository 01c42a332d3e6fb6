// Evapotranspiration of short grass: what beds and dry yards are measured against. Rates are depth of water per time.
// Net long-wave here is that of grass at air temperature: never use it for a water surface.
#pragma once

#include "base/units/quantity.h"
#include "science/heat/vapour.h"
#include "science/heat/wind.h"
#include "science/light/solar_radiation.h"

namespace leat::science {

/// The constant as hydrology rounds it: 4.903e-9 MJ m^-2 d^-1 K^-4 (0.08 % above the physical one).
inline constexpr double stefan_boltzmann_fao = 4.903e-9 * 1e6 / 86400.0;
/// Heat of evaporation as FAO-56 holds it.
inline constexpr SpecificEnergy<> latent_heat_fao{2.45e6};

/// Depth of water that a flux would evaporate: 0.408 mm for a MJ/m2.
/// source   FAO-56 equation 20
Velocity<> energy_to_water_depth(Flux<> heat, SpecificEnergy<> latent = latent_heat_fao,
                                 Density<> water = Density<>(1000.0));

/// Global radiation that stays: (1 - albedo) Rs.
Flux<> net_shortwave(Flux<> global, double albedo = 0.23);

/// Net loss of long-wave of a day.
///
///   Rnl = sigma (Tmax^4 + Tmin^4)/2 (0.34 - 0.14 sqrt(ea)) (1.35 Rs/Rso - 0.35)     T in K, ea in kPa
///
/// kelvin_at_0_c  273.16 in FAO-56; other hydrologists write 273.2
/// source   FAO-56 equation 39
Flux<> net_longwave_fao_day(Temperature<> high, Temperature<> low, Pressure<> vapour, Number<> rs_over_rso,
                            double kelvin_at_0_c = 273.16);
/// The same of an hour. By night take the ratio of the last hours before sunset.
Flux<> net_longwave_fao_hour(Temperature<> air, Pressure<> vapour, Number<> rs_over_rso, double kelvin_at_0_c = 273.16);
/// The same with the ratio held within 0.3 and 1 and the cloud factor within 0.05 and 1.
/// source   ASCE-EWRI 2005 equations 44 and 45
Flux<> net_longwave_asce_hour(Temperature<> air, Pressure<> vapour, Number<> rs_over_rso);

/// Heat into the ground over a month: 0.07 (Tnext - Tprevious) MJ/m2/d.
/// source   FAO-56 equation 43
Flux<> soil_heat_flux_month(Temperature<> previous, Temperature<> next);
/// Where the next month is unknown: 0.14 (T - Tprevious).
/// source   FAO-56 equation 44
Flux<> soil_heat_flux_month_backward(Temperature<> previous, Temperature<> now);

/// What the Penman-Monteith equation asks.
struct GrassWeather {
  Temperature<> air;      ///< mean
  Pressure<> saturation;  ///< of a day, the mean of those of its extremes
  Pressure<> vapour;
  Pressure<> pressure;
  Velocity<> wind;  ///< at 2 m
  Flux<> net_radiation, ground;
};

/// ET0 of a day.
///
///   (0.408 D (Rn - G) + g 900/(T + 273) u2 (es - ea)) / (D + g (1 + 0.34 u2))     mm/d
///
/// error    published examples to their last digit
/// source   FAO-56 equation 6
Velocity<> reference_et_day(const GrassWeather& w);
/// ET0 of an hour: 37 for 900, in mm/h. G is 0.1 Rn by day, 0.5 Rn by night.
/// source   FAO-56 equation 53
Velocity<> reference_et_hour(const GrassWeather& w);
/// Short reference of an hour with the denominator's Cd: 0.24 by day, 0.96 by night.
/// source   ASCE-EWRI 2005 equation 1
Velocity<> reference_et_hour_asce_short(const GrassWeather& w, double cd);

/// A day known by its extremes only.
struct SparseDay {
  Temperature<> high, low;
  Flux<> outside;  ///< extraterrestrial radiation
  Length<> altitude;
  Velocity<> wind{2.0};  ///< at 2 m
};
/// ET0 with radiation from the span of temperature and vapour from the lowest.
/// source   FAO-56 example 20
Velocity<> reference_et_day_missing_data(const SparseDay& day, double k = 0.16, double albedo = 0.23,
                                         Flux<> ground = {});

/// 0.0023 (Tmean + 17.8) sqrt(Tmax - Tmin) Ra, Ra as depth of water.
/// source   FAO-56 equation 52
Velocity<> hargreaves_et(Temperature<> high, Temperature<> low, Flux<> outside);

/// Midway between two temperatures: the mean air of a day from its extremes.
Temperature<> mean_of(Temperature<> a, Temperature<> b);

}  // namespace leat::science
