#include "science/heat/entry_help.h"
#include "science/heat/stores.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kFlow{"flow", "m3 s-1", 0, 1, "of water"};

BubbledAir<> bubbled_air(const Given& g) {
  return {Flow<>(g("flow")), celsius(g, "temperature"), percent(g, "humidity"), pressure_of(g),
          Density<>(g("air_density"))};
}

std::vector<Entry> flow_entries() {
  return {
      {"flow_conductance",
       "heat a flow carries per kelvin",
       {kFlow, assume({"volumetric_heat", "J m-3 K-1", 4.0e6, 4.3e6, "of water"}, 4.18e6)},
       {{"conductance", "W K-1",
         [](const Given& g) {
           return flow_conductance(Flow<>(g("flow")), VolumetricHeat<>(g("volumetric_heat"))).si();
         }}},
       "definition"},
      {"exchange_time_constant",
       "time in which two stores that swap water close all but 1/e of their difference",
       {kFlow, {"volume_1", "m3", 1e-3, 1e4, "of one"}, {"volume_2", "m3", 1e-3, 1e4, "of the other"}},
       {{"time_constant", "s",
         [](const Given& g) {
           return exchange_time_constant(Flow<>(g("flow")), Volume<>(g("volume_1")), Volume<>(g("volume_2"))).si();
         }}},
       "closed form"},
      {"mix_temperature",
       "water poured into water",
       {{"volume", "m3", 0, 1e4, "of the water"},
        {"temperature", "degC", 0, 60, "of the water"},
        {"added_volume", "m3", 0, 1e4, "poured in"},
        {"added_temperature", "degC", 0, 100, "of what is poured in"}},
       {{"temperature", "degC",
         [](const Given& g) {
           return mix_temperature(celsius(g, "temperature"), Volume<>(g("volume")), celsius(g, "added_temperature"),
                                  Volume<>(g("added_volume")))
               .celsius();
         }}},
       "mixing by volume"},
      {"bubbled_air_heat_loss",
       "heat that bubbled air takes from the water",
       rows({{{"flow", "m3 s-1", 0, 0.1, "of air"},
              {"temperature", "degC", -20, 50, "of the air going in"},
              {"humidity", "%", 0, 100, "of the air going in"},
              {"water_temperature", "degC", 0, 40, "of the water"},
              assume({"air_density", "kg m-3", 0.8, 1.4, "of the air"}, 1.2),
              assume({"latent_heat", "MJ kg-1", 2.3, 2.6, "of evaporation"}, 2.45),
              assume({"air_specific_heat", "J kg-1 K-1", 1000, 1030, "of the air"}, 1005.0)},
             pressure_rows()}),
       {{"power", "W",
         [](const Given& g) {
           return bubbled_air_heat_loss(celsius(g, "water_temperature"), bubbled_air(g),
                                        g("latent_heat") * megajoule_per_kilogram, SpecificHeat(g("air_specific_heat")))
               .si();
         }}},
       "enthalpy of moist air"},
  };
}

std::vector<Entry> holding_entries() {
  return {
      {"first_order_step",
       "way towards a resting temperature",
       {{"start", "degC", -10, 60, "temperature now"},
        {"rest", "degC", -20, 60, "temperature it tends to"},
        {"time_constant", "h", 0.01, 1e5, "of the way"},
        {"step", "h", 0, 1e5, "time that passes"}},
       {{"temperature", "degC",
         [](const Given& g) {
           return first_order_step(celsius(g, "start"), celsius(g, "rest"), g("time_constant") * units::hour,
                                   g("step") * units::hour)
               .celsius();
         }}},
       "closed form"},
      {"store_heat_flux",
       "mean heat into a body per area of surface while it warms",
       {{"depth", "m", 0.01, 100, "of the water"},
        {"start", "degC", -5, 60, "temperature before"},
        {"end", "degC", -5, 60, "temperature after"},
        assume({"step", "h", 0.01, 1e4, "between the two"}, 24.0),
        assume({"volumetric_heat", "J m-3 K-1", 1e6, 4.3e6, "of the body"}, 4.18e6)},
       {{"heat_flux", "MJ m-2 d-1",
         [](const Given& g) {
           return store_heat_flux(Length<>(g("depth")), celsius(g, "start"), celsius(g, "end"), g("step") * units::hour,
                                  VolumetricHeat<>(g("volumetric_heat")))
               .in(megajoule_per_square_metre_day);
         }}},
       "definition"},
      {"temperature_rise_mean",
       "lasting rise by a source of heat",
       {{"power", "W", 0, 1e5, "of the source"}, {"conductance", "W K-1", 0.1, 1e4, "of all faces"}},
       {{"rise", "K",
         [](const Given& g) {
           return temperature_rise_mean(Power<>(g("power")), HeatFlowPerKelvin<>(g("conductance"))).si();
         }}},
       "steady balance"},
      {"bed_heat_capacity",
       "heat capacity of a flooded bed of stones",
       {{"porosity", "-", 0, 1, "share of voids"},
        assume({"stone_density", "kg m-3", 300, 3500, "of the stone itself"}, 2650.0),
        assume({"stone_specific_heat", "J kg-1 K-1", 600, 1500, "of the stone"}, 840.0),
        assume({"volumetric_heat", "J m-3 K-1", 1e3, 4.3e6, "of what fills the voids"}, 4.18e6)},
       {{"volumetric_heat", "J m-3 K-1",
         [](const Given& g) {
           return bed_heat_capacity(Number<>(g("porosity")), Density<>(g("stone_density")),
                                    SpecificHeat(g("stone_specific_heat")), VolumetricHeat<>(g("volumetric_heat")))
               .si();
         }}},
       "volume-weighted sum"},
  };
}

}  // namespace

std::vector<Entry> store_entries() {
  std::vector<Entry> all = flow_entries();
  for (Entry& entry : holding_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::heat_entry
