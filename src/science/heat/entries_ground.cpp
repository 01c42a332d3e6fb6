#include "science/heat/entry_help.h"
#include "science/heat/ground.h"

namespace leat::science::heat_entry {
namespace {

/// Soil by conductivity and heat per volume, or density and heat per mass; or by diffusivity where that is enough.
std::vector<InputRow> soil_rows() {
  return {maybe({"conductivity", "W m-1 K-1", 0.1, 4, "of the soil"}),
          maybe({"diffusivity", "m2 s-1", 1e-7, 3e-6, "of the soil, in place of the others"}),
          maybe({"volumetric_heat", "J m-3 K-1", 0.8e6, 4.2e6, "of the soil"}),
          maybe({"density", "kg m-3", 700, 2500, "of the soil"}),
          maybe({"specific_heat", "J kg-1 K-1", 700, 4200, "of the soil"})};
}

Soil soil_of(const Given& g) {
  if (g.has("diffusivity") && !g.has("conductivity")) return {Conductivity<>(g("diffusivity")), VolumetricHeat<>(1.0)};
  const double heat = g.has("volumetric_heat") ? g("volumetric_heat") : g("density") * g("specific_heat");
  return {Conductivity<>(g("conductivity")), VolumetricHeat<>(heat)};
}

Duration<> period_of(const Given& g) {
  return g("period") * units::second;
}

std::vector<Entry> soil_entries() {
  const InputRow period = assume({"period", "s", 3600, 4e7, "of the wave"}, 86400.0);
  return {
      {"diffusivity",
       "diffusivity of heat in soil",
       soil_rows(),
       {{"diffusivity", "m2 s-1", [](const Given& g) { return diffusivity(soil_of(g)).si(); }}},
       "definition"},
      {"damping_depth",
       "depth at which a wave is down to 1/e",
       rows({soil_rows(), {period}}),
       {{"depth", "m", [](const Given& g) { return damping_depth(soil_of(g), period_of(g)).si(); }}},
       "Carslaw and Jaeger"},
      {"semi_infinite_admittance",
       "heat into a half space per kelvin of a wave at its face",
       rows({soil_rows(), {period}}),
       {{"admittance", "W m-2 K-1", [](const Given& g) { return soil_admittance(soil_of(g), period_of(g)).si(); }}},
       "Carslaw and Jaeger"},
      {"ground_temperature_annual_wave",
       "temperature of the ground at a depth",
       rows({{{"time", "d", 0, 3660, "since the start of 1 January"},
              {"depth", "m", 0, 30, "below the surface"},
              {"mean", "degC", -10, 35, "of the year"},
              {"amplitude", "K", 0, 30, "half the yearly span at the surface"},
              {"coldest_day", "d", 0, 366, "when the surface is coldest"}},
             soil_rows()}),
       {{"temperature", "degC",
         [](const Given& g) {
           const GroundYear year{celsius(g, "mean"), TemperatureDifference<>(g("amplitude")),
                                 g("coldest_day") * units::day};
           return ground_temperature_kusuda(year, Length<>(g("depth")), g("time") * units::day, soil_of(g)).celsius();
         }}},
       "Kusuda and Achenbach 1965"},
  };
}

std::vector<Entry> slab_entries() {
  return {{"slab_on_ground_u",
           "steady loss of a base on the ground",
           {{"area", "m2", 0.2, 1e4, "of the base"},
            {"perimeter", "m", 1, 400, "of the base"},
            {"wall", "m", 0, 1, "thickness of the walls"},
            assume({"conductivity", "W m-1 K-1", 0.2, 4, "of the soil"}, 1.2),
            assume({"floor_resistance", "m2 K W-1", 0, 20, "of the floor's layers"}, 0.0),
            assume({"inside_resistance", "m2 K W-1", 0, 0.3, "film inside"}, 0.005),
            assume({"outside_resistance", "m2 K W-1", 0, 0.3, "film outside"}, 0.04)},
           {{"u_value", "W m-2 K-1",
             [](const Given& g) {
               return slab_on_ground_u(Area<>(g("area")), Length<>(g("perimeter")), Length<>(g("wall")),
                                       Conductivity<>(g("conductivity")), ThermalResistance<>(g("floor_resistance")),
                                       ThermalResistance<>(g("inside_resistance")),
                                       ThermalResistance<>(g("outside_resistance")))
                   .si();
             }}},
           "ISO 13370"}};
}

}  // namespace

std::vector<Entry> ground_entries() {
  std::vector<Entry> all = soil_entries();
  for (Entry& entry : slab_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::heat_entry
