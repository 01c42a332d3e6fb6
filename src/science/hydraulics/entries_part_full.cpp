#include "science/hydraulics/entries_support.h"
#include "science/hydraulics/part_full.h"

namespace leat::science::hydraulic_entries {
namespace {

const std::string_view kGeometry = "geometry of the circle";
const std::string_view kManning = "Manning, as in Chow 1959";

InputRow depth_row() {
  return needed("depth", "m", 0.0, 10.0, "of the water in the pipe");
}
InputRow slope_row() {
  return needed("slope", "-", 1e-5, 1.0, "fall over length");
}
InputRow n_row() {
  return needed("manning_n", "-", 0.005, 0.2, "Manning's n");
}
InputRow radius_row() {
  return needed("hydraulic_radius", "m", 0.0, 100.0, "area over wetted perimeter");
}

/// As a share of the bore, or both as lengths.
Rows depth_ratio_rows() {
  return {optional("depth_ratio", "-", 0.0, 1.0, "depth over bore"),
          optional("depth", "m", 0.0, 10.0, "instead, with the bore"),
          optional("bore", "m", 1e-3, 10.0, "inside diameter")};
}
Number<> depth_ratio_of(const Given& g) {
  if (g.numbers.contains("depth")) return length_of(g, "depth") / length_of(g, "bore");
  if (g.numbers.contains("area_ratio")) return part_full_depth_ratio(number_of(g, "area_ratio"));
  return number_of(g, "depth_ratio");
}

using OfSection = double (*)(Length<> depth, Length<> bore);

Entry section(std::string_view name, std::string_view meaning, std::string_view unit, OfSection relation) {
  return {
      name,
      meaning,
      {depth_row(), bore_row()},
      {{"value", unit, [relation](const Given& g) { return relation(length_of(g, "depth"), length_of(g, "bore")); }}},
      kGeometry};
}

using OfRatio = Number<> (*)(Number<>);

Entry ratio(std::string_view name, std::string_view meaning, OfRatio relation) {
  return {name,
          meaning,
          joined({depth_ratio_rows(), {optional("area_ratio", "-", 0.0, 1.0, "area over that of the full pipe")}}),
          {{"ratio", "-", [relation](const Given& g) { return relation(depth_ratio_of(g)).si(); }}},
          kGeometry};
}

Length<> normal_depth_of(const Given& g) {
  return manning_circular_normal_depth(flow_of(g), length_of(g, "bore"), number_of(g, "slope"),
                                       number_of(g, "manning_n"));
}

double uniform_velocity(const Given& g) {
  const Length<> bore = length_of(g, "bore");
  const Length<> depth = g.numbers.contains("depth") ? length_of(g, "depth") : normal_depth_of(g);
  return manning_velocity(circular_section_hydraulic_radius(depth, bore), number_of(g, "slope"),
                          number_of(g, "manning_n"))
      .si();
}

LargestPartFull largest_of(const Given& g) {
  if (g.words.contains("shape") && g.word("shape") != "circular") throw std::out_of_range("shape=circular");
  const bool manning = !g.words.contains("law") || g.word("law") == "Manning";
  return part_full_largest_flow(Number<>(manning ? 2.0 / 3.0 : 0.5));
}

Number<> critical_ratio_of(const Given& g) {
  if (g.numbers.contains("critical_ratio")) return number_of(g, "critical_ratio");
  const Length<> bore = length_of(g, "bore");
  return circular_critical_depth(flow_of(g), bore, gravity_of(g)) / bore;
}

Flow<> darcy_flow_of(const Given& g) {
  const Length<> bore = length_of(g, "bore"), depth = depth_ratio_of(g).si() * bore;
  const Number<> rough = g.numbers.contains("roughness")
                             ? length_of(g, "roughness") / (4.0 * circular_section_hydraulic_radius(depth, bore))
                             : number_of(g, "relative_roughness");
  return part_full_darcy_flow(depth, bore, number_of(g, "slope"), rough, viscosity_of(g), gravity_of(g));
}

std::vector<Entry> geometry_entries() {
  return {
      section("circular_section_area", "area of the water", "m2",
              [](Length<> y, Length<> d) { return circular_section_area(y, d).si(); }),
      section("circular_section_perimeter", "wetted perimeter", "m",
              [](Length<> y, Length<> d) { return circular_section_perimeter(y, d).si(); }),
      section("circular_section_hydraulic_radius", "area over wetted perimeter", "m",
              [](Length<> y, Length<> d) { return circular_section_hydraulic_radius(y, d).si(); }),
      section("circular_section_width", "width of the surface", "m",
              [](Length<> y, Length<> d) { return circular_section_width(y, d).si(); }),
      ratio("part_full_area_ratio", "area over that of the full pipe", part_full_area_ratio),
      ratio("part_full_radius_ratio", "hydraulic radius over that of the full pipe", part_full_radius_ratio),
      ratio("part_full_width_ratio", "width of the surface over the bore", part_full_width_ratio),
      ratio("part_full_section_factor", "A R^(2/3) over that of the full pipe", part_full_section_factor),
      {"part_full_largest_flow",
       "where a round pipe carries most",
       {text("shape", "circular"), text("law", "Manning, Chezy or Darcy")},
       {{"depth_ratio", "-", [](const Given& g) { return largest_of(g).depth_ratio.si(); }},
        {"flow_ratio", "-", [](const Given& g) { return largest_of(g).flow_ratio.si(); }}},
       "Chow 1959"},
  };
}

std::vector<Entry> critical_entries() {
  return {
      {"circular_froude",
       "velocity over that of a long wave",
       {flow_row(), depth_row(), bore_row(), gravity_row()},
       {{"froude", "-",
         [](const Given& g) {
           return circular_froude(flow_of(g), length_of(g, "depth"), length_of(g, "bore"), gravity_of(g)).si();
         }}},
       kGeometry},
      {"circular_critical_depth",
       "depth at which the Froude number is 1",
       {flow_row(), bore_row(), gravity_row()},
       {{"depth", "m",
         [](const Given& g) { return circular_critical_depth(flow_of(g), length_of(g, "bore"), gravity_of(g)).si(); }}},
       "Chow 1959"},
      {"circular_critical_depth_explicit",
       "the same, explicit",
       {flow_row(), bore_row(), gravity_row()},
       {{"depth", "m",
         [](const Given& g) {
           return circular_critical_depth_explicit(flow_of(g), length_of(g, "bore"), gravity_of(g)).si();
         }}},
       "Straub 1978"},
      {"circular_end_depth_ratio",
       "depth at a free brink over critical depth",
       {optional("critical_ratio", "-", 0.01, 0.9, "critical depth over bore"),
        optional("flow", "m3/s", 0.0, 100.0, "instead, with the bore"),
        optional("bore", "m", 1e-3, 10.0, "inside diameter"), gravity_row(), text("outfall", "free"),
        text("approach", "subcritical")},
       {{"ratio", "-", [](const Given& g) { return circular_end_depth_ratio(critical_ratio_of(g)).si(); }}},
       "balance of momentum"},
      {"circular_inlet_head",
       "head above the invert at the mouth of a steep pipe",
       {flow_row(), bore_row(), taken("entry_loss", "-", 0.0, 2.0, "K of the mouth", 0.5),
        taken("orifice_coefficient", "-", 0.3, 1.0, "Cd of the drowned mouth", 0.60), gravity_row()},
       {{"head", "m",
         [](const Given& g) {
           return circular_inlet_head(flow_of(g), length_of(g, "bore"), number_of(g, "entry_loss"),
                                      number_of(g, "orifice_coefficient"), gravity_of(g))
               .si();
         }}},
       "critical flow, then orifice"},
  };
}

std::vector<Entry> uniform_entries() {
  return {
      {"manning_velocity",
       "velocity of uniform flow",
       {radius_row(), slope_row(), n_row()},
       {{"velocity", "m/s",
         [](const Given& g) {
           return manning_velocity(length_of(g, "hydraulic_radius"), number_of(g, "slope"), number_of(g, "manning_n"))
               .si();
         }}},
       kManning},
      {"chezy_velocity",
       "velocity of uniform flow",
       {radius_row(), slope_row(), text("chezy_c", "Chezy's C; bare is m0.5/s")},
       {{"velocity", "m/s",
         [](const Given& g) {
           return chezy_velocity(length_of(g, "hydraulic_radius"), number_of(g, "slope"),
                                 Number<>(odd_unit_number(g, "chezy_c")))
               .si();
         }}},
       "Chezy, as in Chow 1959"},
      {"manning_to_chezy",
       "C from n",
       {n_row(), radius_row()},
       {{"chezy_c", "m0.5/s",
         [](const Given& g) {
           return manning_to_chezy(number_of(g, "manning_n"), length_of(g, "hydraulic_radius")).si();
         }}},
       "Chow 1959"},
      {"manning_circular_flow",
       "uniform flow at a depth",
       joined({{bore_row(), n_row(), slope_row()}, depth_ratio_rows()}),
       {{"flow", "m3/s",
         [](const Given& g) {
           const Length<> bore = length_of(g, "bore");
           return manning_circular_flow(depth_ratio_of(g).si() * bore, bore, number_of(g, "slope"),
                                        number_of(g, "manning_n"))
               .si();
         }}},
       kManning},
      {"manning_full_flow",
       "flow of the full pipe",
       {bore_row(), n_row(), slope_row()},
       {{"flow", "m3/s",
         [](const Given& g) {
           return manning_full_flow(length_of(g, "bore"), number_of(g, "slope"), number_of(g, "manning_n")).si();
         }}},
       kManning},
      {"manning_circular_slope",
       "slope that makes a flow uniform at a depth",
       joined({{flow_row(), bore_row(), n_row()}, depth_ratio_rows()}),
       {{"slope", "-",
         [](const Given& g) {
           const Length<> bore = length_of(g, "bore");
           return manning_circular_slope(flow_of(g), depth_ratio_of(g).si() * bore, bore, number_of(g, "manning_n"))
               .si();
         }}},
       kManning},
      {"manning_circular_normal_depth",
       "depth of uniform flow, the lower of two",
       {flow_row(), bore_row(), n_row(), slope_row()},
       {{"depth", "m", [](const Given& g) { return normal_depth_of(g).si(); }}},
       kManning},
      {"manning_circular_velocity",
       "velocity of uniform flow, at a flow or at a depth",
       {bore_row(), n_row(), slope_row(), optional("flow", "m3/s", 0.0, 100.0, "flow"),
        optional("depth", "m", 0.0, 10.0, "instead")},
       {{"velocity", "m/s", uniform_velocity}},
       kManning},
      {"part_full_darcy_flow",
       "uniform flow by Darcy on four hydraulic radii",
       joined({{bore_row(), slope_row(), gravity_row(),
                optional("relative_roughness", "-", 0.0, 0.05, "roughness over four hydraulic radii"),
                optional("roughness", "m", 0.0, 0.01, "instead")},
               depth_ratio_rows(),
               viscosity_rows()}),
       {{"flow", "m3/s", [](const Given& g) { return darcy_flow_of(g).si(); }}},
       "Crane TP-410 (2009)"},
  };
}

}  // namespace

std::vector<Entry> part_full_entries() {
  std::vector<Entry> entries = geometry_entries();
  for (Entry& entry : critical_entries()) entries.push_back(std::move(entry));
  for (Entry& entry : uniform_entries()) entries.push_back(std::move(entry));
  return entries;
}

}  // namespace leat::science::hydraulic_entries
