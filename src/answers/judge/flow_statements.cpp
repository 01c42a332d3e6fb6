// What the running water does: turnover, levels, pumps, rims, solids, speed.
#include "answers/judge/plumbing_statements.h"

#include <fmt/core.h>

#include <algorithm>

#include "answers/sizing.h"
#include "base/words/quantities.h"
#include "science/hydraulics/drops.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

void tank_turns_over_often_enough(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (loop.vessels[v].kind != VesselKind::tank) continue;
    Finding f{"tank_turns_over_often_enough",
              a.vessels[v].path,
              "turnover",
              a.vessels[v].turnover.si(),
              loop.limits.turnover_low.si(),
              true,
              {},
              {},
              {},
              "FAO technical paper 589, from memory: 1 to 2 per hour for fish tanks"};
    if (study.fouled.kind != Cycle::Kind::none && study.fouled.vessels[v].turnover.si() < f.value)
      f.value = study.fouled.vessels[v].turnover.si();
    f.verdict = verdict_of(f.margin(), 0.1 * f.limit);
    f.reason = fmt::format("its water is changed {} by {}, and {} once the pipes are fouled",
                           shown_text("turnover", a.vessels[v].turnover.si()),
                           shown_text("flow", a.vessels[v].through.si()), shown_text("turnover", f.value));
    if (f.verdict == Verdict::bad)
      f.action = fmt::format("it needs {} at least: a larger pump, a wider pipe, or fewer bends",
                             shown_text("flow", f.limit * a.vessels[v].water.si()));
    a.findings.push_back(f);
  }
}

void water_stays_below_brim(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (loop.vessels[v].held_level) continue;
    const VesselLevels& level = a.vessels[v];
    const bool at_rest = level.freeboard_at_rest < level.freeboard_running;
    Finding f{"water_stays_below_brim",
              level.path,
              "freeboard",
              std::min(level.freeboard_at_rest, level.freeboard_running).si(),
              loop.limits.freeboard.si(),
              true,
              {},
              {},
              {},
              "50 mm: common practice, no source"};
    f.verdict = f.value < 0.0 ? Verdict::bad : verdict_of(f.margin(), 0.0);
    if (f.verdict == Verdict::bad && f.value >= 0.0) f.verdict = Verdict::tight;
    f.reason = fmt::format("{} lies between the water and its brim {}", shown_text("freeboard", f.value),
                           at_rest ? "after a power cut" : "with the pumps running");
    if (f.value < 0.0)
      f.action = at_rest ? fmt::format("it spills {:.0f} L when the power fails: fill less, or make it larger",
                                       -f.value * loop.vessels[v].water_area().si() * 1e3)
                         : "it spills while running: a lower or wider overflow, or less flow";
    else if (f.verdict == Verdict::tight)
      f.action = "fill a little less, or raise the brim";
    a.findings.push_back(f);
  }
}

void pump_never_runs_dry(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    const Pump& pump = loop.pumps[p];
    const VesselLevels& level = a.vessels[static_cast<std::size_t>(pump.vessel)];
    Finding f{"pump_never_runs_dry",
              pump.path,
              "level",
              level.lowest.si(),
              pump.dry_run_level.si(),
              true,
              {},
              {},
              {},
              "50 mm over the trip level: common practice, no source"};
    f.verdict = verdict_of(f.margin(), 0.05);
    f.reason = fmt::format("running, the water stands {} at least over the level at which it sucks air",
                           shown_text("freeboard", f.margin()));
    if (a.ran_dry[p]) {
      f.verdict = Verdict::bad;
      f.value = f.limit;
      f.reason = "the water runs out before the vessels have filled: it sucks air and stops";
    }
    if (f.verdict != Verdict::good) f.action = fmt::format("add water to {}, or set the pump lower", level.path);
    a.findings.push_back(f);
  }
}

void pump_works_within_its_curve(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    if (!loop.pumps[p].on) continue;
    const PumpPoint& point = a.pumps[p];
    const double largest = loop.pumps[p].curve.largest().si();
    const bool fast = point.most.si() / largest > 0.85 || point.share_of_largest > 0.5;
    const double share = (fast ? point.most : point.least).si() / largest;
    Finding f{"pump_works_within_its_curve",
              point.path,
              "flow",
              share * largest,
              largest * (fast ? 0.85 : 0.15),
              !fast,
              {},
              {},
              {},
              "not in the last 15 % at either end: common practice, no source"};
    f.verdict = verdict_of(f.margin(), 0.0);
    if (f.verdict == Verdict::bad) f.verdict = Verdict::tight;
    f.reason =
        fmt::format("it delivers {} against {}, {:.0f} % of its largest flow", shown_text("flow", point.flow.si()),
                    shown_text("head", point.head.si()), 100.0 * point.share_of_largest);
    if (point.flow.si() <= 0.0) {
      f.verdict = Verdict::bad;
      f.reason = a.ran_dry[p] ? std::string("it delivers nothing: it has run dry")
                              : fmt::format("it delivers nothing: {} does not lift the water over its outlet",
                                            shown_text("head", loop.pumps[p].curve.shutoff().si()));
      f.action = a.ran_dry[p] ? "more water where it stands, or less of it held in the beds and pipes"
                              : "a pump with a higher shut-off head, or a lower outlet";
    } else if (f.verdict == Verdict::tight) {
      f.action = fast ? "a larger pump, or throttle it" : "a pump with more head, or wider pipes";
    }
    a.findings.push_back(f);
  }
}

void rim_is_not_drowned(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t i = 0; i < loop.overflows.size(); ++i) {
    const OverflowState& o = a.overflows[i];
    if (o.flow.si() <= 0.0) continue;
    Finding f{"rim_is_not_drowned",
              o.path,
              "level",
              o.standpipe_level.si(),
              loop.overflows[i].rim.si(),
              false,
              {},
              {},
              {},
              "50 mm clear: common practice, no source"};
    f.verdict = verdict_of(f.margin(), 0.05);
    f.reason = fmt::format("the water stands {} under the rim in its standpipe", shown_text("freeboard", f.margin()));
    if (f.verdict != Verdict::good) f.action = "a wider or shorter return, or a higher rim";
    a.findings.push_back(f);
  }
}

/// Whether the grower said that the top of this overflow is open.
bool vent_was_said(const Loop& loop, const std::string& path) {
  return std::none_of(loop.assumptions.begin(), loop.assumptions.end(),
                      [&](const Assumption& assumed) { return assumed.path == path + ".vented"; });
}

void drain_does_not_gulp(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t i = 0; i < loop.overflows.size(); ++i) {
    const OverflowState& o = a.overflows[i];
    const Overflow& overflow = loop.overflows[i];
    if (o.flow.si() <= 0.0) continue;
    const double most = overflow.vented ? 0.9 : 0.3;
    Finding f{"drain_does_not_gulp",
              o.path,
              "flow",
              o.flow.si(),
              o.flow.si() * most / o.falling,
              false,
              o.falling <= 0.3 || (overflow.vented && vent_was_said(loop, o.path) && o.falling <= 0.9) ? Verdict::good
              : o.falling <= most                                                                      ? Verdict::tight
                                                                                                       : Verdict::bad,
              {},
              {},
              "Hills 1983: V/sqrt(gD) at most 0.3 lets air rise; vented to 0.9, Wyly and Eaton 1961 (from memory)"};
    f.reason = fmt::format(
        "V/sqrt(gD) is {:.2f} in the falling part{}", o.falling,
        o.falling <= 0.3  ? ": air can rise against the water"
        : overflow.vented ? vent_was_said(loop, o.path) ? ", and its top is open" : ", and its top is taken to be open"
                          : ": it may gulp and gurgle");
    if (f.verdict == Verdict::tight)
      f.action = overflow.vented ? "make sure that its top is open, and say vented = true; else it gulps"
                                 : "fit a vent tee at its top";
    if (f.verdict == Verdict::bad)
      f.action = smallest_pipe(
          loop, science::drain_pipes(), overflow.standpipe_bore,
          [&](Loop& other, Length<> bore) {
            other.overflows[i].standpipe_bore = bore;
            if (auto& sleeve = other.overflows[i].sleeve; sleeve && sleeve->standpipe_outside <= bore)
              sleeve = std::nullopt;
          },
          [&](const Plumbing& plumbing, const Cycle& cycle) {
            const Length<> bore = plumbing.loop().overflows[i].standpipe_bore;
            return cycle.kind != Cycle::Kind::none &&
                   science::drain_froude_number(cycle.most.overflows[i], bore).si() <= most;
          });
    a.findings.push_back(f);
  }
}

void flow_lifts_solids(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t i = 0; i < loop.overflows.size(); ++i) {
    if (!loop.overflows[i].sleeve) continue;
    const OverflowState& o = a.overflows[i];
    Finding f{"flow_lifts_solids",
              o.path,
              "velocity",
              o.sleeve_velocity.si(),
              0.10,
              true,
              {},
              {},
              {},
              "trout solids settle at 0.02, faeces at 0.01 to 0.06 m/s; 0.10 m/s is common practice"};
    f.verdict = f.value >= 0.10 ? Verdict::good : f.value >= 0.06 ? Verdict::tight : Verdict::bad;
    f.reason = fmt::format("water rises in the sleeve at {}", shown_text("velocity", f.value));
    if (f.verdict != Verdict::good) f.action = "a narrower sleeve, or more flow";
    a.findings.push_back(f);
  }
}

void pipe_is_not_too_fast(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const double v = std::abs(a.pipes[i].velocity.si());
    Finding f{"pipe_is_not_too_fast",
              a.pipes[i].path,
              "velocity",
              v,
              2.0,
              false,
              v > 2.0   ? Verdict::bad
              : v > 1.5 ? Verdict::tight
                        : Verdict::good,
              fmt::format("the water runs at {}{}", shown_text("velocity", v), v > 1.5 ? ": noise, and head lost" : ""),
              {},
              "1.5 m/s wanted, 2.0 the limit (EN 806, from memory)"};
    if (v > 1.5)
      f.action = smallest_pipe(
          loop, science::pressure_pipes(), loop.pipes[i].run.bore,
          [&](Loop& other, Length<> bore) { other.pipes[i].run.bore = bore; },
          [&](const Plumbing& plumbing, const Cycle& cycle) {
            return cycle.kind != Cycle::Kind::none &&
                   science::pipe_velocity(cycle.most.pipes[i], plumbing.loop().pipes[i].run.bore).si() <= 1.5;
          });
    a.findings.push_back(f);
  }
}

void every_outlet_gets_water(const CheckStudy& study, CheckAnswer& a) {
  const Loop& loop = study.loop;
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const Pipe& pipe = loop.pipes[i];
    if (pipe.blocked || pipe.to.what != End::What::vessel || a.pipes[i].flow.si() > 1e-9) continue;
    const bool any_pump = std::any_of(loop.pumps.begin(), loop.pumps.end(), [](const Pump& p) { return p.on; });
    if (!any_pump) continue;
    a.findings.push_back({"every_outlet_gets_water", a.pipes[i].path, "flow", a.pipes[i].flow.si(), 0.0, true,
                          Verdict::bad, "nothing comes out: the pressure at its branch does not reach its outlet",
                          "throttle the wider branches, or lower this outlet", "one-way outlets, resolved"});
  }
}

}  // namespace

void judge_flows(const CheckStudy& study, CheckAnswer& a) {
  using Statement = void (*)(const CheckStudy&, CheckAnswer&);
  for (const Statement statement :
       {tank_turns_over_often_enough, water_stays_below_brim, pump_never_runs_dry, pump_works_within_its_curve,
        rim_is_not_drowned, drain_does_not_gulp, flow_lifts_solids, pipe_is_not_too_fast, every_outlet_gets_water})
    statement(study, a);
}

}  // namespace leat::answers
