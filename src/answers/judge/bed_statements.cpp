// Beds that flood and drain: siphons, drain holes, timers, sequencing valves.
#include <fmt/core.h>

#include <algorithm>

#include "answers/judge/plumbing_statements.h"
#include "base/words/quantities.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

void siphon_is_well_inside_its_window(const CheckStudy& study, CheckAnswer& a) {
  for (std::size_t i = 0; i < study.loop.siphons.size(); ++i) {
    const Siphon& s = study.loop.siphons[i];
    if (s.blocked || study.cycle.kind == Cycle::Kind::none) continue;
    const Flow<> q = inflow_while_fed(study.plumbing, study.cycle, s.from);
    const Flow<> low = study.plumbing.priming_flow(s);
    const Flow<> high = study.plumbing.full_flow(i, s.break_level, study.loop.vessels[at(s.to)].floor);
    const bool near_low = q.si() / low.si() < 0.5 * high.si() / q.si() * 1.5;
    Finding f{
        "siphon_is_well_inside_its_window",
        s.path,
        "flow",
        q.si(),
        (near_low ? 1.5 * low : 0.5 * high).si(),
        near_low,
        {},
        {},
        {},
        "1.5 times the flow that starts it, half of what it still carries at its break: common practice, no source"};
    const bool outside = q <= low || q >= high;
    f.verdict = outside ? Verdict::bad : f.margin() < 0.0 ? Verdict::tight : Verdict::good;
    f.reason = fmt::format("it is fed {}; below {} it dribbles for ever, above {} it never breaks{}",
                           shown_text("flow", q.si()), shown_text("flow", low.si()), shown_text("flow", high.si()),
                           1.25 * q >= high || 0.75 * q <= low ? ", and a quarter more or less puts it there" : "");
    if (f.verdict != Verdict::good)
      f.action =
          near_low ? fmt::format("feed it {} or more, or fit a narrower standpipe", shown_text("flow", 1.5 * low.si()))
                   : fmt::format("feed it {} or less, or fit a wider siphon", shown_text("flow", 0.5 * high.si()));
    a.findings.push_back(f);
  }
}

/// What a siphon lets go at its start is the peak that its sump must take.
void siphons_may_dump_together(const CheckStudy& study, CheckAnswer& a) {
  if (study.loop.siphons.empty() || study.cycle.kind == Cycle::Kind::none) return;
  std::vector<Volume<>> dumped(study.loop.vessels.size(), Volume<>(0.0));
  std::vector<Flow<>> peak(study.loop.vessels.size(), Flow<>(0.0));
  for (std::size_t i = 0; i < study.loop.siphons.size(); ++i) {
    const Siphon& s = study.loop.siphons[i];
    const Vessel& bed = study.loop.vessels[at(s.from)];
    dumped[at(s.to)] += bed.water_area() * (s.rim - s.break_level);
    peak[at(s.to)] += study.plumbing.full_flow(i, s.rim, study.loop.vessels[at(s.to)].floor);
  }
  for (std::size_t v = 0; v < dumped.size(); ++v) {
    if (dumped[v].si() <= 0.0 || study.loop.vessels[v].held_level) continue;
    const Vessel& vessel = study.loop.vessels[v];
    const Length<> highest = study.cycle.vessels[v].low + dumped[v] / vessel.water_area();
    const Length<> level = std::max(highest, study.cycle.vessels[v].high);
    Finding f{"siphons_may_dump_together",
              vessel.path,
              "freeboard",
              (vessel.rim - level).si(),
              study.loop.limits.freeboard.si(),
              true,
              {},
              {},
              {},
              "50 mm: common practice, no source"};
    f.verdict = f.value < 0.0 ? Verdict::bad : f.margin() < 0.0 ? Verdict::tight : Verdict::good;
    f.reason = fmt::format("if all that drain to it dump at once, {} at {} at first, {} of brim is left",
                           shown_text("water", dumped[v].si()), shown_text("flow", peak[v].si()),
                           shown_text("freeboard", f.value));
    if (f.verdict != Verdict::good)
      f.action = fmt::format("a vessel with {} more, or less water in the loop",
                             shown_text("water", -f.margin() * vessel.water_area().si()));
    a.findings.push_back(f);
  }
}

void bed_keeps_a_dry_top(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind == Cycle::Kind::none) return;
  for (std::size_t v = 0; v < study.loop.vessels.size(); ++v) {
    const Vessel& bed = study.loop.vessels[v];
    if (bed.kind != VesselKind::gravel_bed) continue;
    const double under = (bed.rim - study.cycle.vessels[v].high).si();
    Finding f{"bed_keeps_a_dry_top",
              bed.path,
              "freeboard",
              under,
              0.02,
              true,
              {},
              {},
              {},
              "20 to 50 mm of dry gravel (FAO technical paper 589, from memory)"};
    f.verdict = under < 0.0 ? Verdict::bad : under < 0.02 ? Verdict::tight : Verdict::good;
    f.reason = fmt::format("the water comes to {} under the brim", shown_text("freeboard", under));
    if (f.verdict != Verdict::good) f.action = "a lower standpipe, or a wider one";
    a.findings.push_back(f);
  }
}

/// A bed that is meant to drain is empty before the next flood.
void bed_drains_before_its_next_flood(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind != Cycle::Kind::periodic) return;
  for (const DrainHole& hole : study.loop.drain_holes) {
    const Vessel& bed = study.loop.vessels[at(hole.from)];
    const VesselCycle& c = study.cycle.vessels[at(hole.from)];
    if ((c.high - c.low).si() < 0.02 || hole.blocked) continue;
    const double left = (c.low - hole.level).si();
    Finding f{"bed_drains_before_its_next_flood",
              hole.path,
              "freeboard",
              left,
              0.02,
              false,
              {},
              {},
              {},
              "empty before the next flood: common practice, no source"};
    f.verdict = left <= 0.02 ? Verdict::good : Verdict::tight;
    f.reason = fmt::format("{} still stands in {} when the next flood comes", shown_text("freeboard", left), bed.path);
    if (left > 0.02) f.action = "a wider hole, or a longer pause";
    a.findings.push_back(f);
  }
}

/// The flow through one outlet of a valve with its feeding vessel at the lowest of the cycle, fouled.
Flow<> outlet_flow(const CheckStudy& study, std::size_t valve, std::size_t outlet) {
  WaterState state = study.fouled.start;
  for (std::size_t v = 0; v < state.levels.size(); ++v) state.levels[v] = study.fouled.vessels[v].low;
  std::fill(state.setting.stopped.begin(), state.setting.stopped.end(), false);
  std::fill(state.setting.tripped.begin(), state.setting.tripped.end(), false);
  state.setting.turn[valve] = static_cast<int>(outlet);
  const Flows f = study.fouled_plumbing.flows(state.levels, state.setting);
  return f.pipes[at(study.loop.valves[valve].outlets[outlet])];
}

void valve_lifts_at_every_outlet(const CheckStudy& study, CheckAnswer& a) {
  if (study.fouled.kind == Cycle::Kind::none) return;
  for (std::size_t v = 0; v < study.loop.valves.size(); ++v) {
    const SequencingValve& valve = study.loop.valves[v];
    std::size_t worst = 0;
    Flow<> least(1.0);
    for (std::size_t k = 0; k < valve.outlets.size(); ++k)
      if (const Flow<> q = outlet_flow(study, v, k); q < least) {
        least = q;
        worst = k;
      }
    const std::string& outlet = study.loop.pipes[at(valve.outlets[worst])].path;
    Finding f{"valve_lifts_at_every_outlet",
              valve.path,
              "flow",
              least.si(),
              1.2 * valve.lift_flow.si(),
              true,
              {},
              {},
              {},
              "a fifth over the maker's lift flow: common practice, no source"};
    f.verdict = least < valve.lift_flow ? Verdict::bad : f.margin() < 0.0 ? Verdict::tight : Verdict::good;
    f.reason = fmt::format(
        "at its worst outlet, {}, it passes {} with pipes fouled and the sump at its lowest; it lifts at {}", outlet,
        shown_text("flow", least.si()), shown_text("flow", valve.lift_flow.si()));
    if (f.verdict != Verdict::good)
      f.action = fmt::format("a pump that gives {} there, or a lower or wider {}", shown_text("flow", f.limit), outlet);
    a.findings.push_back(f);
  }
}

void valve_turns_each_time(const CheckStudy& study, CheckAnswer& a) {
  for (const SequencingValve& valve : study.loop.valves) {
    const auto stays = std::count_if(study.cycle.events.begin(), study.cycle.events.end(), [&](const WaterEvent& e) {
      return e.what == WaterChange::valve_stays && e.path == valve.path;
    });
    const auto turns = std::count_if(study.cycle.events.begin(), study.cycle.events.end(), [&](const WaterEvent& e) {
      return e.what == WaterChange::valve_turns && e.path == valve.path;
    });
    if (stays + turns == 0 && !valve.stuck) continue;
    Finding f{"valve_turns_each_time",
              valve.path,
              "flow",
              valve.lift_flow.si(),
              valve.lift_flow.si(),
              true,
              stays == 0 && !valve.stuck ? Verdict::good : Verdict::bad,
              {},
              {},
              "its lift flow and times, from the maker's sheet"};
    f.reason = valve.stuck  ? "it is said to be stuck: only one outlet gets water"
               : stays == 0 ? fmt::format("it turns {} times in {:.0f} min", turns, study.cycle.period.si() / 60.0)
                            : fmt::format("it stays where it is {} of {} times", stays, stays + turns);
    if (f.verdict == Verdict::bad) f.action = "more flow, a longer run, a longer pause, or no standing water above it";
    a.findings.push_back(f);
  }
}

/// The water in a draining bed slopes towards its outlet; with much slope the siphon sees a lower level than the bed.
void bed_drains_evenly(const CheckStudy& study, CheckAnswer& a) {
  for (std::size_t i = 0; i < study.loop.siphons.size(); ++i) {
    const Siphon& s = study.loop.siphons[i];
    const Vessel& bed = study.loop.vessels[at(s.from)];
    if (bed.grain.si() <= 0.0) continue;
    const double conductivity =
        bed.hydraulic_conductivity ? bed.hydraulic_conductivity->si() : 0.09 * std::pow(bed.grain.si() / 0.016, 2.0);
    const double side = std::sqrt(bed.area.si()), depth = 0.5 * (s.rim - bed.floor).si();
    const double q = study.plumbing.full_flow(i, s.rim, study.loop.vessels[at(s.to)].floor).si();
    const double drop = q / (side * depth) / conductivity * 0.5 * side;
    Finding f{"bed_drains_evenly",
              bed.path,
              "freeboard",
              drop,
              0.05,
              false,
              {},
              {},
              {},
              bed.hydraulic_conductivity
                  ? "its hydraulic conductivity as given, by Darcy's law"
                  : "0.09 m/s through 16 mm gravel (US EPA wetland manuals, from memory), with the square of the "
                    "grain; give the bed its hydraulic_conductivity and runs follow the slope"};
    f.verdict = drop <= 0.05 ? Verdict::good : Verdict::tight;
    f.reason = fmt::format("while the siphon runs the far end stands about {} higher", shown_text("freeboard", drop));
    if (drop > 0.05) f.action = "coarser gravel, or a slower siphon; its break comes early and water stays behind";
    a.findings.push_back(f);
  }
}

}  // namespace

void judge_beds(const CheckStudy& study, CheckAnswer& a) {
  siphon_is_well_inside_its_window(study, a);
  siphons_may_dump_together(study, a);
  bed_keeps_a_dry_top(study, a);
  bed_drains_before_its_next_flood(study, a);
  bed_drains_evenly(study, a);
  valve_lifts_at_every_outlet(study, a);
  valve_turns_each_time(study, a);
}

}  // namespace leat::answers
