// Pumps, pipes and air lines.
#include <algorithm>
#include <cmath>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/hydraulics/minor_losses.h"

namespace leat::model {
namespace {

using namespace units;

int index_among(const auto& list, std::string_view path) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (list[i].path == path) return static_cast<int>(i);
  return -1;
}

int lowest_vessel(const Loop& loop) {
  int lowest = -1;
  for (std::size_t i = 0; i < loop.vessels.size(); ++i)
    if (lowest < 0 || loop.vessels[i].floor < loop.vessels[static_cast<std::size_t>(lowest)].floor)
      lowest = static_cast<int>(i);
  return lowest;
}

std::optional<End> end_of(const Component& c, std::string_view key, const Loop& loop) {
  const Said* said = c.find(key);
  if (!said) return std::nullopt;
  if (const int i = index_among(loop.vessels, said->text); i >= 0) return End{End::What::vessel, i};
  if (const int i = index_among(loop.junctions, said->text); i >= 0) return End{End::What::junction, i};
  if (const int i = index_among(loop.pumps, said->text); i >= 0) return End{End::What::pump, i};
  if (const int i = index_among(loop.valves, said->text); i >= 0) return End{End::What::valve, i};
  return std::nullopt;
}

/// Whole, from 1 to 100; 0 if it is not.
double times_of(std::string_view text) {
  const auto read = read_number(text);
  const double* times = std::get_if<double>(&read);
  return times && *times >= 1.0 && *times <= 100.0 && *times == std::floor(*times) ? *times : 0.0;
}

/// What "2 elbows" or "2x elbow" may have meant: `2 x elbow`, or "".
std::string meant_fitting(std::string_view text) {
  const std::size_t digits = std::min(text.find_first_not_of("0123456789"), text.size());
  std::string_view name = text.substr(digits);
  while (!name.empty() && (name.front() == ' ' || name.front() == 'x')) name.remove_prefix(1);
  name = name.substr(0, name.find_last_not_of('s') + 1);
  if (times_of(text.substr(0, digits)) == 0.0 || !science::find_fitting(name)) return {};
  return fmt::format("{} x {}", text.substr(0, digits), name);
}

/// "3 x elbow" or "elbow" as a sum of K; 0, and a mistake, if it is none.
double loss_of_fitting(Filling& fill, const Component& c, std::string_view text) {
  const std::size_t x = text.find(" x ");
  const std::string_view name = x == std::string_view::npos ? text : text.substr(x + 3);
  const double times = x == std::string_view::npos ? 1.0 : times_of(text.substr(0, x));
  const science::Fitting* fitting = science::find_fitting(name);
  if (fitting && times > 0.0) return times * fitting->k;
  std::string wrong = quoted(text);
  if (fitting)
    wrong +=
        fmt::format(" does not start with a whole number from 1 to 100; write for example \"3 x {}\"", fitting->name);
  else if (const std::string meant = meant_fitting(text); !meant.empty())
    wrong += fmt::format(" cannot be read; write {}", quoted(meant));
  else
    wrong += " is no known fitting" + near_or_all(name, science::fitting_names());
  fill.complain(c, "fittings", std::move(wrong));
  return 0.0;
}

double losses_of(Filling& fill, const Component& c) {
  if (const Said* said = c.find("losses")) {
    if (Filling::has(c, "fittings")) fill.complain(c, "fittings", "stands beside losses; keep one of the two");
    return said->number;
  }
  if (const Said* said = c.find("fittings")) {
    double sum = 0.0;
    for (const std::string& text : said->words) sum += loss_of_fitting(fill, c, text);
    return sum;
  }
  return fill.number(c, "losses", 5.0, "entry, exit and about four bends; list the fittings instead");
}

void curve_of(Filling& fill, const Component& c, Pump& pump) {
  const Said* said = c.find("curve");
  for (const char* other : {"shut_off_head", "largest_flow"})
    if (said && Filling::has(c, other)) {
      fill.complain(c, "curve", fmt::format("stands beside {}; keep one way of saying it", other));
      break;
    }
  const Said* speed_said = c.find("speed");
  const double speed = speed_said ? speed_said->number : 1.0;
  std::vector<science::PumpPoint> points;
  if (said) {
    for (const auto& [q, h] : said->points) points.push_back({Flow<>(q), Length<>(h)});
  } else {
    const Length<> head =
        fill.take<dim::length>(c, "shut_off_head", 3.0 * metre, "3 m", "a common small pump; read its label");
    const Flow<> flow = fill.take<dim::flow>(c, "largest_flow", 3000.0 * litre_per_hour, "3000 L/h",
                                             "a common small pump; read its label");
    points = {{Flow<>(0.0), head}, {flow, Length<>(0.0)}};
  }
  for (science::PumpPoint& point : points) point = {speed * point.flow, speed * speed * point.head};
  auto curve = science::pump_curve_from_points(points);
  if (const auto* bad = std::get_if<science::NoCurve>(&curve))
    fill.complain(c, said ? "curve" : "shut_off_head", bad->wrong);
  else
    pump.curve = std::get<science::PumpCurve>(curve);
}

/// Outside its vessel the level could never be passed, or always would be.
void check_dry_run_level(Filling& fill, const Component& c, const Pump& pump, const Loop& loop) {
  if (pump.vessel < 0 || !Filling::has(c, "dry_run_level") || !Filling::sound(c, {"in"})) return;
  const Vessel& v = loop.vessels[static_cast<std::size_t>(pump.vessel)];
  if (!sound_heights(fill, v) || (pump.dry_run_level >= v.floor && pump.dry_run_level < v.rim)) return;
  fill.complain(c, "dry_run_level",
                fmt::format("{} is not between the floor at {} and the rim at {} of {}; heights are above the common "
                            "mark, not above the floor",
                            quoted(Filling::written(c, "dry_run_level")), metres(v.floor), metres(v.rim), v.path));
}

Pump make_pump(Filling& fill, const Component& c, const Loop& loop) {
  Pump pump;
  pump.path = c.path();
  pump.vessel = vessel_of(fill, c, "in", loop);
  if (pump.vessel < 0) {
    pump.vessel = sump_of(loop);
    fill.assume(c, "in", named(loop, pump.vessel), "pumps sit in the lowest vessel");
  }
  curve_of(fill, c, pump);
  pump.power = fill.said<dim::power>(c, "power");
  if (!pump.power)
    pump.efficiency = fill.number(c, "efficiency", 0.25,
                                  "small pumps reach 0.1 to 0.35 wire to water; measure the watts at the socket");
  else if (Filling::has(c, "efficiency"))
    fill.assume(c, "efficiency", "left aside", "the measured power says more");
  pump.check_valve = fill.flag(c, "check_valve", true);
  if (!Filling::has(c, "check_valve"))
    fill.assume(c, "check_valve", "true", "not said; without one the pipe runs back when the power fails");
  if (!pump.check_valve || Filling::has(c, "stopped_loss"))
    pump.stopped_loss = fill.number(c, "stopped_loss", 4.0, "a small pump that stands still (common practice: 3 to 6)");
  const Vessel* v = pump.vessel < 0 ? nullptr : &loop.vessels[static_cast<std::size_t>(pump.vessel)];
  const Length<> usual = v ? v->floor + std::min(0.10 * metre, 0.25 * v->depth()) : Length<>(0.0);
  pump.dry_run_level = fill.take<dim::length>(c, "dry_run_level", usual, fmt::format("{:.2f} m", usual.si()),
                                              "a small pump sucks air below about 0.1 m");
  check_dry_run_level(fill, c, pump, loop);
  pump.on = fill.flag(c, "on", true);
  switch_pump(fill, c, loop, pump);
  return pump;
}

Pipe make_pipe(Filling& fill, const Component& c, const Loop& loop) {
  Pipe pipe;
  pipe.path = c.path();
  const auto from = end_of(c, "from", loop), to = end_of(c, "to", loop);
  if (!Filling::has(c, "from"))
    fill.complain(c, "from", "is missing; say where the pipe starts, such as from = \"pump.main\"");
  if (!Filling::has(c, "to"))
    fill.complain(c, "to", "is missing; say where the pipe ends, such as to = \"tank.nursery\"");
  pipe.from = from.value_or(End{});
  pipe.to = to.value_or(End{});
  if (from && to && from->what == to->what && from->index == to->index)
    fill.complain(c, "to",
                  fmt::format("{} is where the pipe starts, too; name another part", quoted(c.find("to")->text)));
  pipe.run = run_of(fill, c, loop, 32.0 * millimetre, 5.0 * metre);
  pipe.losses_open = pipe.run.minor_losses;
  pipe.hand_valve = open_valve(c, pipe.run);
  pipe.outlet_level = fill.said<dim::length>(c, "outlet_level");
  if (!pipe.outlet_level && to && to->what == End::What::vessel) {
    const Vessel& v = loop.vessels[static_cast<std::size_t>(to->index)];
    const Length<> over_rim = v.rim + 0.05 * metre;
    const bool too_low =
        from && from->what == End::What::vessel && loop.vessels[static_cast<std::size_t>(from->index)].rim <= over_rim;
    if (!too_low) pipe.outlet_level = over_rim;
    fill.assume(c, "outlet_level", too_low ? "under water" : metres(over_rim),
                too_low ? "above the rim no water would come by itself from the vessel where the pipe starts"
                        : "the water falls in from just above the rim");
  }
  pipe.blocked = fill.flag(c, "blocked", false);
  pipe.inlet_level = fill.said<dim::length>(c, "inlet_level");
  return pipe;
}

/// Heights that a pipe passes, where it does not say: those of its ends.
void set_heights(Filling& fill, Loop& loop) {
  const auto floor_of = [&](int vessel) -> std::optional<Length<>> {
    if (vessel < 0 || static_cast<std::size_t>(vessel) >= loop.vessels.size()) return std::nullopt;
    return loop.vessels[static_cast<std::size_t>(vessel)].floor;
  };
  const auto height = [&](const Pipe& pipe, const End& e, bool is_outlet) -> std::optional<Length<>> {
    const auto& end = is_outlet ? pipe.outlet_level : pipe.inlet_level;
    if (e.what == End::What::vessel) return end ? end : floor_of(e.index);
    if (e.what == End::What::pump) return floor_of(loop.pumps[static_cast<std::size_t>(e.index)].vessel);
    return std::nullopt;
  };
  for (Pipe& pipe : loop.pipes) {
    const auto from = height(pipe, pipe.from, false), to = height(pipe, pipe.to, true);
    const Length<> one = from.value_or(to.value_or(Length<>(0.0))), other = to.value_or(one);
    const Component* c = fill.description().find(pipe.path);
    const auto said = [&](const char* key, Length<> otherwise) {
      return c ? fill.said<dim::length>(*c, key).value_or(otherwise) : otherwise;
    };
    pipe.lowest = said("lowest_level", std::min(one, other));
    pipe.highest = said("highest_level", std::max(one, other));
    if (c && pipe.highest < pipe.lowest)
      fill.complain(*c, "highest_level",
                    fmt::format("{} lies under the pipe's lowest point at {}; heights are above the common mark",
                                metres(pipe.highest), metres(pipe.lowest)));
  }
}

AirLine make_air(Filling& fill, const Component& c, const Loop& loop) {
  AirLine air;
  air.path = c.path();
  air.vessel = vessel_of(fill, c, "to", loop);
  if (!Filling::has(c, "to")) fill.complain(c, "to", "is missing; say which vessel, such as to = \"tank.nursery\"");
  const Flow<> usual = Flow<>(10.0e-3 / 60.0);
  air.flow = fill.take<dim::flow>(c, "flow", usual, "10 L/min", "a common small blower; read its label");
  const Vessel* v = air.vessel < 0 ? nullptr : &loop.vessels[static_cast<std::size_t>(air.vessel)];
  const Length<> deep = v ? std::min(0.5 * metre, 0.8 * v->depth()) : 0.5 * metre;
  air.depth = fill.take<dim::length>(c, "depth", deep, metres(deep), "not said");
  if (v && sound_heights(fill, *v) && air.depth > v->depth() + Length<>(1e-6))
    fill.complain(
        c, "depth",
        fmt::format("{} is deeper than {} itself, which is {} from floor to rim; write how deep the stones lie",
                    quoted(Filling::written(c, "depth")), v->path, metres(v->depth())));
  air.transfer_per_metre = fill.number(
      c, "transfer", 0.02, "coarse stones give 1 to 2 % a metre, fine ones 3 to 6 (common practice, no source)");
  air.power = fill.said<dim::power>(c, "power");
  return air;
}

/// Where a pump that feeds nothing delivers to: the first tank, else the first bed, and its own vessel only if there is
/// no other.
int usual_target(const Loop& loop, int own) {
  for (const VesselKind kind : {VesselKind::tank, VesselKind::raft_bed, VesselKind::gravel_bed})
    for (std::size_t v = 0; v < loop.vessels.size(); ++v)
      if (loop.vessels[v].kind == kind && static_cast<int>(v) != own) return static_cast<int>(v);
  return own;
}

/// A pump that feeds nothing gets one plain pipe, so that a short description still runs.
void assume_delivery(Filling& fill, Loop& loop) {
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    const auto feeds = std::count_if(loop.pipes.begin(), loop.pipes.end(), [&](const Pipe& pipe) {
      return pipe.from.what == End::What::pump && pipe.from.index == static_cast<int>(p);
    });
    const Component* c = fill.description().find(loop.pumps[p].path);
    if (feeds > 1) fill.complain(*c, "", "feeds more than one pipe; let it feed a junction and branch there");
    const int target = usual_target(loop, loop.pumps[p].vessel);
    if (feeds != 0 || target < 0) continue;
    const Vessel& v = loop.vessels[static_cast<std::size_t>(target)];
    fill.assume(*c, "pipe", fmt::format("32 mm, 5 m to {}", v.path), "no pipe from the pump is described");
    loop.pipes.push_back({unused_path(loop.pipes, "pipe.assumed"),
                          {End::What::pump, static_cast<int>(p)},
                          {End::What::vessel, target},
                          {32.0 * millimetre, 5.0 * metre, loop.laws.roughness, Number<>(5.0)},
                          v.rim + 0.05 * metre,
                          false});
  }
}

void check_junctions(Filling& fill, const Loop& loop) {
  for (std::size_t j = 0; j < loop.junctions.size(); ++j) {
    const auto touches = [&](const End& e) { return e.what == End::What::junction && e.index == static_cast<int>(j); };
    const auto ends = std::count_if(loop.pipes.begin(), loop.pipes.end(),
                                    [&](const Pipe& p) { return touches(p.from) || touches(p.to); });
    if (ends < 2)
      fill.complain(*fill.description().find(loop.junctions[j].path), "",
                    fmt::format("is touched by {} pipe{}; a junction joins at least two", ends, ends == 1 ? "" : "s"));
  }
}

}  // namespace

bool sound_heights(const Filling& fill, const Vessel& v) {
  const Component* c = fill.description().find(v.path);
  return c && v.depth().si() > 0.0 && Filling::sound(*c, {"depth", "floor", "rim", "volume", "area"});
}

int sump_of(const Loop& loop) {
  for (std::size_t i = 0; i < loop.vessels.size(); ++i)
    if (loop.vessels[i].kind == VesselKind::sump) return static_cast<int>(i);
  return lowest_vessel(loop);
}

std::string named(const Loop& loop, int vessel) {
  return vessel < 0 ? "none" : loop.vessels[static_cast<std::size_t>(vessel)].path;
}

PipeRun run_of(Filling& fill, const Component& c, const Loop& loop, Length<> bore, Length<> length) {
  PipeRun run;
  run.bore = fill.take<dim::length>(c, "bore", bore, fmt::format("{:g} mm", bore.in(millimetre)),
                                    "not said; measure the inside");
  run.length = fill.take<dim::length>(c, "length", length, fmt::format("{:g} m", length.si()), "not said");
  run.roughness = fill.said<dim::length>(c, "roughness").value_or(loop.laws.roughness);
  run.minor_losses = Number<>(losses_of(fill, c));
  if (const Said* fouling = c.find("fouling")) run = fouled(run, fouling->number);
  return run;
}

int vessel_of(const Filling&, const Component& c, std::string_view key, const Loop& loop) {
  const Said* said = c.find(key);
  return said ? loop.vessel_index(said->text) : -1;
}

void make_plumbing(Filling& fill, Loop& loop) {
  for (const Component* c : fill.description().of_kind("junction")) loop.junctions.push_back({c->path()});
  for (const Component* c : fill.description().of_kind("pump")) loop.pumps.push_back(make_pump(fill, *c, loop));
  make_valves(fill, loop);
  for (const Component* c : fill.description().of_kind("pipe")) loop.pipes.push_back(make_pipe(fill, *c, loop));
  order_outlets(fill, loop);
  make_overflows(fill, loop);
  make_outlets(fill, loop);
  for (const Component* c : fill.description().of_kind("air")) loop.airs.push_back(make_air(fill, *c, loop));
  assume_delivery(fill, loop);
  assume_overflows(fill, loop);
  set_heights(fill, loop);
  check_junctions(fill, loop);
}

}  // namespace leat::model
