// Evaporation of open water from weather alone, as lakes and pans are reckoned: checks on the balance of a tank, not
// parts of it.
#pragma once

#include "base/units/quantity.h"
#include "science/heat/evaporation.h"
#include "science/heat/vapour.h"

namespace leat::science {

/// Depth per time and pressure difference.
using DepthPerPressure = Quantity<dim::velocity - dim::pressure>;
/// The same per wind.
using DepthPerPressureAndWind = Quantity<Dimension{} - dim::pressure>;

/// Shares of energy and of drying air: (D Qn + g Ea) / (D + g).
///
/// by_energy   evaporation if all net radiation went into it
/// by_air      evaporation by the air's dryness and wind
/// source      Penman 1948
Velocity<> evaporation_combination(Velocity<> by_energy, Velocity<> by_air, Number<> slope_over_gamma);

/// What drives open water for a day.
struct OpenWaterDay {
  Temperature<> high, low;
  Pressure<> vapour, pressure;
  Flux<> net_radiation;
  Velocity<> wind;  ///< at 2 m
};
/// Evaporation of open water: the combination with E_a = (fa + fb u2)(es - ea).
///
/// fa, fb   1.313 mm/d/kPa and 1.381 mm/d/kPa per m/s (Penman 1956)
/// source   Penman 1956, as in McMahon et al. 2013
Velocity<> penman_open_water(const OpenWaterDay& day, DepthPerPressure fa, DepthPerPressureAndWind fb,
                             SpecificEnergy<> latent = SpecificEnergy<>(2.45e6));

/// alpha D/(D + g) of the evaporation by energy; alpha 1.26 to 1.3.
/// source   Priestley and Taylor 1972
Velocity<> priestley_taylor(Velocity<> by_energy, PressureSlope<> slope, PressureSlope<> gamma, double alpha = 1.26);

/// By the logarithmic profile of wind over a surface.
///
///   E = 0.622 k^2 rho_a u / (P rho_w ln(z/z0)^2) (es - ea),   k = 0.4
///
/// source   Thornthwaite and Holzman 1939, as in Chow, Maidment and Mays 1988
Velocity<> evaporation_aerodynamic_log(Velocity<> wind, Length<> height, Length<> roughness, Pressure<> lack,
                                       Pressure<> air, Density<> air_density = Density<>(1.19),
                                       Density<> water = Density<>(997.0));

/// (0.013 + 0.00016 u2)(es - ea)     cm/d, u2 in km/d, e in hPa
/// source   Dunne and Leopold 1978
Velocity<> evaporation_dunne_wind(Velocity<> wind, Pressure<> lack);

/// Evaporation of a lake from little data.
///
///   (0.015 + 0.00042 T + 1e-6 z)(0.8 Rs - 40 + 2.5 F u (T - Td)),  F = 1 - 8.7e-5 z     mm/d, z in m, Rs in W/m2
///
/// source   Linacre 1993
Velocity<> lake_evaporation_linacre(Temperature<> air, Temperature<> dew, Length<> altitude, Flux<> global,
                                    Velocity<> wind);

/// Conductance of a water surface for small departures: 4 sigma T^3 + f (D + g), with hydrology's sigma.
Conductance<> surface_conductance(Temperature<> at, VapourCoefficient<> f, PressureSlope<> gamma);

/// Temperature at which a well mixed body would neither warm nor cool: Twb + Rn/(4 sigma T^3 + f (D + g)).
///
/// net_at_wet_bulb  net radiation of water that stood at the wet bulb
/// source   de Bruin 1982, as in McJannet et al. 2008
Temperature<> equilibrium_temperature(Temperature<> wet_bulb, Flux<> net_at_wet_bulb, VapourCoefficient<> f,
                                      PressureSlope<> gamma);
/// Time in which it closes all but 1/e of the way: C/A over that conductance.
Duration<> equilibrium_time_constant(Length<> depth, Temperature<> wet_bulb, VapourCoefficient<> f,
                                     PressureSlope<> gamma, VolumetricHeat<> water = VolumetricHeat<>(4.18e6));

/// Long-wave from a cloudy sky: (c + (1 - c) eps) sigma T^4, eps of Idso and Jackson, hydrology's sigma.
/// source   McJannet et al. 2008
Flux<> incoming_longwave_idso_jackson(Temperature<> air, Number<> cloud);

}  // namespace leat::science
