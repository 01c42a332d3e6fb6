#include <fmt/core.h>

#include "science/hydraulics/entries_support.h"
#include "science/hydraulics/pump_scaling.h"

namespace leat::science::hydraulic_entries {
namespace {

const std::string_view kCrane = "Crane TP-410 (2009)";
const std::string_view kManual = "EPANET 2.2 User Manual, section 3.2";
constexpr int kMostPoints = 8;

Rows speed_rows() {
  return {needed("speed_from", "rpm", 1.0, 1e5, "first speed"), needed("speed_to", "rpm", 1.0, 1e5, "other speed")};
}
Frequency<> speed_of(const Given& g, std::string_view name) {
  return Frequency<>(g(name) / 60.0);
}
InputRow head_row() {
  return needed("head", "m", 0.0, 1e4, "head of the pump");
}
InputRow share(std::string_view name, std::string_view meaning) {
  return taken(name, "-", 0.01, 1.0, meaning, 1.0);
}

Rows point_rows() {
  Rows rows{text("fit", "least_squares")};
  for (int i = 1; i <= kMostPoints; ++i) {
    rows.push_back(optional(kept(fmt::format("flow_{}", i)), "m3/s", 0.0, 100.0, "flow of a point"));
    rows.push_back(optional(kept(fmt::format("head_{}", i)), "m", 0.0, 1e4, "head of a point"));
  }
  return rows;
}

std::vector<PumpPoint> points_of(const Given& g) {
  std::vector<PumpPoint> points;
  for (int i = 1; i <= kMostPoints; ++i) {
    const std::string flow = fmt::format("flow_{}", i), head = fmt::format("head_{}", i);
    if (g.numbers.contains(flow)) points.push_back({flow_of(g, flow), length_of(g, head)});
  }
  if (points.size() < 2) throw std::out_of_range("flow_2");
  return points;
}

/// The curve through the points; none if they make none.
const PumpCurve curve_of(const Given& g) {
  const auto curve = pump_curve_from_points(points_of(g));
  if (const auto* none = std::get_if<NoCurve>(&curve)) throw std::out_of_range(none->wrong);
  return std::get<PumpCurve>(curve);
}

Power<> power_of(const Given& g) {
  if (g.numbers.contains("power")) return Power<>(g("power"));
  const Number<> efficiency(g("efficiency") * g("motor_efficiency") * g("drive_efficiency"));
  return pump_power(flow_of(g), length_of(g, "head"), Density<>(g("density")), efficiency, gravity_of(g));
}

Rows power_rows() {
  return {optional("flow", "m3/s", 0.0, 100.0, "flow"),
          optional("head", "m", 0.0, 1e4, "head of the pump"),
          taken("density", "kg/m3", 500.0, 2000.0, "density", 998.2),
          share("efficiency", "of the pump, or wire to water"),
          share("motor_efficiency", "of the motor"),
          share("drive_efficiency", "of the drive"),
          gravity_row()};
}

double relative_head(double flow_ratio) {
  return pump_head_parabola(Flow<>(flow_ratio), Length<>(4.0 / 3.0), Flow<>(2.0)).si();
}

double head_by_one_point(const Given& g) {
  const Flow<> best = flow_of(g, "best_flow");
  return pump_head_parabola(flow_of(g), 4.0 / 3.0 * length_of(g, "best_head"), 2.0 * best).si();
}

Flow<> operating_flow(const Given& g) {
  return pump_operating_flow_quadratic({length_of(g, "head_at_rest"), HeadPerFlowSquared<>(odd_unit_number(g, "bend"))},
                                       length_of(g, "lift"), HeadPerFlowSquared<>(odd_unit_number(g, "resistance")));
}

std::vector<Entry> scaling_entries() {
  return {
      {"affinity_flow",
       "flow at another speed",
       joined({{flow_row()}, speed_rows()}),
       {{"flow", "m3/s",
         [](const Given& g) {
           return affinity_flow(flow_of(g), speed_of(g, "speed_from"), speed_of(g, "speed_to")).si();
         }}},
       kCrane},
      {"affinity_head",
       "head at another speed",
       joined({{head_row()}, speed_rows()}),
       {{"head", "m",
         [](const Given& g) {
           return affinity_head(length_of(g, "head"), speed_of(g, "speed_from"), speed_of(g, "speed_to")).si();
         }}},
       kCrane},
      {"affinity_power",
       "power at another speed",
       joined({{needed("power", "W", 0.0, 1e6, "power at the first speed")}, speed_rows()}),
       {{"power", "W",
         [](const Given& g) {
           return affinity_power(Power<>(g("power")), speed_of(g, "speed_from"), speed_of(g, "speed_to")).si();
         }}},
       kCrane},
      {"pump_specific_speed",
       "n sqrt(Q)/H^0.75 in turns a minute, m3/s and m",
       {flow_row(), head_row(), needed("speed", "rpm", 1.0, 1e5, "speed")},
       {{"specific_speed", "-",
         [](const Given& g) {
           return pump_specific_speed(flow_of(g), length_of(g, "head"), speed_of(g, "speed")).si();
         }}},
       "Crane TP-410 (2009)"},
      {"pump_power",
       "power that a pump draws",
       power_rows(),
       {{"power", "W", [](const Given& g) { return power_of(g).si(); }}},
       kCrane},
      {"pump_running_cost",
       "money for a year of running",
       joined({power_rows(),
               {optional("power", "W", 0.0, 1e6, "measured power, instead of flow and head"),
                taken("hours", "h/y", 0.0, 8766.0, "running time in a year", 8766.0),
                needed("price", "$/kWh", 0.0, 10.0, "price of a kWh")}}),
       {{"cost", "$/y",
         [](const Given& g) {
           return pump_running_cost(power_of(g), g("hours") * units::hour, number_of(g, "price")).si();
         }}},
       kCrane},
  };
}

}  // namespace

std::vector<Entry> pump_entries() {
  std::vector<Entry> entries = scaling_entries();
  const auto bend = [](const Given& g) { return pump_curve_fit_quadratic(points_of(g)).bend.si(); };
  entries.push_back(
      {"pump_curve_fit_quadratic",
       "H = a + c Q^2 through points, least squares",
       point_rows(),
       {{"head_at_rest", "m", [](const Given& g) { return pump_curve_fit_quadratic(points_of(g)).at_rest.si(); }},
        {"bend", "s2/m5", bend},
        {"bend_ft", "ft/(ft3/s)^2", [bend](const Given& g) { return bend(g) / foot_per_flow_squared; }}},
       "Maurer and Embry 2025"});
  entries.push_back({"pump_curve_head",
                     "head at a flow, by the curve through the points",
                     joined({{flow_row()}, point_rows()}),
                     {{"head", "m", [](const Given& g) { return pump_head(curve_of(g), flow_of(g)).si(); }}},
                     kManual});
  entries.push_back({"pump_curve_single_point",
                     "head of a pump known by its best point alone: 4/3 of the head at rest, twice the flow at most",
                     {needed("best_flow", "m3/s", 0.0, 100.0, "flow at the best point"),
                      needed("best_head", "m", 0.0, 1e4, "head at the best point"),
                      optional("flow", "m3/s", 0.0, 200.0, "flow in question")},
                     {{"head", "m", head_by_one_point},
                      {"relative_head_at_0.5", "-", [](const Given&) { return relative_head(0.5); }},
                      {"relative_head_at_1.5", "-", [](const Given&) { return relative_head(1.5); }}},
                     kManual});
  entries.push_back({"pump_operating_point",
                     "where H = a + c Q^2 meets lift + K Q^2",
                     {needed("head_at_rest", "m", 0.0, 1e4, "a"), text("bend", "c, below 0; bare is s2/m5"),
                      needed("lift", "m", -1e3, 1e4, "outlet over inlet level"), text("resistance", "K of the pipes")},
                     {{"flow", "m3/s", [](const Given& g) { return operating_flow(g).si(); }},
                      {"head", "m",
                       [](const Given& g) {
                         const double q = operating_flow(g).si();
                         return g("lift") + odd_unit_number(g, "resistance") * q * q;
                       }}},
                     "Maurer and Embry 2025"});
  return entries;
}

}  // namespace leat::science::hydraulic_entries
