#include "base/units/parse.h"
#include "science/hydraulics/draining.h"
#include "science/hydraulics/drops.h"
#include "science/hydraulics/entries_support.h"

namespace leat::science::hydraulic_entries {
namespace {

Area<> area_of(const Given& g, std::string_view area, std::string_view diameter) {
  return g.numbers.contains(area) ? Area<>(g(area)) : round_area(length_of(g, diameter));
}

InputRow hole_row() {
  return needed("diameter", "m", 1e-3, 1.0, "of the hole");
}
InputRow head_row() {
  return needed("head", "m", 0.0, 10.0, "of water above");
}
Rows draining_rows() {
  return {optional("vessel_area", "m2", 0.0, 1e6, "plan area of the vessel"),
          optional("vessel_bore", "m", 0.0, 1e3, "instead, if it is round"),
          optional("hole_area", "m2", 0.0, 10.0, "area of the hole"),
          optional("hole_diameter", "m", 0.0, 3.0, "instead, if it is round"),
          taken("orifice_coefficient", "-", 0.3, 1.0, "Cd", 0.61),
          needed("level_from", "m", 0.0, 100.0, "level over the hole at first"),
          needed("level_to", "m", 0.0, 100.0, "level at the end"),
          taken("inflow", "m3/s", 0.0, 100.0, "constant", 0.0),
          gravity_row(),
          text("method", "any")};
}
Draining draining_of(const Given& g) {
  return {area_of(g, "vessel_area", "vessel_bore"), area_of(g, "hole_area", "hole_diameter"),
          number_of(g, "orifice_coefficient"), flow_of(g, "inflow")};
}

/// A share as a number or as "7/24".
Number<> share_of(const Given& g, std::string_view name) {
  if (g.numbers.contains(name)) return number_of(g, name);
  const std::string_view word = g.word(name);
  const std::size_t slash = word.find('/');
  if (slash == std::string_view::npos) throw std::out_of_range(std::string(name));
  const auto above = read_number(word.substr(0, slash)), below = read_number(word.substr(slash + 1));
  if (!std::holds_alternative<double>(above) || !std::holds_alternative<double>(below))
    throw std::out_of_range(std::string(name));
  return Number<>(std::get<double>(above) / std::get<double>(below));
}

Rows rim_rows() {
  return {needed("head", "m", -1.0, 1.0, "of water above the rim"), bore_row(),
          taken("weir_coefficient", "-", 1.0, 2.2, "m0.5/s on pi D", 1.70),
          taken("orifice_coefficient", "-", 0.4, 0.8, "of the drowned mouth", 0.60), gravity_row()};
}
RimCoefficients rim_of(const Given& g) {
  return {number_of(g, "weir_coefficient"), number_of(g, "orifice_coefficient")};
}

std::vector<Entry> hole_entries() {
  const std::string_view torricelli = "Torricelli";
  return {
      {"standpipe_rim_flow",
       "flow down a standpipe, the lesser of weir and orifice",
       rim_rows(),
       {{"flow", "m3/s",
         [](const Given& g) {
           return standpipe_rim_flow(length_of(g, "head"), length_of(g, "bore"), rim_of(g), gravity_of(g)).si();
         }},
        {"flow_blended", "m3/s",
         [](const Given& g) {
           return standpipe_rim_flow_blended(length_of(g, "head"), length_of(g, "bore"), rim_of(g), gravity_of(g)).si();
         }}},
       "weir and orifice crossing as in SWMM 5.2"},
      {"drain_hole_flow",
       "flow through a hole in a floor",
       {head_row(), hole_row(), taken("orifice_coefficient", "-", 0.3, 1.0, "Cd", 0.61), gravity_row()},
       {{"flow", "m3/s",
         [](const Given& g) {
           return drain_hole_flow(length_of(g, "head"), length_of(g, "diameter"), number_of(g, "orifice_coefficient"),
                                  gravity_of(g))
               .si();
         }}},
       torricelli},
      {"orifice_discharge_coefficient",
       "Cd from a measured flow",
       {optional("diameter", "m", 1e-3, 3.0, "of the hole"), optional("hole_area", "m2", 0.0, 10.0, "instead"),
        head_row(), flow_row(), gravity_row()},
       {{"orifice_coefficient", "-",
         [](const Given& g) {
           return orifice_discharge_coefficient(flow_of(g), area_of(g, "hole_area", "diameter"), length_of(g, "head"),
                                                gravity_of(g))
               .si();
         }}},
       torricelli},
      {"bottom_orifice_critical_head",
       "head at which a rim turns from weir to orifice",
       {needed("orifice_coefficient", "-", 0.3, 1.0, "Cd"), hole_row(),
        taken("weir_coefficient", "-", 0.3, 0.6, "over sqrt(2g)", 0.414), gravity_row()},
       {{"head", "m",
         [](const Given& g) {
           return bottom_orifice_critical_head(number_of(g, "orifice_coefficient"), length_of(g, "diameter"),
                                               number_of(g, "weir_coefficient"))
               .si();
         }}},
       "SWMM 5.2, link.c"},
      {"tank_drain_time",
       "time for a level to fall through a hole",
       draining_rows(),
       {{"time", "s",
         [](const Given& g) {
           return tank_drain_time(draining_of(g), length_of(g, "level_from"), length_of(g, "level_to"), gravity_of(g))
               .si();
         }}},
       torricelli},
      {"tank_drain_time_ode",
       "the same, followed in time",
       draining_rows(),
       {{"time", "s",
         [](const Given& g) {
           return tank_drain_time_ode(draining_of(g), length_of(g, "level_from"), length_of(g, "level_to"),
                                      gravity_of(g))
               .si();
         }}},
       torricelli},
      {"roof_outlet_weir_flow",
       "flow of a roof outlet as a weir",
       {hole_row(), head_row(), gravity_row()},
       {{"flow", "L/s",
         [](const Given& g) {
           return 1e3 * roof_outlet_weir_flow(length_of(g, "diameter"), length_of(g, "head")).si();
         }}},
       "EN 12056-3:2000"},
      {"roof_outlet_orifice_flow",
       "flow of a roof outlet as an orifice",
       {hole_row(), head_row(), gravity_row()},
       {{"flow", "L/s",
         [](const Given& g) {
           return 1e3 * roof_outlet_orifice_flow(length_of(g, "diameter"), length_of(g, "head")).si();
         }}},
       "EN 12056-3:2000"},
  };
}

std::vector<Entry> drop_entries() {
  return {
      {"drain_froude_number",
       "V/sqrt(gD) of a drop as if it ran full",
       joined({velocity_rows(), {gravity_row()}}),
       {{"j", "-",
         [](const Given& g) {
           return velocity_of(g).si() / std::sqrt(gravity_of(g).si() * length_of(g, "bore").si());
         }}},
       "Hills 1983"},
      {"drain_flow_at",
       "flow of a drop at a V/sqrt(gD)",
       {needed("j", "-", 0.0, 3.0, "V/sqrt(gD)"), bore_row(), gravity_row()},
       {{"flow", "m3/s",
         [](const Given& g) { return drain_flow_at(number_of(g, "j"), length_of(g, "bore"), gravity_of(g)).si(); }}},
       "Hills 1983"},
      {"taylor_bubble_rise",
       "rise of a long bubble in a tube",
       {bore_row(), gravity_row()},
       {{"velocity", "m/s",
         [](const Given& g) { return taylor_bubble_rise(length_of(g, "bore"), gravity_of(g)).si(); }}},
       "Davies and Taylor 1950"},
      {"drainage_stack_capacity",
       "what a vented stack may carry",
       {bore_row(), needed("filled", "-", 0.0, 1.0, "share of the section that is water, as 0.29 or 7/24")},
       {{"flow", "gpm",
         [](const Given& g) {
           return drainage_stack_capacity(length_of(g, "bore"), share_of(g, "filled")).si() * 60.0 / 3.785411784e-3;
         }}},
       "Wyly and Eaton 1961"},
      {"intake_submergence",
       "water needed above an intake",
       joined({velocity_rows(), {gravity_row()}}),
       {{"depth", "m",
         [](const Given& g) { return intake_submergence(velocity_of(g), length_of(g, "bore"), gravity_of(g)).si(); }}},
       "ANSI/HI 9.8"},
      {"air_gap_minimum",
       "air gap under a tap",
       {bore_row()},
       {{"gap", "mm", [](const Given& g) { return air_gap_minimum(length_of(g, "bore")).in(units::millimetre); }}},
       "Water Regs UK"},
      {"sleeve_velocity",
       "upward velocity in the sleeve of a solids-lifting overflow",
       {flow_row(), needed("sleeve_bore", "m", 0.01, 1.0, "inside"),
        needed("standpipe_outside", "m", 0.01, 1.0, "outside diameter of the standpipe")},
       {{"velocity", "m/s",
         [](const Given& g) {
           return sleeve_velocity(flow_of(g), length_of(g, "sleeve_bore"), length_of(g, "standpipe_outside")).si();
         }}},
       "continuity"},
  };
}

}  // namespace

std::vector<Entry> outlet_entries() {
  std::vector<Entry> entries = hole_entries();
  for (Entry& entry : drop_entries()) entries.push_back(std::move(entry));
  return entries;
}

}  // namespace leat::science::hydraulic_entries
