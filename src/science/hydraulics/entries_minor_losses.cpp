#include "science/hydraulics/entries_support.h"
#include "science/hydraulics/friction_factor_forms.h"
#include "science/hydraulics/minor_losses.h"
#include "science/hydraulics/pipe_sizing.h"

namespace leat::science::hydraulic_entries {
namespace {

const std::string_view kCrane = "Crane TP-410 (2009)";

InputRow k_row(std::string_view name, std::string_view meaning) {
  return needed(name, "-", -10.0, 1e5, meaning);
}
InputRow size_row(std::string_view name, std::string_view meaning) {
  return needed(name, "m", 1e-3, 10.0, meaning);
}

Rows tee_rows() {
  return {size_row("run_bore", "bore straight through"), size_row("branch_bore", "bore of the branch"),
          needed("run_flow", "m3/s", 0.0, 100.0, "flow that comes straight"),
          needed("branch_flow", "m3/s", 0.0, 100.0, "flow that comes by the branch"),
          taken("angle", "deg", 30.0, 90.0, "between branch and run", 90.0)};
}

ConvergingTee tee_of(const Given& g) {
  return {length_of(g, "run_bore"), length_of(g, "branch_bore"), flow_of(g, "run_flow"), flow_of(g, "branch_flow"),
          number_of(g, "angle")};
}

Number<> from_equivalent_length(const Given& g) {
  const Number<> diameters = g.numbers.contains("equivalent_diameters")
                                 ? number_of(g, "equivalent_diameters")
                                 : length_of(g, "equivalent_length") / length_of(g, "bore");
  return minor_loss_from_equivalent_length(number_of(g, "friction_factor"), diameters);
}

/// A fitting's loss by its number of diameters at the factor of clean steel, fully rough.
double crane_losses(const Given& g) {
  const Length<> bore = length_of(g, "bore");
  const Number<> steel = friction_factor_rough(Length<>(0.0018 * 0.0254) / bore);
  const double lift_checks = g("lift_checks");
  double k = steel.si() * (30.0 * g("elbows") + 8.0 * g("gate_valves") + 100.0 * g("swing_checks")) + g("exits") +
             0.5 * g("entries") + g("minor_losses");
  // A lift check is often smaller than its pipe, which counts by the fourth power: its seat must be said.
  if (lift_checks > 0.0) k += lift_checks * minor_loss_lift_check(steel, length_of(g, "lift_check_seat"), bore).si();
  return k;
}

double total_head(const Given& g) {
  const PipeRun pipe{length_of(g, "bore"), length_of(g, "length"), roughness_of(g), Number<>(crane_losses(g))};
  return g("lift") + pipe_loss(flow_of(g), pipe, viscosity_of(g), gravity_of(g)).si();
}

Entry total_head_entry() {
  const auto count = [](std::string_view name, std::string_view meaning) {
    return taken(name, "-", 0.0, 1000.0, meaning, 0.0);
  };
  return {
      "pump_total_head",
      "head a pump must give: lift, pipe and fittings by Crane's diameters in clean steel",
      joined({{flow_row(), bore_row(), length_row(), needed("lift", "m", -1e3, 1e3, "outlet over inlet level"),
               count("elbows", "90 degree elbows, 30 diameters"), count("gate_valves", "open, 8 diameters"),
               count("swing_checks", "100 diameters"), count("lift_checks", "600 diameters on the seat"),
               optional("lift_check_seat", "m", 1e-3, 10.0, "bore of the lift check's seat"), count("entries", "K 0.5"),
               count("exits", "K 1"), count("minor_losses", "sum of other K"), gravity_row()},
              roughness_rows(),
              viscosity_rows()}),
      {{"head", "m", total_head}},
      kCrane};
}

}  // namespace

std::vector<Entry> minor_loss_entries() {
  return {
      {"minor_head_loss",
       "head lost in fittings",
       joined({{k_row("minor_losses", "sum of K"), gravity_row()}, velocity_rows()}),
       {{"head_loss", "m",
         [](const Given& g) {
           return minor_head_loss(velocity_of(g), number_of(g, "minor_losses"), gravity_of(g)).si();
         }}},
       kCrane},
      {"minor_loss_flow_coefficient",
       "K as head over the square of the flow",
       {k_row("minor_losses", "sum of K"), bore_row(), gravity_row()},
       {{"coefficient", "s2/m5",
         [](const Given& g) {
           return minor_loss_flow_coefficient(number_of(g, "minor_losses"), length_of(g, "bore"), gravity_of(g)).si();
         }}},
       "EPANET 2.2 User Manual, chapter 12"},
      {"minor_loss_change_basis",
       "the same K on the velocity in another bore",
       {k_row("loss_factor", "K on the first bore"), size_row("bore_from", "bore it belongs to"),
        size_row("bore_to", "bore wanted")},
       {{"loss_factor", "-",
         [](const Given& g) {
           return minor_loss_change_basis(number_of(g, "loss_factor"), length_of(g, "bore_from"),
                                          length_of(g, "bore_to"))
               .si();
         }}},
       kCrane},
      {"minor_loss_sudden_expansion",
       "K of a sudden widening, on the narrow bore",
       {size_row("bore_from", "narrow bore"), size_row("bore_to", "wide bore")},
       {{"loss_factor", "-",
         [](const Given& g) {
           return minor_loss_sudden_expansion(length_of(g, "bore_from"), length_of(g, "bore_to")).si();
         }}},
       "Borda and Carnot, as in Crane TP-410"},
      {"minor_loss_sudden_contraction",
       "K of a sudden narrowing, on the narrow bore",
       {size_row("bore_from", "wide bore"), size_row("bore_to", "narrow bore"), text("method", "Crane")},
       {{"loss_factor", "-",
         [](const Given& g) {
           return minor_loss_sudden_contraction(length_of(g, "bore_from"), length_of(g, "bore_to")).si();
         }}},
       kCrane},
      {"minor_loss_from_equivalent_length",
       "K from a length of straight pipe",
       {optional("equivalent_diameters", "-", 0.0, 1e5, "length over bore"),
        optional("equivalent_length", "m", 0.0, 1e4, "instead, with the bore"),
        optional("bore", "m", 1e-3, 10.0, "inside diameter"),
        needed("friction_factor", "-", 0.0, 1.0, "Darcy friction factor")},
       {{"loss_factor", "-", [](const Given& g) { return from_equivalent_length(g).si(); }}},
       kCrane},
      {"minor_loss_from_kv",
       "K of a valve from its Kv",
       {needed("kv", "m3/h", 1e-3, 1e5, "flow at a loss of 1 bar"), bore_row()},
       {{"loss_factor", "-",
         [](const Given& g) {
           return minor_loss_from_kv(g("kv") * units::cubic_metre_per_hour, length_of(g, "bore")).si();
         }}},
       kCrane},
      {"minor_loss_tee_converging_branch",
       "K for the water that joins by the branch",
       tee_rows(),
       {{"loss_factor", "-", [](const Given& g) { return minor_loss_tee_converging_branch(tee_of(g)).si(); }}},
       kCrane},
      {"minor_loss_tee_converging_run",
       "K for the water that goes straight while a branch joins",
       tee_rows(),
       {{"loss_factor", "-", [](const Given& g) { return minor_loss_tee_converging_run(tee_of(g)).si(); }}},
       kCrane},
      total_head_entry(),
  };
}

}  // namespace leat::science::hydraulic_entries
