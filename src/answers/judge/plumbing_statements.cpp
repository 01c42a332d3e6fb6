#include "answers/judge/plumbing_statements.h"

#include <fmt/core.h>

#include <algorithm>

#include "base/words/quantities.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

void tank_turns_over_often_enough(const Loop& loop, CheckAnswer& a) {
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
    f.verdict = verdict_of(f.margin(), 0.1 * f.limit);
    f.reason = fmt::format("its water is changed {} by {}", shown_text("turnover", f.value),
                           shown_text("flow", a.vessels[v].through.si()));
    if (f.verdict == Verdict::bad)
      f.action = fmt::format("it needs {} at least: a larger pump, a wider pipe, or fewer bends",
                             shown_text("flow", f.limit * a.vessels[v].water.si()));
    a.findings.push_back(f);
  }
}

void water_stays_below_brim(const Loop& loop, CheckAnswer& a) {
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

void pump_never_runs_dry(const Loop& loop, CheckAnswer& a) {
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    const Pump& pump = loop.pumps[p];
    const VesselLevels& level = a.vessels[static_cast<std::size_t>(pump.vessel)];
    Finding f{"pump_never_runs_dry",
              pump.path,
              "level",
              level.running.si(),
              pump.dry_run_level.si(),
              true,
              {},
              {},
              {},
              "50 mm over the trip level: common practice, no source"};
    f.verdict = verdict_of(f.margin(), 0.05);
    f.reason = fmt::format("running, the water stands {} over the level at which it sucks air",
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

void pump_works_within_its_curve(const Loop& loop, CheckAnswer& a) {
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    if (!loop.pumps[p].on) continue;
    const PumpPoint& point = a.pumps[p];
    const double share = point.share_of_largest;
    Finding f{"pump_works_within_its_curve",
              point.path,
              "flow",
              point.flow.si(),
              loop.pumps[p].curve.largest().si() * (share > 0.5 ? 0.85 : 0.15),
              share <= 0.5,
              {},
              {},
              {},
              "not in the last 15 % at either end: common practice, no source"};
    f.verdict = verdict_of(f.margin(), 0.0);
    if (f.verdict == Verdict::bad) f.verdict = Verdict::tight;
    f.reason = fmt::format("it delivers {} against {}, {:.0f} % of its largest flow",
                           shown_text("flow", point.flow.si()), shown_text("head", point.head.si()), 100.0 * share);
    if (point.flow.si() <= 0.0) {
      f.verdict = Verdict::bad;
      f.reason = fmt::format("it delivers nothing: {} does not lift the water over its outlet",
                             shown_text("head", loop.pumps[p].curve.shutoff().si()));
      f.action = "a pump with a higher shut-off head, or a lower outlet";
    } else if (f.verdict == Verdict::tight) {
      f.action = share > 0.5 ? "a larger pump, or throttle it" : "a pump with more head, or wider pipes";
    }
    a.findings.push_back(f);
  }
}

void rim_is_not_drowned(const Loop& loop, CheckAnswer& a) {
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

void drain_does_not_gulp(const Loop& loop, CheckAnswer& a) {
  for (std::size_t i = 0; i < loop.overflows.size(); ++i) {
    const OverflowState& o = a.overflows[i];
    if (o.falling <= 0.3) continue;
    Finding f{"drain_does_not_gulp",
              o.path,
              "flow",
              o.flow.si(),
              o.flow.si() * 0.3 / o.falling,
              false,
              Verdict::tight,
              {},
              {},
              "Hills 1983, V/sqrt(gD) at most 0.3 lets air rise against the water"};
    f.reason = fmt::format("V/sqrt(gD) is {:.2f} in the falling part: it may gulp and gurgle", o.falling);
    f.action = loop.overflows[i].vented ? "keep its vent clear; a wider standpipe would be quiet"
                                        : "fit a vent tee at its top; unvented it can empty the vessel as a siphon";
    a.findings.push_back(f);
  }
}

void flow_lifts_solids(const Loop& loop, CheckAnswer& a) {
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

void pipe_is_not_too_fast(const Loop& loop, CheckAnswer& a) {
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const double v = std::abs(a.pipes[i].velocity.si());
    if (v <= 1.5) continue;
    Finding f{"pipe_is_not_too_fast",
              a.pipes[i].path,
              "velocity",
              v,
              2.0,
              false,
              {},
              {},
              {},
              "1.5 m/s wanted, 2.0 the limit (EN 806, from memory)"};
    f.verdict = v > 2.0 ? Verdict::bad : Verdict::tight;
    f.reason = fmt::format("the water runs at {}: noise, and head lost", shown_text("velocity", v));
    f.action = "the next wider pipe";
    a.findings.push_back(f);
  }
}

void every_outlet_gets_water(const Loop& loop, CheckAnswer& a) {
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

void judge_plumbing(const model::Loop& loop, CheckAnswer& a) {
  using Statement = void (*)(const Loop&, CheckAnswer&);
  for (const Statement statement :
       {tank_turns_over_often_enough, water_stays_below_brim, pump_never_runs_dry, pump_works_within_its_curve,
        rim_is_not_drowned, drain_does_not_gulp, flow_lifts_solids, pipe_is_not_too_fast, every_outlet_gets_water})
    statement(loop, a);
  std::stable_sort(a.findings.begin(), a.findings.end(), [](const Finding& x, const Finding& y) {
    const auto rank = [](Verdict v) {
      return v == Verdict::bad ? 0 : v == Verdict::tight ? 1 : v == Verdict::cannot_tell ? 2 : 3;
    };
    return rank(x.verdict) < rank(y.verdict);
  });
}

}  // namespace leat::answers
