#include <array>

#include "science/heat/covers.h"
#include "science/heat/entry_help.h"
#include "science/heat/periodic_wall.h"

namespace leat::science::heat_entry {
namespace {

/// Names of one layer of a wall; a single layer may leave the number off.
struct LayerNames {
  std::string_view thickness, conductivity, resistance, heat;
};
constexpr std::array<LayerNames, 6> kLayers{{
    {"thickness", "conductivity", "resistance", "volumetric_heat"},
    {"thickness_1", "conductivity_1", "resistance_1", "volumetric_heat_1"},
    {"thickness_2", "conductivity_2", "resistance_2", "volumetric_heat_2"},
    {"thickness_3", "conductivity_3", "resistance_3", "volumetric_heat_3"},
    {"thickness_4", "conductivity_4", "resistance_4", "volumetric_heat_4"},
    {"thickness_5", "conductivity_5", "resistance_5", "volumetric_heat_5"},
}};

std::vector<InputRow> layer_rows() {
  std::vector<InputRow> all;
  for (const LayerNames& n : kLayers) {
    all.push_back(maybe({n.thickness, "m", 1e-4, 1, "of a layer, counted from the inside"}));
    all.push_back(maybe({n.conductivity, "W m-1 K-1", 0.01, 400, "of that layer"}));
    all.push_back(maybe({n.resistance, "m2 K W-1", 0, 20, "of a layer, in place of the two"}));
    all.push_back(maybe({n.heat, "J m-3 K-1", 0, 5e6, "heat capacity of that layer"}));
  }
  return all;
}

std::vector<InputRow> film_rows() {
  return {maybe({"inside_resistance", "m2 K W-1", 0, 0.3, "film inside; left out when not given"}),
          maybe({"outside_resistance", "m2 K W-1", 0, 0.3, "film outside; left out when not given"})};
}

WallLayer layer_of(const Given& g, const LayerNames& n) {
  if (!g.has(n.thickness)) return massless_layer(ThermalResistance<>(g(n.resistance)));
  const Length<> thickness(g(n.thickness));
  const Conductivity<> conductivity(g(n.conductivity));
  if (!g.has(n.heat)) return massless_layer(layer_resistance(thickness, conductivity));
  return massive_layer(thickness, conductivity, VolumetricHeat<>(g(n.heat)));
}

/// Inside film, layers in order, outside film.
std::vector<WallLayer> wall_of(const Given& g) {
  std::vector<WallLayer> wall;
  if (g.has("inside_resistance")) wall.push_back(massless_layer(ThermalResistance<>(g("inside_resistance"))));
  for (const LayerNames& n : kLayers)
    if (g.has(n.thickness) || g.has(n.resistance)) wall.push_back(layer_of(g, n));
  if (g.has("outside_resistance")) wall.push_back(massless_layer(ThermalResistance<>(g("outside_resistance"))));
  if (wall.empty()) throw std::out_of_range("thickness");
  return wall;
}

double u_of(const Given& g) {
  std::vector<ThermalResistance<>> row;
  for (const WallLayer& layer : wall_of(g)) row.push_back(layer.resistance);
  return u_value(row).si();
}

PeriodicWall periodic_of(const Given& g) {
  return periodic_wall(wall_of(g), g("period") * units::second);
}

std::vector<Entry> steady_entries() {
  return {
      {"layer_resistance",
       "resistance of a layer",
       {{"thickness", "m", 1e-4, 1, "of the layer"}, {"conductivity", "W m-1 K-1", 0.01, 400, "of the layer"}},
       {{"resistance", "m2 K W-1",
         [](const Given& g) {
           return layer_resistance(Length<>(g("thickness")), Conductivity<>(g("conductivity"))).si();
         }}},
       "ISO 6946"},
      {"u_value_layers",
       "conductance of layers in a row, with films",
       rows({layer_rows(), film_rows()}),
       {{"u_value", "W m-2 K-1", u_of}},
       "ISO 6946"},
      {"u_value_no_films",
       "conductance of layers in a row",
       layer_rows(),
       {{"u_value", "W m-2 K-1", u_of}},
       "ISO 6946"},
      {"external_surface_resistance",
       "resistance of the film outside",
       {{"wind", "m s-1", 0, 20, "beside the wall"},
        assume({"emissivity", "-", 0, 1, "of the wall"}, plastic_emissivity),
        assume({"temperature", "degC", -30, 50, "mean of wall and surroundings"}, 10.0)},
       {{"resistance", "m2 K W-1",
         [](const Given& g) {
           return external_surface_resistance(Velocity<>(g("wind")), celsius(g, "temperature"), g("emissivity")).si();
         }}},
       "ISO 6946 annex C"},
      {"sun_share_through_wall",
       "share of the sun on an opaque skin that ends in the water",
       {{"absorptance", "-", 0, 1, "of the skin"},
        {"inner_conductance", "W m-2 K-1", 0.1, 1000, "from the water to the skin"},
        {"film", "W m-2 K-1", 1, 100, "outside"}},
       {{"share", "-",
         [](const Given& g) {
           return sun_share_through_wall(g("absorptance"), Conductance<>(g("inner_conductance")),
                                         Conductance<>(g("film")))
               .si();
         }}},
       "balance of the skin"},
  };
}

std::vector<Entry> gap_entries() {
  return {
      {"gap_nusselt_hollands",
       "heat through a level air gap warmed from below, over conduction alone",
       {{"rayleigh", "-", 0, 1e8, "of the gap"}},
       {{"nusselt", "-", [](const Given& g) { return gap_nusselt_hollands(Number<>(g("rayleigh"))).si(); }}},
       "Hollands, Unny, Raithby and Konicek 1976"},
      {"gap_conductance",
       "radiation and air between water and a lid",
       {{"water_temperature", "degC", 0, 45, "below"},
        {"lid_temperature", "degC", -20, 80, "above"},
        {"gap", "m", 0.005, 0.5, "between them"}},
       {{"conductance", "W m-2 K-1",
         [](const Given& g) {
           return gap_exchange(celsius(g, "water_temperature"), celsius(g, "lid_temperature"), Length<>(g("gap")))
               .dry.si();
         }}},
       "Hollands et al. 1976 with radiation"},
  };
}

std::vector<Entry> periodic_entries() {
  const auto inputs = rows({layer_rows(), film_rows(), {assume({"period", "s", 3600, 4e7, "of the wave"}, 86400.0)}});
  const std::string_view source = "ISO 13786";
  return {
      {"periodic_transmittance",
       "wave of heat on one side per kelvin of wave on the other",
       inputs,
       {{"transmittance", "W m-2 K-1", [](const Given& g) { return std::abs(periodic_of(g).transfer.si()); }}},
       source},
      {"periodic_transmittance_lag",
       "how late a wave comes through a wall",
       inputs,
       {{"lag", "h", [](const Given& g) { return periodic_of(g).lag.in(units::hour); }}},
       source},
      {"decrement_factor",
       "periodic over steady transmittance",
       inputs,
       {{"decrement", "-", [](const Given& g) { return periodic_of(g).decrement; }}},
       source},
      {"periodic_admittance",
       "wave of heat into the inside per kelvin of its own wave",
       inputs,
       {{"admittance", "W m-2 K-1", [](const Given& g) { return std::abs(periodic_of(g).self.si()); }}},
       source},
  };
}

}  // namespace

std::vector<Entry> wall_entries() {
  std::vector<Entry> all = steady_entries();
  for (auto& group : {gap_entries(), periodic_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
