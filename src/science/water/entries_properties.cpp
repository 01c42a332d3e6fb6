#include "science/water/entry_help.h"
#include "science/water/ions.h"
#include "science/water/pressure.h"
#include "science/water/properties.h"

namespace leat::science::water_entry {

std::vector<Entry> property_entries() {
  return {
      {"water_density",
       "mass per volume of air-free fresh water",
       rows({{temperature_row}, pressure_rows()}),
       {{"density", "kg/m3",
         [](const Given& g) { return water_density_under_pressure(temperature_of(g), pressure_of(g)).si(); }}},
       "Tanaka et al. 2001"},
      {"water_dynamic_viscosity",
       "viscosity of fresh water",
       {temperature_row},
       {{"viscosity", "mPa s", [](const Given& g) { return 1e3 * water_dynamic_viscosity(temperature_of(g)).si(); }}},
       "IAPWS SR6-08"},
      {"water_kinematic_viscosity",
       "viscosity of fresh water over its density",
       {temperature_row},
       {{"kinematic_viscosity", "m2/s",
         [](const Given& g) { return water_kinematic_viscosity(temperature_of(g)).si(); }}},
       "IAPWS SR6-08; Tanaka et al. 2001"},
      {"vapour_pressure_benson_krause",
       "pressure of vapour over fresh water",
       {temperature_row},
       {{"vapour_pressure", "kPa",
         [](const Given& g) { return vapour_pressure_benson_krause(temperature_of(g)).in(units::kilopascal); }}},
       "Benson & Krause 1984"},
      {"water_permittivity",
       "static permittivity of water relative to vacuum",
       {temperature_row},
       {{"relative_permittivity", "-", [](const Given& g) { return water_permittivity(temperature_of(g)).si(); }}},
       "Malmberg & Maryott 1956"},
      {"air_pressure_standard_atmosphere",
       "mean pressure of the air at a height",
       {{"altitude", "m", -400, 5000, "above the sea"}},
       {{"pressure", "kPa",
         [](const Given& g) {
           return air_pressure_standard_atmosphere(Length<>(g("altitude"))).in(units::kilopascal);
         }}},
       "US Standard Atmosphere 1976"},
      {"air_pressure_isothermal",
       "mean pressure of the air at a height, the air taken as 15 degC throughout",
       {{"altitude", "m", -400, 5000, "above the sea"}},
       {{"pressure", "kPa",
         [](const Given& g) { return air_pressure_isothermal(Length<>(g("altitude"))).in(units::kilopascal); }}},
       "fits Tchobanoglous et al. 2014, table E-1"},
      {"station_pressure",
       "pressure at the place from a report reduced to the sea",
       {{"sea_level_pressure", "kPa", 90, 110, "reduced to the sea"}, {"altitude", "m", -400, 5000, "above the sea"}},
       {{"pressure", "kPa",
         [](const Given& g) {
           return station_pressure(g("sea_level_pressure") * units::kilopascal, Length<>(g("altitude")))
               .in(units::kilopascal);
         }}},
       "US Standard Atmosphere 1976"},
  };
}

}  // namespace leat::science::water_entry
