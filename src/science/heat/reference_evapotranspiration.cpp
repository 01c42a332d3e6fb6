#include "science/heat/reference_evapotranspiration.h"

#include <algorithm>
#include <cmath>

namespace leat::science {
namespace {

constexpr Velocity<> kMmPerDay{1e-3 / 86400.0};
constexpr Velocity<> kMmPerHour{1e-3 / 3600.0};

double fourth_power(double x) {
  return x * x * x * x;
}

double clear_of_vapour(Pressure<> vapour) {
  return 0.34 - 0.14 * std::sqrt(vapour.in(units::kilopascal));
}

/// Penman-Monteith with the wind's numerator and the denominator's slope; radiation in MJ/m2 of the step.
double penman_monteith_mm(const GrassWeather& w, double energy_mj, double cn, double cd) {
  const double slope = saturation_slope(w.air).in(kilopascal_per_kelvin);
  const double gamma = psychrometric_constant(w.pressure).in(kilopascal_per_kelvin);
  const double lack = (w.saturation - w.vapour).in(units::kilopascal);
  const double u2 = w.wind.si();
  return (0.408 * slope * energy_mj + gamma * cn / (w.air.celsius() + 273.0) * u2 * lack) /
         (slope + gamma * (1.0 + cd * u2));
}

}  // namespace

Temperature<> mean_of(Temperature<> a, Temperature<> b) {
  return a + 0.5 * (b - a);
}

Velocity<> energy_to_water_depth(Flux<> heat, SpecificEnergy<> latent, Density<> water) {
  return heat / (latent * water);
}

Flux<> net_shortwave(Flux<> global, double albedo) {
  return (1.0 - albedo) * global;
}

Flux<> net_longwave_fao_day(Temperature<> high, Temperature<> low, Pressure<> vapour, Number<> rs_over_rso,
                            double kelvin_at_0_c) {
  const double black = 0.5 * stefan_boltzmann_fao *
                       (fourth_power(high.celsius() + kelvin_at_0_c) + fourth_power(low.celsius() + kelvin_at_0_c));
  return Flux<>(black * clear_of_vapour(vapour) * (1.35 * rs_over_rso.si() - 0.35));
}

Flux<> net_longwave_fao_hour(Temperature<> air, Pressure<> vapour, Number<> rs_over_rso, double kelvin_at_0_c) {
  return net_longwave_fao_day(air, air, vapour, rs_over_rso, kelvin_at_0_c);
}

Flux<> net_longwave_asce_hour(Temperature<> air, Pressure<> vapour, Number<> rs_over_rso) {
  const double ratio = std::clamp(rs_over_rso.si(), 0.3, 1.0);
  const double cloud = std::clamp(1.35 * ratio - 0.35, 0.05, 1.0);
  return Flux<>(stefan_boltzmann_fao * fourth_power(air.celsius() + 273.16) * clear_of_vapour(vapour) * cloud);
}

Flux<> soil_heat_flux_month(Temperature<> previous, Temperature<> next) {
  return 0.07 * (next - previous).si() * megajoule_per_square_metre_day;
}

Flux<> soil_heat_flux_month_backward(Temperature<> previous, Temperature<> now) {
  return 0.14 * (now - previous).si() * megajoule_per_square_metre_day;
}

Velocity<> reference_et_day(const GrassWeather& w) {
  const double energy_mj = (w.net_radiation - w.ground).in(megajoule_per_square_metre_day);
  return penman_monteith_mm(w, energy_mj, 900.0, 0.34) * kMmPerDay;
}

Velocity<> reference_et_hour_asce_short(const GrassWeather& w, double cd) {
  const double energy_mj = (w.net_radiation - w.ground).in(megajoule_per_square_metre_hour);
  return penman_monteith_mm(w, energy_mj, 37.0, cd) * kMmPerHour;
}

Velocity<> reference_et_hour(const GrassWeather& w) {
  return reference_et_hour_asce_short(w, 0.34);
}

Velocity<> reference_et_day_missing_data(const SparseDay& day, double k, double albedo, Flux<> ground) {
  const Flux<> clear = clear_sky_radiation_simple(day.outside, day.altitude);
  const Flux<> global = std::min(clear, radiation_hargreaves(day.high - day.low, day.outside, k));
  const Pressure<> vapour = saturation_vapour_pressure(dew_point_from_lowest_air(day.low));
  const Number<> ratio(clear.si() > 0.0 ? global.si() / clear.si() : 0.8);
  const Flux<> net = net_shortwave(global, albedo) - net_longwave_fao_day(day.high, day.low, vapour, ratio);
  return reference_et_day({mean_of(day.high, day.low), mean_saturation_vapour_pressure(day.high, day.low), vapour,
                           air_pressure_from_elevation(day.altitude), day.wind, net, ground});
}

Velocity<> hargreaves_et(Temperature<> high, Temperature<> low, Flux<> outside) {
  const double span = std::max(0.0, (high - low).si());
  return 0.0023 * (mean_of(high, low).celsius() + 17.8) * std::sqrt(span) * energy_to_water_depth(outside);
}

}  // namespace leat::science
