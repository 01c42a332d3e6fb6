// What one failure does: to the ground, to the pumps, to the fish.
#include <fmt/core.h>

#include <algorithm>

#include "answers/judge/plumbing_statements.h"
#include "answers/outage.h"
#include "base/words/quantities.h"

namespace leat::answers {
namespace {

using namespace model;
using words::shown_text;
using Kind = Fault::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

bool has_fish(const Loop& loop, std::size_t v) {
  if (loop.vessels[v].kind != VesselKind::tank) return false;
  return loop.fish.empty() ||
         std::any_of(loop.fish.begin(), loop.fish.end(), [&](const FishGroup& g) { return at(g.vessel) == v; });
}

/// The fish tank that keeps least of its water.
std::pair<std::size_t, double> least_kept(const Loop& loop, const FaultRun& run) {
  std::pair<std::size_t, double> least{loop.vessels.size(), 1.0};
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (has_fish(loop, v))
      if (const double kept = share_kept(loop, run, v); kept < least.second) least = {v, kept};
  return least;
}

bool spills(const FaultRun& run) {
  return run.lost() - run.burst > Volume<>(1e-4);
}

std::string spill_text(const Loop& loop, const FaultRun& run) {
  if (!spills(run)) return "nothing";
  const std::string first = run.first_spill >= 0 ? loop.vessels[at(run.first_spill)].path : "a brim";
  return fmt::format("{} {}, {} in {:.0f} h", first,
                     run.spills_after ? after_text(*run.spills_after) : std::string("as it did before"),
                     shown_text("water", (run.lost() - run.burst).si()), run.span.si() / 3600.0);
}

/// One statement over all runs of a kind: the worst by what is lost.
void add_spill_finding(const CheckStudy& study, CheckAnswer& a, const char* statement, Kind kind, Verdict when_spilt,
                       const std::string& otherwise, const std::string& action) {
  const FaultRun* run = study.worst(kind, [](const FaultRun& r) { return (r.lost() - r.burst).si(); });
  if (!run) return;
  const bool spilt = spills(*run);
  Finding f{statement,
            run->fault.path,
            "water",
            (run->lost() - run->burst).si(),
            0.0,
            false,
            spilt ? when_spilt : Verdict::good,
            spilt ? spill_text(study.loop, *run) + " to the ground" : otherwise,
            spilt ? action : std::string(),
            "nothing lost"};
  a.findings.push_back(f);
}

void power_cut_spills_nothing(const CheckStudy& study, CheckAnswer& a) {
  add_spill_finding(study, a, "power_cut_spills_nothing", Kind::power, Verdict::bad,
                    "every vessel keeps its water, at whichever moment the power fails",
                    "less water in the loop, a larger sump, or a higher brim");
}

void add_kept_finding(const CheckStudy& study, CheckAnswer& a, const char* statement, Kind kind, const char* cause,
                      const char* action) {
  const FaultRun* run = study.worst(
      kind, [&](const FaultRun& r) { return 1.0 - least_kept(study.loop, r).second + r.lost().si() * 1e-6; });
  if (!run) return;
  const auto [v, kept] = least_kept(study.loop, *run);
  const bool any_fish = std::any_of(study.loop.vessels.begin(), study.loop.vessels.end(), [&](const Vessel& vessel) {
    return has_fish(study.loop, static_cast<std::size_t>(&vessel - study.loop.vessels.data()));
  });
  if (!any_fish) return;
  Finding f{statement, run->fault.path,
            "share",   kept,
            0.6,       true,
            {},        {},
            {},        "six tenths of the depth: common practice, no source"};
  f.verdict = kept < 0.6 ? Verdict::bad : Verdict::good;
  f.reason = v < study.loop.vessels.size()
                 ? fmt::format("{}: {} keeps {:.0f} % of its depth", cause, study.loop.vessels[v].path, 100.0 * kept)
                 : fmt::format("{}: the fish keep all their water", cause);
  if (kind == Kind::power_and_valves && spills(*run)) {
    f.verdict = f.verdict == Verdict::bad ? Verdict::bad : Verdict::tight;
    f.reason += "; spills: " + spill_text(study.loop, *run);
  }
  if (f.verdict != Verdict::good) f.action = action;
  a.findings.push_back(f);
}

void leaking_check_valves_leave_the_fish_their_water(const CheckStudy& study, CheckAnswer& a) {
  add_kept_finding(study, a, "leaking_check_valves_leave_the_fish_their_water", Kind::power_and_valves,
                   "power off and no check valve holds",
                   "end the pipe above the water, or drill a vent above the lowest level wanted");
}

void burst_leaves_the_fish_their_water(const CheckStudy& study, CheckAnswer& a) {
  add_kept_finding(study, a, "burst_leaves_the_fish_their_water", Kind::burst, "burst at its lowest point",
                   "end the pipe above the water, or take the outlet higher up the wall");
}

/// A tank whose only pump has stopped still needs flow or air.
void tanks_keep_flow_or_air(const CheckStudy& study, CheckAnswer& a) {
  const Kind kind = study.loop.pumps.size() > 1 ? Kind::pump : Kind::power;
  for (std::size_t v = 0; v < study.loop.vessels.size(); ++v) {
    if (!has_fish(study.loop, v)) continue;
    const bool air = std::any_of(study.loop.airs.begin(), study.loop.airs.end(),
                                 [&](const AirLine& line) { return at(line.vessel) == v; });
    const FaultRun* starved = nullptr;
    for (const FaultRun& run : study.faults)
      if (run.fault.kind == kind && run.fed_until[v]) starved = &run;
    Finding f{"tanks_keep_flow_or_air",
              study.loop.vessels[v].path,
              "flow",
              starved && !air ? 0.0 : 1.0,
              0.0,
              true,
              {},
              {},
              {},
              "some flow or air with any one pump off: common practice, no source"};
    f.verdict = !starved ? Verdict::good : air ? Verdict::good : Verdict::tight;
    const std::string off = starved ? (kind == Kind::power ? std::string("the pump") : starved->fault.path) : "";
    f.reason = !starved ? "any one pump may stop, and it is still fed"
               : air    ? fmt::format("without {} it gets no water, but it has air", off)
                        : fmt::format("without {} it gets neither water nor air", off);
    if (f.verdict != Verdict::good)
      f.action = "a second small pump, or an air line that does not hang on the same plug";
    a.findings.push_back(f);
  }
}

/// Time until a brim spills or a pump runs dry after something is blocked.
void blockage_gives_time(const CheckStudy& study, CheckAnswer& a, const char* statement, Kind kind, const char* cause) {
  for (const FaultRun& run : study.faults) {
    if (run.fault.kind != kind) continue;
    const double none = 1e9;
    const double spill = run.spills_after ? run.spills_after->si() : none;
    const double dry = run.dry_after ? run.dry_after->si() : none;
    const double first = std::min(spill, dry);
    Finding f{statement,  run.fault.path,
              "duration", std::min(first, run.span.si()),
              900.0,      true,
              {},         {},
              {},         "15 minutes, or an alarm: common practice, no source"};
    // What ends by itself, because the pump runs dry, is a mess; what does not end empties the loop.
    f.verdict = first >= 900.0 ? Verdict::good : spill < 900.0 && dry >= none ? Verdict::bad : Verdict::tight;
    if (first >= none)
      f.reason = fmt::format("{}: nothing spills and no pump runs dry", cause);
    else if (spill <= dry)
      f.reason = fmt::format("{}: spills {}", cause, spill_text(study.loop, run));
    else
      f.reason = fmt::format("{}: {} runs dry {}, {}", cause, run.dry_pump, after_text(*run.dry_after),
                             spills(run) ? "and spills " + spill_text(study.loop, run) : "and nothing spills");
    if (f.verdict != Verdict::good) f.action = "a second way out a little higher, or a level alarm";
    a.findings.push_back(f);
  }
}

void blocked_and_topped_up_is_bounded(const CheckStudy& study, CheckAnswer& a) {
  add_spill_finding(study, a, "blocked_and_topped_up_is_bounded", Kind::blocked_and_open, Verdict::tight,
                    "a blocked way out with the float open spills nothing",
                    "a timer or a small tank on the top-up, so that it cannot run for ever");
}

void open_float_is_bounded(const CheckStudy& study, CheckAnswer& a) {
  add_spill_finding(study, a, "open_float_is_bounded", Kind::top_up_open, Verdict::tight,
                    "a float that stays open spills nothing in this time",
                    "a timer on the top-up, or an overflow to a drain");
}

void stuck_valve_spills_nothing(const CheckStudy& study, CheckAnswer& a) {
  for (const FaultRun& run : study.faults) {
    if (run.fault.kind != Kind::valve_stuck) continue;
    Finding f{"stuck_valve_spills_nothing",
              run.fault.path,
              "water",
              run.lost().si(),
              0.0,
              false,
              spills(run) ? Verdict::bad : Verdict::good,
              {},
              {},
              "nothing lost"};
    std::string dry;
    for (std::size_t v = 0; v < study.loop.vessels.size(); ++v)
      if (study.loop.vessels[v].kind != VesselKind::sump && run.fed_until[v] &&
          study.cycle.vessels[v].through.si() > 1e-7)
        dry += (dry.empty() ? "" : ", ") + study.loop.vessels[v].path;
    f.reason = fmt::format("stuck on outlet {}: spills {}{}", run.fault.outlet + 1, spill_text(study.loop, run),
                           dry.empty() ? "" : "; no water comes to " + dry);
    if (f.verdict != Verdict::good) f.action = "a wider overflow on the bed that it feeds";
    a.findings.push_back(f);
  }
}

/// A tank taken out of the loop, for cleaning or because the fish are moved.
void any_tank_can_be_shut_off(const CheckStudy& study, CheckAnswer& a) {
  if (study.cycle.kind == Cycle::Kind::none) return;
  const auto tanks = std::count_if(study.loop.vessels.begin(), study.loop.vessels.end(),
                                   [](const Vessel& v) { return v.kind == VesselKind::tank; });
  for (std::size_t v = 0; v < study.loop.vessels.size() && tanks > 1; ++v) {
    if (study.loop.vessels[v].kind != VesselKind::tank) continue;
    Loop other = study.loop;
    for (Pipe& pipe : other.pipes)
      if (pipe.to.what == End::What::vessel && at(pipe.to.index) == v) pipe.blocked = true;
    const Plumbing plumbing(other);
    WaterState start = study.cycle.start;
    const WaterRun run = run_water(plumbing, start, {Duration<>(2.0 * 3600.0)});
    Volume<> lost{};
    for (const Volume<> spilled : run.spilled) lost += spilled;
    const bool dry = std::any_of(run.events.begin(), run.events.end(),
                                 [](const WaterEvent& e) { return e.what == WaterChange::pump_runs_dry; });
    Finding f{"any_tank_can_be_shut_off",
              study.loop.vessels[v].path,
              "water",
              lost.si(),
              0.0,
              false,
              lost.si() > 1e-4 ? Verdict::bad
              : dry            ? Verdict::tight
                               : Verdict::good,
              {},
              {},
              "nothing lost, no pump dry"};
    f.reason = lost.si() > 1e-4
                   ? fmt::format("with its feed shut, {} go to the ground in 2 h", shown_text("water", lost.si()))
               : dry ? "with its feed shut, a pump runs dry"
                     : "with its feed shut, the rest runs on";
    if (f.verdict != Verdict::good) f.action = "shut the pump down a little when this tank is off";
    a.findings.push_back(f);
  }
}

void list_failures(const CheckStudy& study, CheckAnswer& a) {
  for (const FaultRun& run : study.faults) {
    FailureLine line{fault_words(run.fault), spill_text(study.loop, run), {}, least_kept(study.loop, run).second};
    if (run.burst > Volume<>(1e-4))
      line.spills = fmt::format("{} out of the pipe", shown_text("water", run.burst.si())) +
                    (spills(run) ? "; " + line.spills : "");
    if (run.dry_after) line.dry = fmt::format("{} {}", run.dry_pump, after_text(*run.dry_after));
    // Of the runs of one power cut at different moments the worst stays.
    const auto same =
        std::find_if(a.failures.begin(), a.failures.end(), [&](const FailureLine& l) { return l.fault == line.fault; });
    if (same == a.failures.end())
      a.failures.push_back(line);
    else if (same->spills == "nothing" || line.fish_keep < same->fish_keep)
      *same = line;
  }
}

}  // namespace

void judge_failures(const CheckStudy& study, CheckAnswer& a) {
  power_cut_spills_nothing(study, a);
  leaking_check_valves_leave_the_fish_their_water(study, a);
  burst_leaves_the_fish_their_water(study, a);
  tanks_keep_flow_or_air(study, a);
  blockage_gives_time(study, a, "blocked_return_gives_time", Kind::blocked, "blocked");
  blockage_gives_time(study, a, "half_blocked_screen_gives_time", Kind::half_blocked, "half blocked");
  blocked_and_topped_up_is_bounded(study, a);
  open_float_is_bounded(study, a);
  stuck_valve_spills_nothing(study, a);
  any_tank_can_be_shut_off(study, a);
  list_failures(study, a);
}

}  // namespace leat::answers
