#include "science/heat/lake_evaporation.h"

#include <cmath>

#include "science/heat/longwave.h"
#include "science/heat/reference_evapotranspiration.h"

namespace leat::science {

Velocity<> evaporation_combination(Velocity<> by_energy, Velocity<> by_air, Number<> slope_over_gamma) {
  const double x = slope_over_gamma.si();
  return (x * by_energy + by_air) / (x + 1.0);
}

Velocity<> penman_open_water(const OpenWaterDay& day, DepthPerPressure fa, DepthPerPressureAndWind fb,
                             SpecificEnergy<> latent) {
  const Pressure<> lack = mean_saturation_vapour_pressure(day.high, day.low) - day.vapour;
  const auto ratio = saturation_slope(mean_of(day.high, day.low)) / psychrometric_constant(day.pressure);
  return evaporation_combination(energy_to_water_depth(day.net_radiation, latent), (fa + fb * day.wind) * lack, ratio);
}

Velocity<> priestley_taylor(Velocity<> by_energy, PressureSlope<> slope, PressureSlope<> gamma, double alpha) {
  return alpha * (slope / (slope + gamma)).si() * by_energy;
}

Velocity<> evaporation_aerodynamic_log(Velocity<> wind, Length<> height, Length<> roughness, Pressure<> lack,
                                       Pressure<> air, Density<> air_density, Density<> water) {
  const double profile = 0.4 / std::log(height.si() / roughness.si());
  return 0.622 * profile * profile * (air_density / water * (lack / air)).si() * wind;
}

Velocity<> evaporation_dunne_wind(Velocity<> wind, Pressure<> lack) {
  const double km_per_day = wind.si() * 86.4, hpa = lack.si() / 100.0;
  return Velocity<>((0.013 + 0.00016 * km_per_day) * hpa * 1e-2 / 86400.0);
}

Velocity<> lake_evaporation_linacre(Temperature<> air, Temperature<> dew, Length<> altitude, Flux<> global,
                                    Velocity<> wind) {
  const double z = altitude.si(), t_c = air.celsius();
  const double drive = 0.8 * global.si() - 40.0 + 2.5 * (1.0 - 8.7e-5 * z) * wind.si() * (air - dew).si();
  return Velocity<>((0.015 + 0.00042 * t_c + 1e-6 * z) * drive * 1e-3 / 86400.0);
}

Conductance<> surface_conductance(Temperature<> at, VapourCoefficient<> f, PressureSlope<> gamma) {
  const double k = at.kelvin();
  return Conductance<>(4.0 * stefan_boltzmann_fao * k * k * k) + f * (saturation_slope(at) + gamma);
}

Temperature<> equilibrium_temperature(Temperature<> wet_bulb, Flux<> net_at_wet_bulb, VapourCoefficient<> f,
                                      PressureSlope<> gamma) {
  return wet_bulb + net_at_wet_bulb / surface_conductance(wet_bulb, f, gamma);
}

Duration<> equilibrium_time_constant(Length<> depth, Temperature<> wet_bulb, VapourCoefficient<> f,
                                     PressureSlope<> gamma, VolumetricHeat<> water) {
  return water * depth / surface_conductance(wet_bulb, f, gamma);
}

Flux<> incoming_longwave_idso_jackson(Temperature<> air, Number<> cloud) {
  const Number<> eps = sky_emissivity_crawford_duchon(sky_emissivity_idso_jackson(air), cloud);
  return outgoing_longwave(air, eps.si()) * (stefan_boltzmann_fao / stefan_boltzmann);
}

}  // namespace leat::science
