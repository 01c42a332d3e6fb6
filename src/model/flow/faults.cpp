#include "model/flow/faults.h"

#include <algorithm>

namespace leat::model {
namespace {

using numerics::Then;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

auto by_path(auto& list, const std::string& path) {
  return std::find_if(list.begin(), list.end(), [&](const auto& part) { return part.path == path; });
}

/// Does something with the part of that path in each list that has one.
void with_part(Loop& loop, const std::string& path, auto&& act) {
  const auto in = [&](auto& list) {
    if (const auto part = by_path(list, path); part != list.end()) act(*part);
  };
  in(loop.pipes), in(loop.overflows), in(loop.siphons), in(loop.drain_holes), in(loop.weirs), in(loop.returns);
}

/// Where burst pipes empty to: far below everything, and so large that it takes all.
int add_ground(Loop& loop) {
  Vessel ground;
  ground.path = "ground";
  Length<> lowest(0.0);
  for (const Vessel& v : loop.vessels) lowest = std::min(lowest, v.floor);
  ground.floor = lowest - Length<>(2.0);
  ground.held_level = ground.floor + Length<>(0.5);
  ground.rim = lowest - Length<>(1.0);
  ground.area = Area<>(1e4);
  loop.vessels.push_back(ground);
  return static_cast<int>(loop.vessels.size()) - 1;
}

PipeRun half_of(PipeRun run) {
  run.length = 0.5 * run.length;
  run.minor_losses = 0.5 * run.minor_losses + Number<>(0.5);
  return run;
}

/// Both ends of a burst pipe run out at its lowest point.
void burst_pipe(Loop& loop, Pipe& pipe, int ground) {
  Pipe back;
  back.path = pipe.path + "_back";
  back.from = pipe.to;
  back.to = {End::What::vessel, ground};
  back.run = half_of(pipe.run);
  back.outlet_level = pipe.lowest;
  if (pipe.to.what == End::What::vessel) back.inlet_level = pipe.outlet_level;
  pipe.to = {End::What::vessel, ground};
  pipe.run = half_of(pipe.run);
  pipe.outlet_level = pipe.lowest;
  loop.pipes.push_back(back);  // last: `pipe` may move
}

void burst_part(Loop& loop, const std::string& path, int ground) {
  if (const auto o = by_path(loop.overflows, path); o != loop.overflows.end()) {
    o->to = ground;
    if (o->back) o->back = half_of(*o->back);
    o->outlet_level = std::nullopt;
  } else if (const auto r = by_path(loop.returns, path); r != loop.returns.end()) {
    r->to = ground;
  } else if (const auto pipe = by_path(loop.pipes, path); pipe != loop.pipes.end()) {
    burst_pipe(loop, *pipe, ground);
  }
}

void stick_valve(Loop& loop, const std::string& path, int outlet) {
  const auto valve = by_path(loop.valves, path);
  if (valve == loop.valves.end()) return;
  valve->stuck = true;
  valve->first = outlet;
}

void open_top_ups(Loop& loop) {
  for (Source& source : loop.sources)
    if (source.top_up != TopUp::none) source.stuck_open = true;
}

/// Half the openings: four times the loss of the return, and half the rim.
void half_block(Overflow& o) {
  o.rim_coefficient *= 0.5;
  if (o.sleeve) o.sleeve->loss *= 4.0;
  if (o.back) o.back->minor_losses = 4.0 * o.back->minor_losses;
}

void add_blockages(const Loop& loop, Fault::Kind kind, std::vector<Fault>& all) {
  const auto each = [&](const auto& list) {
    for (const auto& part : list) all.push_back({kind, part.path});
  };
  each(loop.overflows), each(loop.siphons), each(loop.returns), each(loop.weirs);
  if (kind == Fault::Kind::blocked_and_open) return;
  each(loop.drain_holes);
  for (const Pipe& pipe : loop.pipes)
    if (pipe.from.what == End::What::vessel) all.push_back({kind, pipe.path});
}

bool stops_power(Fault::Kind kind) {
  return kind == Fault::Kind::power || kind == Fault::Kind::power_and_valves || kind == Fault::Kind::check_valve;
}

/// What enters a vessel by pipe or passage.
Flow<> inflow(const Loop& loop, const Plumbing& plumbing, const Flows& f, std::size_t v) {
  Flow<> q{};
  for (std::size_t i = 0; i < loop.pipes.size(); ++i)
    if (loop.pipes[i].to.what == End::What::vessel && at(loop.pipes[i].to.index) == v)
      q += std::max(f.pipes[i], Flow<>(0.0));
  for (const Passage& p : plumbing.passages(f))
    if (p.to >= 0 && at(p.to) == v) q += p.flow;
  return q;
}

/// A tenth of a litre a minute no longer counts as being fed.
const Flow<> kTrickle(0.1e-3 / 60.0);

}  // namespace

Volume<> FaultRun::lost() const {
  Volume<> sum = burst;
  for (const Volume<> v : spilled) sum += v;
  return sum;
}

std::vector<Fault> possible_faults(const Loop& loop) {
  using Kind = Fault::Kind;
  std::vector<Fault> all{{Kind::power, "power"}};
  const bool any_valve = std::any_of(loop.pumps.begin(), loop.pumps.end(), [](const Pump& p) { return p.check_valve; });
  if (any_valve) all.push_back({Kind::power_and_valves, "power"});
  if (loop.pumps.size() > 1)
    for (const Pump& pump : loop.pumps) all.push_back({Kind::pump, pump.path});
  for (const Pump& pump : loop.pumps)
    if (pump.check_valve && loop.pumps.size() > 1) all.push_back({Kind::check_valve, pump.path});
  add_blockages(loop, Kind::blocked, all);
  for (const Overflow& o : loop.overflows) all.push_back({Kind::half_blocked, o.path});
  for (const SequencingValve& valve : loop.valves)
    for (std::size_t k = 0; k < valve.outlets.size(); ++k)
      all.push_back({Kind::valve_stuck, valve.path, static_cast<int>(k)});
  const bool tops_up = std::any_of(loop.sources.begin(), loop.sources.end(),
                                   [](const Source& s) { return s.top_up != TopUp::none && s.float_level; });
  if (tops_up) {
    all.push_back({Kind::top_up_open, "top-up"});
    add_blockages(loop, Kind::blocked_and_open, all);
  }
  for (const Pipe& pipe : loop.pipes) all.push_back({Kind::burst, pipe.path});
  for (const Overflow& o : loop.overflows)
    if (o.back) all.push_back({Kind::burst, o.path});
  for (const GravityReturn& r : loop.returns) all.push_back({Kind::burst, r.path});
  return all;
}

FaultyLoop with_fault(const Loop& loop, const Fault& fault) {
  using Kind = Fault::Kind;
  FaultyLoop f{loop, -1};
  switch (fault.kind) {
    case Kind::power:
      break;
    case Kind::power_and_valves:
      for (Pump& pump : f.loop.pumps) pump.check_valve = false;
      break;
    case Kind::check_valve:
      by_path(f.loop.pumps, fault.path)->check_valve = false;
      break;
    case Kind::pump:
      by_path(f.loop.pumps, fault.path)->on = false;
      break;
    case Kind::blocked_and_open:
      open_top_ups(f.loop);
      [[fallthrough]];
    case Kind::blocked:
      with_part(f.loop, fault.path, [](auto& part) { part.blocked = true; });
      break;
    case Kind::half_blocked:
      half_block(*by_path(f.loop.overflows, fault.path));
      break;
    case Kind::valve_stuck:
      stick_valve(f.loop, fault.path, fault.outlet);
      break;
    case Kind::top_up_open:
      open_top_ups(f.loop);
      break;
    case Kind::burst:
      f.ground = add_ground(f.loop);
      burst_part(f.loop, fault.path, f.ground);
      break;
  }
  return f;
}

FaultRun run_fault(const Loop& loop, const Fault& fault, const WaterState& before, const FaultTimes& times) {
  const FaultyLoop faulty = with_fault(loop, fault);
  const Plumbing plumbing(faulty.loop);
  // The switches as they stand, on the loop with its fault: it may have a pipe or a vessel more.
  std::vector<Length<>> levels = before.levels;
  if (faulty.ground >= 0) levels.push_back(*faulty.loop.vessels[at(faulty.ground)].held_level);
  WaterState start = water_at(faulty.loop, levels);
  start.clock = before.clock;
  start.setting.primed = before.setting.primed;
  start.setting.tripped = before.setting.tripped;
  start.setting.siphoning = before.setting.siphoning;
  start.float_off = before.float_off;
  start.timer_off = before.timer_off;
  start.setting.stopped = before.setting.stopped;
  start.valves = before.valves;
  if (fault.kind != Fault::Kind::valve_stuck) start.setting.turn = before.setting.turn;
  WaterPlan plan{times.span};
  plan.tolerance = 2e-6;  // m: centimetres and minutes are asked of a failure
  if (stops_power(fault.kind)) plan.power.push_back({Duration<>(0.0), false});
  if (times.returns) plan.power.push_back({*times.returns, true});
  if (times.fails_again) plan.power.push_back({*times.fails_again, false});

  FaultRun r;
  r.fault = fault;
  r.span = times.span;
  r.before = before.levels;
  r.fed_until.assign(loop.vessels.size(), std::nullopt);
  WaterRun run = run_water(plumbing, start, plan, [&](const WaterStep& step) {
    const Flows& flows = step.flows(step.to);
    for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
      const bool fed = inflow(faulty.loop, plumbing, flows, v) > kTrickle;
      if (fed)
        r.fed_until[v] = std::nullopt;
      else if (!r.fed_until[v])
        r.fed_until[v] = step.from;
    }
    return Then::go_on;
  });
  r.finished = run.finished;
  r.said = run.said;
  r.events = std::move(run.events);
  const std::size_t n = loop.vessels.size();
  r.after.assign(run.end.levels.begin(), run.end.levels.begin() + static_cast<std::ptrdiff_t>(n));
  r.marks.assign(run.marks.begin(), run.marks.begin() + static_cast<std::ptrdiff_t>(n));
  r.spilled.assign(run.spilled.begin(), run.spilled.begin() + static_cast<std::ptrdiff_t>(n));
  if (faulty.ground >= 0) r.burst = run.into_held[at(faulty.ground)];
  r.topped_up = run.topped_up;
  r.missing = run.missing;
  for (const WaterEvent& e : r.events) {
    if (e.what == WaterChange::spill_begins && !r.spills_after) {
      r.spills_after = e.at;
      r.first_spill = loop.vessel_index(e.path);
    }
    if (e.what == WaterChange::pump_runs_dry && !r.dry_after) {
      r.dry_after = e.at;
      r.dry_pump = e.path;
    }
  }
  return r;
}

std::vector<WaterState> hurting_states(const Plumbing& plumbing, const Cycle& cycle) {
  std::vector<WaterState> states{cycle.start};
  if (cycle.kind == Cycle::Kind::steady || cycle.kind == Cycle::Kind::none) return states;
  // The moments at which something switches are those at which a vessel is at its fullest or its emptiest.
  std::vector<double> moments;
  for (const WaterEvent& e : cycle.events)
    if (moments.empty() || e.at.si() > moments.back() + 1.0) moments.push_back(e.at.si());
  constexpr std::size_t kMost = 8;
  const std::size_t every = std::max<std::size_t>(1, (moments.size() + kMost - 1) / kMost);
  WaterState state = cycle.start;
  double now = 0.0;
  for (std::size_t i = 0; i < moments.size(); i += every) {
    // Just after it has switched.
    state = run_water(plumbing, state, {Duration<>(moments[i] + 1e-3 - now)}).end;
    now = moments[i] + 1e-3;
    states.push_back(state);
  }
  return states;
}

}  // namespace leat::model
