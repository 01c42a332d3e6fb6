#include "answers/check.h"

#include <algorithm>
#include <cmath>

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

VesselLevels vessel_levels(const Loop& loop, const Settled& running, const Settled& rest, std::size_t v) {
  const Vessel& vessel = loop.vessels[v];
  VesselLevels r;
  r.path = vessel.path;
  r.running = running.levels[v];
  r.at_rest = rest.levels[v];
  r.freeboard_running = vessel.rim - r.running;
  r.freeboard_at_rest = vessel.rim - r.at_rest;
  r.water = vessel.volume_at(r.running);
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const Pipe& pipe = loop.pipes[i];
    const Flow<> q = running.flows.pipes[i];
    if (pipe.to.what == End::What::vessel && at(pipe.to.index) == v && q.si() > 0.0) r.through += q;
    if (pipe.from.what == End::What::vessel && at(pipe.from.index) == v && q.si() < 0.0) r.through -= q;
  }
  for (std::size_t i = 0; i < loop.overflows.size(); ++i)
    if (at(loop.overflows[i].to) == v) r.through += running.flows.overflows[i];
  if (r.water.si() > 0.0) r.turnover = r.through / r.water;
  return r;
}

PumpPoint pump_point(const Loop& loop, const Plumbing& plumbing, const Settled& running, std::size_t p) {
  const Pump& pump = loop.pumps[p];
  PumpPoint r;
  r.path = pump.path;
  r.flow = running.flows.pumps[p];
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

CheckAnswer check(const model::Loop& loop) {
  const Plumbing plumbing(loop);
  const Settled running = settle(loop, plumbing, levels_at_rest(loop), Setting{true});
  const Settled rest = settle(loop, plumbing, running.levels, Setting{false});
  CheckAnswer a;
  a.loop_name = loop.name;
  a.running_settled = running.settled && running.flows.solved;
  a.ran_dry = running.tripped;
  a.rest_settled = rest.settled && rest.flows.solved;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    a.vessels.push_back(vessel_levels(loop, running, rest, v));
    const bool pumped =
        std::any_of(loop.pumps.begin(), loop.pumps.end(), [&](const Pump& p) { return at(p.vessel) == v; });
    if (pumped && !loop.vessels[v].held_level)
      a.drain_back += loop.vessels[v].volume_at(rest.levels[v]) - loop.vessels[v].volume_at(running.levels[v]);
  }
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    a.pumps.push_back(pump_point(loop, plumbing, running, p));
    a.power += a.pumps.back().power;
  }
  for (const AirLine& air : loop.airs) a.power += air.power.value_or(Power<>(0.0));
  a.yearly = a.power * kYear;
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) a.pipes.push_back(pipe_state(loop, plumbing, running, i));
  for (std::size_t i = 0; i < loop.overflows.size(); ++i)
    a.overflows.push_back(overflow_state(loop, plumbing, running, i));
  judge_plumbing(loop, a);
  a.assumptions = loop.assumptions;
  return a;
}

}  // namespace leat::answers
