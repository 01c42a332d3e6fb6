// Heat of the ground: its yearly wave, its daily answer, its steady loss.
#pragma once

#include <vector>

#include "base/units/quantity.h"
#include "science/heat/walls.h"

namespace leat::science {

using Diffusivity = Quantity<dim::kinematic_viscosity>;

struct Soil {
  Conductivity<> conductivity{1.2};
  VolumetricHeat<> heat{2.2e6};
};
inline constexpr Soil soil_default{};
inline constexpr Soil soil_dry_sand{Conductivity<>(0.24), VolumetricHeat<>(1.28e6)};
inline constexpr Soil soil_moist_sand{Conductivity<>(2.1), VolumetricHeat<>(2.12e6)};
inline constexpr Soil soil_moist_clay{Conductivity<>(0.9), VolumetricHeat<>(2.27e6)};
inline constexpr Soil soil_wet_clay{Conductivity<>(1.4), VolumetricHeat<>(3.1e6)};

inline constexpr Duration<> a_year{365.0 * 86400.0};

/// k / (rho c)
Diffusivity diffusivity(const Soil& soil);

/// Depth at which a wave is down to 1/e: sqrt(2 kappa / omega). 0.12 m for a day, 2.3 m for a year.
/// source   Carslaw and Jaeger
Length<> damping_depth(const Soil& soil, Duration<> period = units::day);

/// Heat into a half space per kelvin of a wave at its face: sqrt(k C omega), leading by 45 degrees.
/// source   Carslaw and Jaeger
Conductance<> soil_admittance(const Soil& soil, Duration<> period = units::day);

/// The year's wave at the surface. `coldest` counts from the start of 1 January: day 20 to 35 in the north, 182 later
/// in the south.
struct GroundYear {
  Temperature<> mean;                 ///< annual mean of the air, plus 0 to 2 K
  TemperatureDifference<> amplitude;  ///< half the span of the monthly means
  Duration<> coldest = 28.0 * units::day;
};

/// Ground temperature at a depth.
///
///   T = Tm - A exp(-z/d) cos(2 pi (t - t0)/year - z/d),   d = damping depth of the year
///
/// source   Kusuda and Achenbach 1965
Temperature<> ground_temperature_kusuda(const GroundYear& year, Length<> depth, Duration<> since_new_year,
                                        const Soil& soil);

/// Steady loss of a slab on the ground, per area and kelvin between inside and the year's mean.
///
///   B' = A/(P/2);  dt = w + k (Rsi + Rf + Rse)
///   U = 2k/(pi B' + dt) ln(pi B'/dt + 1)  for dt < B',  k/(0.457 B' + dt) otherwise
///
/// error    meant for buildings and months; for days use a column of soil
/// source   ISO 13370; remembered
Conductance<> slab_on_ground_u(Area<> area, Length<> perimeter, Length<> wall, Conductivity<> soil,
                               ThermalResistance<> floor, ThermalResistance<> inside,
                               ThermalResistance<> outside = ThermalResistance<>(0.04));

/// Thicknesses of the layers of a soil column, thin at the face and each `growth` times the one before.
std::vector<Length<>> soil_layers(int count = 14, double growth = 1.35, Length<> depth = Length<>(1.5));

}  // namespace leat::science
