#include "science/hydraulics/channels.h"
#include "science/hydraulics/entries_support.h"

namespace leat::science::hydraulic_entries {
namespace {

using OfWeir = Flow<> (*)(const SharpWeir&, Acceleration<>);

Entry weir(std::string_view name, std::string_view meaning, std::string_view source, OfWeir relation) {
  return {
      name,
      meaning,
      {needed("head", "m", 0.02, 2.0, "water over the crest"), needed("crest_height", "m", 0.1, 10.0, "over the floor"),
       needed("width", "m", 0.15, 100.0, "of the crest"), gravity_row()},
      {{"flow", "m3/s",
        [relation](const Given& g) {
          return relation({length_of(g, "head"), length_of(g, "crest_height"), length_of(g, "width")}, gravity_of(g))
              .si();
        }}},
      source};
}

FlowPerWidth<> flow_per_width_of(const Given& g) {
  if (g.numbers.contains("flow")) return flow_of(g) / length_of(g, "width");
  return FlowPerWidth<>(g("flow_per_width"));
}

double distance(const Given& g) {
  return direct_step_distance({length_of(g, "width"), number_of(g, "lean")}, flow_of(g), number_of(g, "slope"),
                              number_of(g, "manning_n"), length_of(g, "depth_from"), length_of(g, "depth_to"),
                              static_cast<int>(g("steps")), gravity_of(g))
      .si();
}

}  // namespace

std::vector<Entry> channel_entries() {
  const std::string_view kindsvater = "Kindsvater and Carter 1957";
  return {
      {"rectangular_critical_depth",
       "critical depth in a rectangular channel",
       {optional("flow_per_width", "m2/s", 0.0, 1e3, "flow for each metre of width"),
        optional("flow", "m3/s", 0.0, 1e3, "instead, with the width"),
        optional("width", "m", 0.0, 1e3, "of the channel"), gravity_row()},
       {{"depth", "m",
         [](const Given& g) { return rectangular_critical_depth(flow_per_width_of(g), gravity_of(g)).si(); }}},
       "Chow 1959"},
      {"direct_step_distance",
       "distance between two depths of steady flow, positive downstream",
       {needed("width", "m", 0.01, 1e3, "of the floor"),
        taken("lean", "-", 0.0, 10.0, "of the sides, across for each up", 0.0), flow_row(),
        needed("slope", "-", 0.0, 1.0, "of the floor"), needed("manning_n", "-", 0.005, 0.2, "Manning's n"),
        needed("depth_from", "m", 0.0, 100.0, "first depth"), needed("depth_to", "m", 0.0, 100.0, "second depth"),
        taken("steps", "-", 1.0, 1e5, "equal steps of depth", 100.0), gravity_row()},
       {{"distance", "m", distance}},
       "Chow 1959"},
      {"broad_crested_weir_coefficient",
       "C of Q = C L H^1.5",
       {gravity_row()},
       {{"coefficient", "m0.5/s", [](const Given& g) { return broad_crested_weir_coefficient(gravity_of(g)).si(); }},
        {"coefficient_ft", "ft0.5/s",
         [](const Given& g) { return broad_crested_weir_coefficient(gravity_of(g)).si() / std::sqrt(foot); }}},
       "critical depth on the crest"},
      {"broad_crested_weir_flow",
       "Q = C L H^1.5",
       {text("coefficient", "C; bare is m0.5/s; 1.705 if not said"),
        needed("crest", "m", 0.0, 1e3, "length of the crest"), needed("head", "m", 0.0, 10.0, "over the crest"),
        gravity_row()},
       {{"flow", "m3/s",
         [](const Given& g) {
           const Number<> c = g.words.contains("coefficient") ? Number<>(odd_unit_number(g, "coefficient"))
                                                              : broad_crested_weir_coefficient(gravity_of(g));
           return broad_crested_weir_flow(length_of(g, "head"), length_of(g, "crest"), c).si();
         }}},
       "critical depth on the crest"},
      {"vnotch_weir",
       "flow over a V-notch",
       {taken("angle", "deg", 20.0, 120.0, "of the notch", 90.0), needed("head", "m", 0.05, 1.0, "above its point"),
        taken("coefficient", "-", 0.5, 0.7, "Ce", 0.578), taken("head_shift", "m", 0.0, 0.01, "k", 0.00088),
        gravity_row()},
       {{"flow", "m3/s",
         [](const Given& g) {
           return vnotch_weir(length_of(g, "head"), number_of(g, "angle"), number_of(g, "coefficient"),
                              length_of(g, "head_shift"), gravity_of(g))
               .si();
         }}},
       "Kindsvater and Shen"},
      weir("rectangular_weir_suppressed_kindsvater", "sharp crest over the whole width", kindsvater,
           rectangular_weir_suppressed_kindsvater),
      weir("rectangular_weir_contracted_kindsvater", "sharp crest narrower than the channel", kindsvater,
           rectangular_weir_contracted_kindsvater),
      weir("rectangular_weir_rehbock", "sharp crest over the whole width", "Rehbock 1929", rectangular_weir_rehbock),
      weir("rectangular_weir_ackers", "sharp crest over the whole width", "Ackers et al. 1978",
           rectangular_weir_ackers),
  };
}

}  // namespace leat::science::hydraulic_entries
