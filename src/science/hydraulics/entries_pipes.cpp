#include "science/hydraulics/entries_support.h"
#include "science/hydraulics/friction_factor_forms.h"
#include "science/hydraulics/pipe_sizing.h"

namespace leat::science::hydraulic_entries {
namespace {

using FactorOfBoth = Number<> (*)(Number<>, Number<>);

Entry factor(std::string_view name, std::string_view meaning, std::string_view source, FactorOfBoth relation) {
  return {name,
          meaning,
          joined({reynolds_rows(), roughness_rows()}),
          {{"friction_factor", "-",
            [relation](const Given& g) { return relation(reynolds_of(g), relative_roughness_of(g)).si(); }}},
          source};
}

using FactorOfFlow = Number<> (*)(Number<>);

Entry factor(std::string_view name, std::string_view meaning, std::string_view source, FactorOfFlow relation) {
  return {name,
          meaning,
          reynolds_rows(),
          {{"friction_factor", "-", [relation](const Given& g) { return relation(reynolds_of(g)).si(); }}},
          source};
}

/// The factor given, or the program's own law.
Number<> factor_of(const Given& g) {
  if (g.numbers.contains("friction_factor")) return number_of(g, "friction_factor");
  return friction_factor_bridged(reynolds_of(g), relative_roughness_of(g));
}

Rows factor_rows() {
  return joined(
      {{optional("friction_factor", "-", 0.0, 1.0, "Darcy friction factor")}, reynolds_rows(), roughness_rows()});
}

InputRow head_loss_row() {
  return needed("head_loss", "m", 0.0, 1e4, "head lost along the pipe");
}
InputRow minor_losses_row() {
  return taken("minor_losses", "-", 0.0, 1e5, "sum of K of the fittings", 0.0);
}
Number<> minor_losses_of(const Given& g) {
  return number_of(g, "minor_losses");
}

/// K V^2/2g and friction together, at a factor.
double whole_loss(const Given& g) {
  const Velocity<> v = velocity_of(g);
  const Length<> bore = length_of(g, "bore");
  const double friction = darcy_weisbach_head_loss(v, factor_of(g), length_of(g, "length"), bore, gravity_of(g)).si();
  return friction + minor_losses_of(g).si() * v.si() * v.si() / (2.0 * gravity_of(g).si());
}

double roughness_from_loss(const Given& g) {
  const Length<> bore = length_of(g, "bore");
  const Number<> f = g.numbers.contains("friction_factor")
                         ? number_of(g, "friction_factor")
                         : darcy_weisbach_friction_from_loss(length_of(g, "head_loss"), velocity_of(g),
                                                             length_of(g, "length"), bore, gravity_of(g));
  return colebrook_roughness(f, reynolds_of(g), bore).si();
}

}  // namespace

std::vector<Entry> friction_entries() {
  const std::string_view manual = "EPANET 2.2 User Manual, chapter 12";
  return {
      factor("friction_factor_laminar", "laminar flow, 64/Re", manual, &friction_factor_laminar<double>),
      factor("friction_factor_blasius", "smooth pipe, explicit", "Blasius 1913", &friction_factor_blasius<double>),
      factor("friction_factor_smooth", "smooth pipe", "Prandtl, von Karman, Nikuradse",
             &friction_factor_smooth<double>),
      factor("friction_factor_colebrook", "turbulent flow, solved exactly", "Colebrook 1939",
             &friction_factor_colebrook<double>),
      factor("friction_factor_haaland", "turbulent flow, explicit", "Haaland 1983", &friction_factor_haaland<double>),
      factor("friction_factor_swamee_jain", "turbulent flow, explicit", "Swamee and Jain 1976",
             &friction_factor_swamee_jain<double>),
      factor("friction_factor_churchill", "every Reynolds number, explicit", "Churchill 1977",
             &friction_factor_churchill<double>),
      factor("friction_factor_serghides", "turbulent flow, explicit", "Serghides 1984",
             &friction_factor_serghides<double>),
      factor("friction_factor_zigrang_sylvester_2", "turbulent flow, explicit", "Zigrang and Sylvester 1982",
             &friction_factor_zigrang_sylvester_2<double>),
      factor("friction_factor_transition_cubic", "Reynolds numbers 2000 to 4000", manual,
             &friction_factor_transition_cubic<double>),
      factor("friction_factor_bridged", "the program's own law for every Reynolds number", "Colebrook 1939",
             &friction_factor_bridged<double>),
      {"friction_factor_rough",
       "fully rough pipe",
       roughness_rows(),
       {{"friction_factor", "-", [](const Given& g) { return friction_factor_rough(relative_roughness_of(g)).si(); }}},
       "von Karman"},
  };
}

std::vector<Entry> pipe_entries() {
  const std::string_view darcy = "Darcy and Weisbach, as in EPANET 2.2 User Manual";
  const Rows pipe = joined({{bore_row(), length_row(), gravity_row(), minor_losses_row()}, roughness_rows()});
  return {
      {"darcy_weisbach_head_loss",
       "head lost in a full pipe at a friction factor",
       joined({{bore_row(), length_row(), gravity_row(), minor_losses_row()}, factor_rows()}),
       {{"head_loss", "m", whole_loss}},
       darcy},
      {"pipe_loss",
       "head lost in a full pipe, by the program's own law",
       joined({{flow_row()}, pipe, viscosity_rows()}),
       {{"head_loss", "m",
         [](const Given& g) { return pipe_loss(flow_of(g), pipe_of(g), viscosity_of(g), gravity_of(g)).si(); }},
        {"slope", "s/m2",
         [](const Given& g) { return pipe_loss_slope(flow_of(g), pipe_of(g), viscosity_of(g), gravity_of(g)).si(); }}},
       darcy},
      {"darcy_weisbach_discharge",
       "flow that a head drives through a full pipe",
       joined({{head_loss_row()}, pipe, viscosity_rows()}),
       {{"flow", "m3/s",
         [](const Given& g) {
           return pipe_flow(length_of(g, "head_loss"), pipe_of(g), viscosity_of(g), gravity_of(g)).si();
         }}},
       darcy},
      {"darcy_weisbach_discharge_fixed_f",
       "flow that a head drives, at a fixed friction factor",
       {head_loss_row(), needed("friction_factor", "-", 0.005, 0.2, "Darcy friction factor"), bore_row(), length_row(),
        gravity_row(), minor_losses_row()},
       {{"flow", "m3/s",
         [](const Given& g) {
           return darcy_weisbach_discharge_fixed_f(length_of(g, "head_loss"), number_of(g, "friction_factor"),
                                                   length_of(g, "length"), length_of(g, "bore"), minor_losses_of(g),
                                                   gravity_of(g))
               .si();
         }}},
       darcy},
      {"darcy_weisbach_diameter",
       "bore that loses a given head at a given flow",
       joined({{flow_row(), head_loss_row(), length_row(), needed("roughness", "m", 0.0, 0.01, "roughness"),
                gravity_row(), minor_losses_row()},
               viscosity_rows()}),
       {{"bore", "m",
         [](const Given& g) {
           return darcy_weisbach_diameter(flow_of(g), length_of(g, "head_loss"), length_of(g, "length"),
                                          length_of(g, "roughness"), minor_losses_of(g), viscosity_of(g), gravity_of(g))
               .si();
         }}},
       darcy},
      {"darcy_weisbach_friction_from_loss",
       "friction factor from a measured loss",
       joined({{head_loss_row(), bore_row(), length_row(), gravity_row()}, velocity_rows()}),
       {{"friction_factor", "-",
         [](const Given& g) {
           return darcy_weisbach_friction_from_loss(length_of(g, "head_loss"), velocity_of(g), length_of(g, "length"),
                                                    length_of(g, "bore"), gravity_of(g))
               .si();
         }}},
       darcy},
      {"colebrook_roughness_from_loss",
       "roughness from a measured loss, or from a friction factor",
       joined({{bore_row(), gravity_row(), optional("head_loss", "m", 0.0, 1e4, "measured loss"),
                optional("length", "m", 0.0, 1e5, "between the two heads"),
                optional("friction_factor", "-", 0.0, 1.0, "instead of loss and length")},
               reynolds_rows()}),
       {{"roughness", "m", roughness_from_loss}},
       "Colebrook 1939"},
      {"swamee_jain_discharge",
       "flow that a head drives, explicit",
       joined({{head_loss_row(), bore_row(), length_row(), gravity_row()}, roughness_rows(), viscosity_rows()}),
       {{"flow", "m3/s",
         [](const Given& g) {
           return swamee_jain_discharge(length_of(g, "head_loss"), length_of(g, "length"), length_of(g, "bore"),
                                        roughness_of(g), viscosity_of(g), gravity_of(g))
               .si();
         }}},
       "Swamee and Jain 1976"},
      {"hazen_williams_head_loss",
       "head lost, for comparison only",
       {flow_row(), needed("coefficient", "-", 1.0, 160.0, "Hazen-Williams C"), bore_row(), length_row()},
       {{"head_loss", "m",
         [](const Given& g) {
           return hazen_williams_head_loss(flow_of(g), number_of(g, "coefficient"), length_of(g, "bore"),
                                           length_of(g, "length"))
               .si();
         }}},
       "EPANET 2.2 User Manual, table 3.1"},
      {"system_curve_coefficient",
       "head over the square of the flow, at one flow",
       joined({{flow_row()}, pipe, viscosity_rows()}),
       {{"coefficient", "s2/m5",
         [](const Given& g) {
           return system_curve_coefficient(flow_of(g), pipe_of(g), viscosity_of(g), gravity_of(g)).si();
         }},
        {"coefficient_ft", "ft/(ft3/s)^2",
         [](const Given& g) {
           return system_curve_coefficient(flow_of(g), pipe_of(g), viscosity_of(g), gravity_of(g)).si() /
                  foot_per_flow_squared;
         }}},
       darcy},
  };
}

}  // namespace leat::science::hydraulic_entries
