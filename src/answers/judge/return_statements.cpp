// What carries water back: gravity returns, pipes that carry fish waste, high points, hand valves.
#include <fmt/core.h>

#include <algorithm>
#include <numbers>

#include "answers/judge/plumbing_statements.h"
#include "answers/sizing.h"
#include "base/words/quantities.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

void return_carries_its_worst_inflow(const CheckStudy& study, CheckAnswer& a) {
  if (study.fouled.kind == Cycle::Kind::none) return;
  for (std::size_t i = 0; i < study.loop.returns.size(); ++i) {
    const GravityReturn& r = study.loop.returns[i];
    const Flow<> q = study.fouled.most.returns[i];
    const auto head_of = [](const Plumbing& plumbing, const GravityReturn& pipe, Flow<> flow) {
      return flow.si() > 1e-9 ? plumbing.mouth_head(pipe, flow) : Length<>(0.0);
    };
    Finding f{"return_carries_its_worst_inflow",
              r.path,
              "freeboard",
              head_of(study.fouled_plumbing, study.fouled_loop.returns[i], q).si(),
              r.run.bore.si(),
              false,
              {},
              {},
              {},
              "the mouth stays open, and the pipe less than three quarters full: common practice, no source"};
    f.verdict = verdict_of(f.margin(), 0.25 * f.limit);
    f.reason = fmt::format("{} makes the water stand {} over the bottom of its mouth, {:.0f} % of the bore",
                           shown_text("flow", q.si()), shown_text("freeboard", f.value), 100.0 * f.value / f.limit);
    if (f.verdict != Verdict::good)
      f.action = smallest_pipe(
          study.loop, science::drain_pipes(), r.run.bore,
          [&](Loop& other, Length<> bore) { other.returns[i].run.bore = bore; },
          [&](const Plumbing& plumbing, const Cycle& cycle) {
            const GravityReturn& wider = plumbing.loop().returns[i];
            return cycle.kind != Cycle::Kind::none &&
                   head_of(plumbing, wider, cycle.most.returns[i]) <= 0.75 * wider.run.bore;
          });
    a.findings.push_back(f);
  }
}

/// Water from a fish tank carries what must not settle on the way.
void solids_keep_moving(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind == Cycle::Kind::none) return;
  const auto is_tank = [&](int v) { return study.loop.vessels[at(v)].kind == VesselKind::tank; };
  const auto judge = [&](const std::string& path, Flow<> q, Length<> bore) {
    if (q.si() <= 0.0) return;
    const double v = science::pipe_velocity(q, bore).si();
    Finding f{"solids_keep_moving",
              path,
              "velocity",
              v,
              0.3,
              true,
              {},
              {},
              {},
              "0.3 m/s, as if full (Timmons and Ebeling, from memory); sewers are laid for 0.6"};
    f.verdict = v >= 0.3 ? Verdict::good : Verdict::tight;
    f.reason = fmt::format("the water from the fish runs at {} at its slowest", shown_text("velocity", v));
    if (v < 0.3) f.action = "a narrower pipe or more flow; else flush it by hand now and then";
    a.findings.push_back(f);
  };
  for (std::size_t i = 0; i < study.loop.overflows.size(); ++i) {
    const Overflow& o = study.loop.overflows[i];
    if (is_tank(o.from) && o.back) judge(o.path, study.cycle.least.overflows[i], o.back->bore);
  }
  for (std::size_t i = 0; i < study.loop.returns.size(); ++i)
    if (is_tank(study.loop.returns[i].from))
      judge(study.loop.returns[i].path, study.cycle.least.returns[i], study.loop.returns[i].run.bore);
  for (std::size_t i = 0; i < study.loop.pipes.size(); ++i) {
    const Pipe& pipe = study.loop.pipes[i];
    if (pipe.from.what == End::What::vessel && is_tank(pipe.from.index))
      judge(pipe.path, study.cycle.least.pipes[i], pipe.run.bore);
  }
}

/// Head at the two ends of a pipe while it carries most.
Length<> lower_end_head(const CheckStudy& study, const Flows& flows, const std::vector<Length<>>& levels,
                        const Pipe& pipe) {
  const auto head = [&](const End& e, bool outlet) {
    switch (e.what) {
      case End::What::junction:
        return flows.junction_heads[at(e.index)];
      case End::What::pump:
        return flows.pump_outlet_heads[at(e.index)];
      case End::What::valve:
        return outlet ? flows.valve_inlet_heads[at(e.index)] : flows.valve_outlet_heads[at(e.index)];
      case End::What::vessel:
        break;
    }
    const Length<> level = levels[at(e.index)];
    return outlet && pipe.outlet_level ? std::max(*pipe.outlet_level, level) : level;
  };
  (void)study;
  return std::min(head(pipe.from, false), head(pipe.to, true));
}

void high_points_keep_their_pressure(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind == Cycle::Kind::none) return;
  const std::vector<Length<>>& levels = study.cycle.start.levels;
  const Flows flows = study.plumbing.flows(levels, study.cycle.start.setting);
  if (!flows.solved) return;
  for (const Pipe& pipe : study.loop.pipes) {
    const double pressure = (lower_end_head(study, flows, levels, pipe) - pipe.highest).si();
    if (pressure > -0.05) continue;  // its highest point is an end, or lies under water
    Finding f{"high_points_keep_their_pressure",
              pipe.path,
              "head",
              pressure,
              -0.5,
              true,
              {},
              {},
              {},
              "0.5 m of suction at most in thin hose: common practice, no source"};
    f.verdict = pressure < -0.5 ? Verdict::bad : Verdict::tight;
    f.reason = fmt::format("its highest point lies {} over the head at its lower end: air gathers there",
                           shown_text("freeboard", -pressure));
    f.action = "let it rise all the way, or vent its highest point";
    a.findings.push_back(f);
  }
}

/// A hand valve may be found fully open or shut one day.
void hand_valves_may_be_turned(const CheckStudy& study, CheckAnswer& a) {
  for (std::size_t i = 0; i < study.loop.pipes.size(); ++i) {
    if (!study.loop.pipes[i].hand_valve) continue;
    std::string starved;
    for (const bool open : {true, false}) {
      Loop other = study.loop;
      if (open)
        other.pipes[i].run.minor_losses = other.pipes[i].losses_open;
      else
        other.pipes[i].blocked = true;
      const Plumbing plumbing(other);
      const Cycle cycle = find_cycle(plumbing, water_at_rest(other));
      if (cycle.kind == Cycle::Kind::none) continue;
      for (std::size_t v = 0; v < other.vessels.size(); ++v)
        if (other.vessels[v].kind == VesselKind::tank && study.cycle.kind != Cycle::Kind::none &&
            study.cycle.vessels[v].through.si() > 1e-7 && cycle.vessels[v].through.si() < 1e-7)
          starved += fmt::format("{}{} gets nothing with it {}", starved.empty() ? "" : "; ", other.vessels[v].path,
                                 open ? "wide open" : "shut");
    }
    Finding f{"hand_valves_may_be_turned",
              study.loop.pipes[i].path,
              "flow",
              starved.empty() ? 1.0 : 0.0,
              0.0,
              true,
              starved.empty() ? Verdict::good : Verdict::tight,
              starved.empty() ? "wide open or shut, every tank still gets water" : starved,
              starved.empty() ? "" : "mark its place on the handle, or fit a stop",
              "both ends solved"};
    a.findings.push_back(f);
  }
}

}  // namespace

void judge_returns(const CheckStudy& study, CheckAnswer& a) {
  return_carries_its_worst_inflow(study, a);
  solids_keep_moving(study, a);
  high_points_keep_their_pressure(study, a);
  hand_valves_may_be_turned(study, a);
}

}  // namespace leat::answers
