#include "tests/random/statements.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <map>

#include "model/flow/faults.h"

namespace leat::random {
namespace {

using namespace leat::model;
using numerics::Then;

constexpr double kBelowFloor = 1e-6, kUnbalanced = 1e-9, kBackwards = 1e-12, kMissing = 1e-9;
constexpr long kSteps = 200000;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Statements that did not hold, each told once however often it fails.
class Wrong {
  std::vector<std::string>& all_;
  std::map<std::string, int> times_;

 public:
  explicit Wrong(std::vector<std::string>& all) : all_(all) {}
  void tell(const std::string& what, const std::string& where) {
    if (times_[what]++ == 0) all_.push_back(what + ": " + where);
  }
  void unless(bool good, const std::string& what, const std::string& where) {
    if (!good) tell(what, where);
  }
};

bool all_finite(const Flows& f) {
  const auto good = [](const auto& list) {
    return std::all_of(list.begin(), list.end(), [](const auto& q) { return std::isfinite(q.si()); });
  };
  return good(f.pumps) && good(f.pipes) && good(f.overflows) && good(f.siphons) && good(f.drain_holes) &&
         good(f.weirs) && good(f.returns) && good(f.spills) && good(f.top_ups) && good(f.evaporation) &&
         good(f.junction_heads) && good(f.pump_outlet_heads) && good(f.valve_inlet_heads) && good(f.valve_outlet_heads);
}

/// The largest sum of flows at any junction, pump outlet or valve.
double worst_balance(const Loop& loop, const Flows& f) {
  std::vector<double> junctions(loop.junctions.size()), pumps, valves(loop.valves.size());
  for (const Flow<> q : f.pumps) pumps.push_back(q.si());
  const auto add = [&](const End& end, double q) {
    if (end.what == End::What::junction) junctions[at(end.index)] += q;
    if (end.what == End::What::pump) pumps[at(end.index)] += q;
    if (end.what == End::What::valve) valves[at(end.index)] += q;
  };
  for (std::size_t i = 0; i < loop.pipes.size(); ++i)
    add(loop.pipes[i].from, -f.pipes[i].si()), add(loop.pipes[i].to, f.pipes[i].si());
  double worst = 0.0;
  for (const auto* list : {&junctions, &pumps, &valves})
    for (const double q : *list) worst = std::max(worst, std::abs(q));
  return worst;
}

/// The flow that runs furthest against its one way; 0 if none does.
std::pair<double, std::string> worst_backwards(const Loop& loop, const Flows& f, const Setting& s) {
  std::pair<double, std::string> worst{0.0, ""};
  const auto see = [&](Flow<> q, const std::string& path) {
    if (q.si() < worst.first) worst = {q.si(), path};
  };
  for (std::size_t p = 0; p < loop.pumps.size(); ++p)
    if (loop.pumps[p].check_valve) see(f.pumps[p], loop.pumps[p].path);
  for (std::size_t i = 0; i < loop.pipes.size(); ++i)
    if (loop.pipes[i].to.what == End::What::vessel && loop.pipes[i].outlet_level && i < s.drowned.size() &&
        !s.drowned[i])
      see(f.pipes[i], loop.pipes[i].path);
  const auto each = [&](const auto& list, const std::vector<Flow<>>& flows) {
    for (std::size_t i = 0; i < list.size(); ++i) see(flows[i], list[i].path);
  };
  each(loop.overflows, f.overflows), each(loop.siphons, f.siphons), each(loop.drain_holes, f.drain_holes);
  each(loop.weirs, f.weirs), each(loop.returns, f.returns), each(loop.vessels, f.spills), each(loop.sources, f.top_ups);
  return worst;
}

void look_at_flows(const Loop& loop, const Flows& f, const Setting& s, const std::string& when, Wrong& wrong) {
  wrong.unless(f.solved, "the flows can be found", when);
  wrong.unless(all_finite(f), "every flow and head is a number", when);
  const double balance = worst_balance(loop, f);
  wrong.unless(balance <= kUnbalanced, "flows balance at every junction",
               fmt::format("{} by {:g} m3/s", when, balance));
  const auto [back, path] = worst_backwards(loop, f, s);
  wrong.unless(back >= -kBackwards, "what is one-way does not run back",
               fmt::format("{} {} {:g} m3/s", when, path, back));
}

void look_at_levels(const Loop& loop, const std::vector<Length<>>& levels, const std::string& when, Wrong& wrong) {
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    wrong.unless(std::isfinite(levels[v].si()), "every level is a number", when);
    const double under = (loop.vessels[v].floor - levels[v]).si();
    wrong.unless(under <= kBelowFloor, "no level lies under its floor",
                 fmt::format("{} {} by {:g} m", when, loop.vessels[v].path, under));
  }
}

/// A switch that flips more than twice a second on the mean of a minute has said that it hunts.
void look_at_hunting(const std::vector<WaterEvent>& events, const std::string& when, Wrong& wrong) {
  std::map<std::string, std::vector<double>> flips;
  for (const WaterEvent& e : events) {
    if (e.what == WaterChange::hunts) {
      flips[e.path].clear();
      continue;
    }
    if (e.what == WaterChange::spill_begins || e.what == WaterChange::spill_ends) continue;
    std::vector<double>& times = flips[e.path];
    times.push_back(e.at.si());
    if (times.size() > 120 && times.back() - times[times.size() - 121] < 60.0)
      wrong.tell("hunting is said", fmt::format("{} {} at {:.0f} s", when, e.path, e.at.si()));
  }
}

void look_at_run(const Loop& loop, const WaterRun& run, const WaterState& start, const std::string& when,
                 Wrong& wrong) {
  wrong.unless(run.finished || !run.said.empty(), "a run ends, or says why not", when);
  wrong.unless(run.finished, "a run ends", fmt::format("{} at {:.1f} s: {}", when, run.reached.si(), run.said));
  const double water = std::max({water_in(loop, start.levels).si(), run.topped_up.si(), 1e-3});
  wrong.unless(std::abs(run.missing.si()) <= kMissing * water, "no water is missing",
               fmt::format("{} {:g} of {:g} m3", when, run.missing.si(), water));
  wrong.unless(run.steps <= kSteps, "a run needs few steps", fmt::format("{} {}", when, run.steps));
  for (const LevelMarks& m : run.marks)
    wrong.unless(std::isfinite(m.low.si()) && std::isfinite(m.high.si()), "every mark is a number", when);
  look_at_hunting(run.events, when, wrong);
}

WaterRun run_and_look(const Plumbing& plumbing, const WaterState& start, const WaterPlan& plan, const std::string& when,
                      Wrong& wrong) {
  const Loop& loop = plumbing.loop();
  const WaterRun run = run_water(plumbing, start, plan, [&](const WaterStep& step) {
    const std::string now = fmt::format("{} at {:.3f} s", when, step.to.si());
    look_at_flows(loop, step.flows(step.to), *step.setting, now, wrong);
    look_at_levels(loop, step.levels(step.from + 0.5 * (step.to - step.from)), now, wrong);
    look_at_levels(loop, step.levels(step.to), now, wrong);
    return Then::go_on;
  });
  look_at_run(loop, run, start, when, wrong);
  return run;
}

bool same_bits(const std::vector<Length<>>& a, const std::vector<Length<>>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    const double x = a[i].si(), y = b[i].si();
    if (std::memcmp(&x, &y, sizeof x) != 0) return false;
  }
  return a.size() == b.size();
}

void note(const std::vector<WaterEvent>& events, Seen& seen) {
  for (const WaterEvent& e : events) {
    seen.hunts = seen.hunts || e.what == WaterChange::hunts;
    seen.spills = seen.spills || e.what == WaterChange::spill_begins;
    seen.dries = seen.dries || e.what == WaterChange::pump_runs_dry;
    seen.siphons = seen.siphons || e.what == WaterChange::siphon_breaks;
    seen.turns = seen.turns || e.what == WaterChange::valve_turns;
  }
}

void look_at_six_hours(const Plumbing& plumbing, Seen& seen, Wrong& wrong) {
  const WaterState start = water_at_rest(plumbing.loop());
  WaterPlan plan{Duration<>(6.0 * 3600.0)};
  plan.evaporation = Velocity<>(1e-7);  // 9 mm a day
  const WaterRun run = run_and_look(plumbing, start, plan, "six hours", wrong);
  const WaterRun again = run_water(plumbing, start, plan);
  wrong.unless(same_bits(run.end.levels, again.end.levels) && run.steps == again.steps &&
                   run.events.size() == again.events.size(),
               "the same input gives the same bits", "six hours");
  seen.steps = run.steps;
  note(run.events, seen);
}

const char* kind_of(const Cycle& cycle) {
  switch (cycle.kind) {
    case Cycle::Kind::steady:
      return "steady";
    case Cycle::Kind::periodic:
      return "periodic";
    case Cycle::Kind::mean:
      return "mean";
    default:
      return "none";
  }
}

/// One period of a periodic cycle comes back to where it began: within 0.01 mm, and within the water that the finding
/// of cycles may miss (1e-6 m, twice) on all surfaces, for it may all stand in the smallest vessel. Its matrix neither
/// makes nor loses anything.
void look_at_period(const Plumbing& plumbing, const Cycle& cycle, Wrong& wrong) {
  const Loop& loop = plumbing.loop();
  const WaterRun run = run_and_look(plumbing, cycle.start, {cycle.period}, "one period", wrong);
  double surfaces = 0.0;
  for (const Vessel& v : loop.vessels) surfaces += v.water_area().si();
  for (std::size_t v = 0; v < run.end.levels.size(); ++v) {
    const double away = (run.end.levels[v] - cycle.start.levels[v]).si();
    wrong.unless(std::abs(away) < 1e-5 + 2e-6 * surfaces / loop.vessels[v].water_area().si(), "a cycle repeats",
                 fmt::format("{} by {:g} m in {:.0f} s", loop.vessels[v].path, away, cycle.period.si()));
  }
  const Transport t = transport_over(plumbing, cycle);
  for (std::size_t i = 0; i < t.vessels; ++i) {
    double row = 0.0, least = 0.0;
    for (std::size_t j = 0; j < t.vessels; ++j) row += t(i, j), least = std::min(least, t(i, j));
    wrong.unless(std::abs(row - 1.0) < 1e-9, "a row of the transport adds to one", fmt::format("{} {:.12g}", i, row));
    wrong.unless(least > -1e-4, "nothing is carried below nothing", fmt::format("{} {:g}", i, least));
  }
}

Cycle look_at_cycle(const Plumbing& plumbing, Seen& seen, Wrong& wrong) {
  const Cycle cycle = find_cycle(plumbing, water_at_rest(plumbing.loop()));
  seen.cycle = kind_of(cycle);
  if (cycle.kind == Cycle::Kind::none) {
    wrong.unless(!cycle.said.empty(), "no cycle, and why", "");
    return cycle;
  }
  wrong.unless(all_finite(cycle.mean) && all_finite(cycle.most), "means of a cycle are numbers", seen.cycle);
  if (cycle.kind == Cycle::Kind::periodic && cycle.hunting.empty()) look_at_period(plumbing, cycle, wrong);
  return cycle;
}

void look_at_fault(const Loop& loop, const Fault& fault, const WaterState& before, Wrong& wrong) {
  const std::string when = fmt::format("fault {} of {}", static_cast<int>(fault.kind), fault.path);
  const FaultRun run = run_fault(loop, fault, before, {Duration<>(2.0 * 3600.0), {}, {}});
  wrong.unless(run.finished, "a fault can be followed", when + " " + run.said);
  const double water = std::max({water_in(loop, before.levels).si(), run.topped_up.si(), 1e-3});
  wrong.unless(std::abs(run.missing.si()) <= kMissing * water, "no water is missing in a fault",
               fmt::format("{} {:g}", when, run.missing.si()));
  look_at_levels(loop, run.after, when, wrong);
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    wrong.unless(
        run.marks[v].low.si() >= loop.vessels[v].floor.si() - kBelowFloor, "no level lies under its floor",
        fmt::format("{} {} by {:g} m", when, loop.vessels[v].path, (loop.vessels[v].floor - run.marks[v].low).si()));
  look_at_hunting(run.events, when, wrong);
}

}  // namespace

Seen look_at(const std::string& text, Choices& choices, int most_faults) {
  Seen seen;
  Wrong wrong(seen.wrong);
  Problems problems;
  const Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
  if (!problems.empty()) {
    wrong.tell("a plausible loop is accepted", problems.text());
    return seen;
  }
  const Plumbing plumbing(loop);
  const WaterState rest = water_at_rest(loop);
  look_at_flows(loop, plumbing.flows(rest.levels, rest.setting), rest.setting, "at rest", wrong);
  look_at_six_hours(plumbing, seen, wrong);
  const Cycle cycle = look_at_cycle(plumbing, seen, wrong);
  const WaterState before = cycle.kind == Cycle::Kind::none ? rest : cycle.start;
  const std::vector<Fault> faults = possible_faults(loop);
  const int count = most_faults < 0 ? static_cast<int>(faults.size()) : most_faults;
  for (int i = 0; i < count; ++i, ++seen.faults)
    look_at_fault(loop, most_faults < 0 ? faults[at(i)] : faults[at(choices.below(static_cast<int>(faults.size())))],
                  before, wrong);
  return seen;
}

}  // namespace leat::random
