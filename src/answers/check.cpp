#include "answers/check.h"

#include <algorithm>
#include <cmath>

#include "answers/check_study.h"
#include "answers/judge/plumbing_statements.h"
#include "science/hydraulics/friction_factor.h"

namespace leat::answers {
namespace {

using namespace model;

/// 8766 hours: a year with its share of leap days.
constexpr Duration<> kYear = 8766.0 * units::hour;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

VesselLevels vessel_levels(const Plumbing& plumbing, const Settled& running, const Settled& rest, std::size_t v) {
  const Loop& loop = plumbing.loop();
  const Vessel& vessel = loop.vessels[v];
  VesselLevels r;
  r.path = vessel.path;
  r.running = r.lowest = running.levels[v];
  r.at_rest = rest.levels[v];
  r.water = vessel.volume_at(r.running);
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const Pipe& pipe = loop.pipes[i];
    const Flow<> q = running.flows.pipes[i];
    if (pipe.to.what == End::What::vessel && at(pipe.to.index) == v && q.si() > 0.0) r.through += q;
    if (pipe.from.what == End::What::vessel && at(pipe.from.index) == v && q.si() < 0.0) r.through -= q;
  }
  for (const Passage& p : plumbing.passages(running.flows))
    if (p.to >= 0 && at(p.to) == v) r.through += p.flow;
  return r;
}

PumpPoint pump_point(const Loop& loop, const Plumbing& plumbing, const Settled& running, std::size_t p) {
  const Pump& pump = loop.pumps[p];
  PumpPoint r;
  r.path = pump.path;
  r.flow = r.least = r.most = running.flows.pumps[p];
  r.head = plumbing.pump_head(pump, r.flow);
  r.power_measured = pump.power.has_value();
  r.power = pump.on ? pump.power.value_or(science::pump_power(r.flow, r.head, loop.laws.density,
                                                              Number<>(pump.efficiency), loop.laws.gravity))
                    : Power<>(0.0);
  r.yearly = r.power * kYear;
  r.share_of_largest = (r.flow / pump.curve.largest()).si();
  return r;
}

PipeState pipe_state(const Loop& loop, const Plumbing& plumbing, const Settled& running, std::size_t i) {
  const Pipe& pipe = loop.pipes[i];
  PipeState r;
  r.path = pipe.path;
  r.flow = running.flows.pipes[i];
  r.velocity = science::pipe_velocity(r.flow, pipe.run.bore);
  const Number<> reynolds = science::pipe_reynolds(r.flow, pipe.run.bore, loop.laws.viscosity);
  r.reynolds = reynolds.si();
  if (r.reynolds > 1e-6)
    r.friction_factor = science::friction_factor_bridged(reynolds, pipe.run.roughness / pipe.run.bore).si();
  r.loss = plumbing.loss(pipe.run, r.flow);
  return r;
}

/// Level of a vessel when it is fed more than now: what its own overflow then needs, or as now if it has none.
Length<> level_when_fed(const Loop& loop, const Plumbing& plumbing, const Settled& running, std::size_t vessel,
                        Flow<> more) {
  for (std::size_t i = 0; i < loop.overflows.size(); ++i) {
    const Overflow& o = loop.overflows[i];
    const Flow<> q = running.flows.overflows[i] + more;
    if (at(o.from) == vessel && running.flows.overflows[i].si() > 0.0)
      return o.rim + plumbing.head_over_rim(o, q) + plumbing.sleeve_loss(o, q);
  }
  return running.levels[vessel];
}

OverflowState overflow_state(const Loop& loop, const Plumbing& plumbing, const Settled& running, std::size_t i) {
  const Overflow& o = loop.overflows[i];
  const Length<> receiving = running.levels[at(o.to)];
  OverflowState r;
  r.path = o.path;
  r.flow = running.flows.overflows[i];
  r.over_rim = plumbing.head_over_rim(o, r.flow);
  r.sleeve_loss = plumbing.sleeve_loss(o, r.flow);
  if (o.sleeve) {
    const double gap =
        M_PI / 4.0 * (std::pow(o.sleeve->bore.si(), 2.0) - std::pow(o.sleeve->standpipe_outside.si(), 2.0));
    r.sleeve_velocity = Velocity<>(r.flow.si() / gap);
  }
  r.standpipe_level = plumbing.standpipe_level(o, r.flow, receiving);
  r.drowns_at = plumbing.drowning_flow(
      o, [&](Flow<> q) { return level_when_fed(loop, plumbing, running, at(o.to), q - r.flow); });
  r.falling = (science::pipe_velocity(r.flow, o.standpipe_bore).si()) /
              std::sqrt(loop.laws.gravity.si() * o.standpipe_bore.si());
  return r;
}

}  // namespace

Verdict verdict_of(double margin, double room) {
  if (margin < -0.1 * room) return Verdict::bad;  // a hair beyond is within what one run can tell

  return margin < room ? Verdict::tight : Verdict::good;
}

namespace {

bool switches(const Cycle& cycle) {
  return cycle.kind == Cycle::Kind::periodic || cycle.kind == Cycle::Kind::mean;
}

/// The worst of a cycle as if it stood still: highest levels, largest flows.
Settled worst_of(const Cycle& cycle) {
  Settled s;
  s.settled = true;
  s.flows = cycle.most;
  for (const VesselCycle& v : cycle.vessels) s.levels.push_back(v.high);
  s.tripped = cycle.start.setting.tripped;
  return s;
}

/// What a cycle says of vessels and pumps on the mean.
void take_means(const Loop& loop, const Plumbing& plumbing, const Cycle& cycle, CheckAnswer& a) {
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const VesselCycle& c = cycle.vessels[v];
    a.vessels[v].lowest = c.low;
    a.vessels[v].water = c.mean_water;
    a.vessels[v].through = c.through;
  }
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    PumpPoint& point = a.pumps[p];
    point.running = cycle.running[p];
    if (cycle.running[p] <= 0.0) continue;
    point.flow = cycle.mean.pumps[p] / cycle.running[p];
    point.least = cycle.least.pumps[p];
    point.most = cycle.most.pumps[p];
    point.head = plumbing.pump_head(loop.pumps[p], point.flow);
    point.share_of_largest = (point.flow / loop.pumps[p].curve.largest()).si();
    if (!point.power_measured)
      point.power = science::pump_power(point.flow, point.head, loop.laws.density, Number<>(loop.pumps[p].efficiency),
                                        loop.laws.gravity);
    point.yearly = point.running * (point.power * kYear);
  }
}

CycleSummary summary_of(const Loop& loop, const Plumbing& plumbing, const Cycle& cycle) {
  CycleSummary s;
  s.switches = switches(cycle);
  s.periodic = cycle.kind == Cycle::Kind::periodic;
  s.said = cycle.said;
  if (!cycle.hunting.empty()) s.said = cycle.hunting.front() + " switches on and off all the time; its mean was taken";
  s.period = cycle.period;
  if (s.switches) s.averaging = why_not_averaged(loop, plumbing, cycle);
  Flow<> all{};
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::gravel_bed && cycle.kind != Cycle::Kind::none) {
      s.beds.push_back({loop.vessels[v].path, cycle.vessels[v].wet_share, cycle.vessels[v].through, 0.0});
      all += cycle.vessels[v].through;
    }
  for (CycleSummary::Bed& bed : s.beds)
    if (all.si() > 0.0) bed.share_of_flow = (bed.through / all).si();
  return s;
}

/// Levels after a power cut at the moment that hurts each vessel most.
Settled rest_after_cycle(const Loop& loop, const Cycle& cycle, const std::vector<FaultRun>& faults, CheckAnswer& a) {
  Settled rest;
  rest.settled = true;
  rest.levels = cycle.start.levels;
  for (const FaultRun& run : faults) {
    if (run.fault.kind != Fault::Kind::power) continue;
    rest.settled = rest.settled && run.finished;
    for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
      rest.levels[v] = std::max(rest.levels[v], run.marks[v].high);
      const bool pumped =
          std::any_of(loop.pumps.begin(), loop.pumps.end(), [&](const Pump& p) { return at(p.vessel) == v; });
      if (pumped && !loop.vessels[v].held_level)
        a.drain_back = std::max(a.drain_back, loop.vessels[v].water_area() * (run.after[v] - run.before[v]));
    }
  }
  return rest;
}

void take_parts(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Settled& rest,
                CheckAnswer& a) {
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) a.vessels.push_back(vessel_levels(plumbing, running, rest, v));
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) a.pumps.push_back(pump_point(loop, plumbing, running, p));
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) a.pipes.push_back(pipe_state(loop, plumbing, running, i));
  for (std::size_t i = 0; i < loop.overflows.size(); ++i)
    a.overflows.push_back(overflow_state(loop, plumbing, running, i));
  for (const Passage& p : plumbing.passages(running.flows))
    if (p.to >= 0) a.passages.push_back({*p.path, p.flow});
}

void take_steady(const Loop& loop, const Plumbing& plumbing, CheckAnswer& a) {
  const Settled running = settle(loop, plumbing, levels_at_rest(loop), Setting{true});
  const Settled rest = settle(loop, plumbing, running.levels, Setting{false});
  a.running_settled = running.settled && running.flows.solved;
  a.ran_dry = running.tripped;
  a.rest_settled = rest.settled && rest.flows.solved;
  take_parts(loop, plumbing, running, rest, a);
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const bool pumped =
        std::any_of(loop.pumps.begin(), loop.pumps.end(), [&](const Pump& p) { return at(p.vessel) == v; });
    if (pumped && !loop.vessels[v].held_level)
      a.drain_back += loop.vessels[v].volume_at(rest.levels[v]) - loop.vessels[v].volume_at(running.levels[v]);
  }
}

/// Every fault once; power cuts at each moment of the cycle that may hurt.
std::vector<FaultRun> fault_runs(const Loop& loop, const Plumbing& plumbing, const Cycle& cycle) {
  std::vector<FaultRun> runs;
  if (cycle.kind == Cycle::Kind::none) return runs;
  const std::vector<WaterState> states = hurting_states(plumbing, cycle);
  for (const Fault& fault : possible_faults(loop)) {
    const bool power = fault.kind == Fault::Kind::power || fault.kind == Fault::Kind::power_and_valves;
    for (const WaterState& state : states) {
      runs.push_back(run_fault(loop, fault, state));
      if (!power) break;
    }
  }
  return runs;
}

}  // namespace

CheckAnswer check(const model::Loop& loop) {
  const Plumbing plumbing(loop);
  const Loop fouled = fouled_loop(loop, kFouling);
  const Plumbing fouled_plumbing(fouled);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  const Cycle fouled_cycle = find_cycle(fouled_plumbing, water_at_rest(fouled));
  CheckStudy study{loop,
                   plumbing,
                   fouled,
                   fouled_plumbing,
                   cycle,
                   fouled_cycle,
                   fault_runs(loop, plumbing, cycle),
                   mobile_water(loop, cycle)};
  CheckAnswer a;
  a.loop_name = loop.name;
  a.cycle = summary_of(loop, plumbing, cycle);
  if (switches(cycle)) {
    const Settled running = worst_of(cycle), rest = rest_after_cycle(loop, cycle, study.faults, a);
    a.ran_dry = running.tripped;
    take_parts(loop, plumbing, running, rest, a);
    take_means(loop, plumbing, cycle, a);
  } else {
    take_steady(loop, plumbing, a);
    if (!cycle.said.empty()) a.running_settled = false;
  }
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    VesselLevels& level = a.vessels[v];
    level.freeboard_running = loop.vessels[v].rim - level.running;
    level.freeboard_at_rest = loop.vessels[v].rim - level.at_rest;
    if (level.water.si() > 0.0) level.turnover = level.through / level.water;
  }
  for (const PumpPoint& point : a.pumps) {
    a.power += point.running * point.power;
    a.yearly += point.yearly;
  }
  for (const AirLine& air : loop.airs) {
    a.power += air.power.value_or(Power<>(0.0));
    a.yearly += air.power.value_or(Power<>(0.0)) * kYear;
  }
  a.mobile = study.mobile;
  judge_plumbing(study, a);
  a.assumptions = loop.assumptions;
  return a;
}

}  // namespace leat::answers
