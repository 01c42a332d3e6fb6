#include "model/flow/cycle.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

namespace leat::model {
namespace {

using numerics::Then;

constexpr double kRepeats = 1e-6;         ///< m by which two cycles may differ and still be the same
constexpr double kLongest = 2.0 * 86400;  ///< s: no common period longer than this is looked for
constexpr int kMostRepeats = 400;
constexpr std::size_t kMostSwitches = 5000;  ///< after so many in all the mean is taken: no answer should take minutes
constexpr double kCarries = 1e-6;            ///< m3/s

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Least common multiple of all timers, each with the turns of the valve it feeds; nothing if there is none or it is
/// too long.
std::optional<double> common_period(const Loop& loop) {
  long long all = 0;
  for (const Pump& pump : loop.pumps) {
    if (!pump.schedule || !pump.on) continue;
    const long long period = std::max(1LL, std::llround(pump.schedule->period().si()));
    all = all == 0 ? period : std::lcm(all, period);
    if (static_cast<double>(all) > kLongest) return std::nullopt;
  }
  if (all == 0) return std::nullopt;
  for (const SequencingValve& valve : loop.valves)
    if (!valve.stuck) all *= std::max<long long>(1, static_cast<long long>(valve.outlets.size()));
  return static_cast<double>(all) > kLongest ? std::nullopt : std::optional(static_cast<double>(all));
}

/// Whether every switch, timer and valve of two states will do the same from here on, given the same levels.
bool alike(const Loop& loop, const WaterState& a, const WaterState& b) {
  const Setting &s = a.setting, &t = b.setting;
  if (s.primed != t.primed || s.siphoning != t.siphoning || s.turn != t.turn || s.stopped != t.stopped ||
      s.tripped != t.tripped || a.float_off != b.float_off)
    return false;
  for (const Pump& pump : loop.pumps)
    if (pump.on && pump.schedule && std::abs(std::remainder(a.clock - b.clock, pump.schedule->period().si())) > 1e-3)
      return false;
  for (std::size_t v = 0; v < a.valves.size(); ++v)
    if (a.valves[v].flowing != b.valves[v].flowing || a.valves[v].lifted != b.valves[v].lifted) return false;
  return true;
}

double difference(const Loop& loop, const WaterState& a, const WaterState& b) {
  if (!alike(loop, a, b)) return 1e9;
  double largest = 0.0;
  for (std::size_t v = 0; v < a.levels.size(); ++v)
    largest = std::max(largest, std::abs((a.levels[v] - b.levels[v]).si()));
  return largest;
}

/// Sums flows, volumes and shares over stretches, three Gauss points each.
class Summing {
  const Plumbing& plumbing_;
  const Loop& loop_;
  Cycle& cycle_;
  std::vector<std::vector<double>> paths_;  ///< m3 from vessel to vessel
  Flows sum_;
  std::vector<std::pair<double, std::vector<double>>> samples_;  ///< weight, levels
  double time_ = 0.0;

  template <class F>
  static void each(Flows& a, const Flows& b, F&& f) {
    const auto lists = {&Flows::pumps, &Flows::pipes,   &Flows::overflows, &Flows::siphons, &Flows::drain_holes,
                        &Flows::weirs, &Flows::returns, &Flows::spills,    &Flows::top_ups, &Flows::evaporation};
    for (const auto list : lists) {
      (a.*list).resize((b.*list).size());
      for (std::size_t i = 0; i < (b.*list).size(); ++i) f((a.*list)[i], (b.*list)[i]);
    }
  }

  void see_extremes(const Flows& flows) {
    each(cycle_.most, flows, [](Flow<>& a, const Flow<>& b) { a = std::max(a, b); });
    each(cycle_.least, flows, [](Flow<>& a, const Flow<>& b) {
      if (b.si() > kCarries && (a.si() == 0.0 || b < a)) a = b;
    });
  }

  void add(double weight, const std::vector<Length<>>& levels, const Flows& flows, const Setting& setting) {
    each(sum_, flows, [&](Flow<>& a, const Flow<>& b) { a += weight * b; });
    see_extremes(flows);
    for (const FlowPath& p : flow_paths(plumbing_, levels, flows)) paths_[at(p.from)][at(p.to)] += weight * p.flow.si();
    for (std::size_t v = 0; v < levels.size(); ++v)
      cycle_.vessels[v].mean_water += weight * (loop_.vessels[v].water_area() * (levels[v] - loop_.vessels[v].floor));
    for (std::size_t p = 0; p < loop_.pumps.size(); ++p)
      if (setting.power && loop_.pumps[p].on && !setting.stopped[p] && !setting.tripped[p])
        cycle_.running[p] += weight * (setting.running[p] < 0.0 ? 1.0 : setting.running[p]);
    time_ += weight;
  }

 public:
  Summing(const Plumbing& plumbing, Cycle& cycle) : plumbing_(plumbing), loop_(plumbing.loop()), cycle_(cycle) {
    cycle.vessels.assign(loop_.vessels.size(), {});
    cycle.running.assign(loop_.pumps.size(), 0.0);
    paths_.assign(loop_.vessels.size(), std::vector<double>(loop_.vessels.size(), 0.0));
  }

  void see(const WaterStep& step) {
    const double span = (step.to - step.from).si();
    const double reach = 0.5 * std::sqrt(0.6);
    for (const auto& [where, weight] : {std::pair{0.5 - reach, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + reach, 5.0 / 18}}) {
      const Duration<> when = step.from + where * (step.to - step.from);
      const std::vector<Length<>> levels = step.levels(when);
      add(weight * span, levels, step.flows(when), *step.setting);
    }
    see_extremes(step.flows(step.from));
    see_extremes(step.flows(step.to));
    constexpr int kPieces = 16;
    for (int k = 0; k < kPieces; ++k) {
      std::vector<double> z;
      for (const Length<> level : step.levels(step.from + ((k + 0.5) / kPieces) * (step.to - step.from)))
        z.push_back(level.si());
      samples_.emplace_back(span / kPieces, std::move(z));
    }
  }

  void close(const WaterRun& run) {
    each(cycle_.mean, sum_, [&](Flow<>& a, const Flow<>& b) { a = b / time_; });
    for (double& share : cycle_.running) share /= time_;
    for (std::size_t v = 0; v < loop_.vessels.size(); ++v) {
      VesselCycle& c = cycle_.vessels[v];
      c.low = run.marks[v].low;
      c.high = run.marks[v].high;
      c.mean_water = c.mean_water / time_;
      c.water_at_start = loop_.vessels[v].water_area() * (cycle_.start.levels[v] - loop_.vessels[v].floor);
      const double middle = 0.5 * (c.low + c.high).si();
      c.wet_share = 0.0;
      for (const auto& [weight, z] : samples_)
        if (z[v] > middle) c.wet_share += weight / time_;
      for (std::size_t from = 0; from < loop_.vessels.size(); ++from) {
        const Flow<> q(paths_[from][v] / time_);
        if (q.si() < 1e-12) continue;
        cycle_.paths.push_back({static_cast<int>(from), static_cast<int>(v), q, {}, loop_.pumps.empty()});
        c.through += q;
      }
      if (c.mean_water.si() > 1e-9) c.turnover = c.through / c.mean_water;
    }
  }
};

void sum_up(const Plumbing& plumbing, Cycle& cycle) {
  Summing summing(plumbing, cycle);
  const WaterRun run = run_water(plumbing, cycle.start, {cycle.period, {}, {}, true}, [&](const WaterStep& step) {
    summing.see(step);
    return Then::go_on;
  });
  summing.close(run);
  cycle.events = run.events;
  for (const WaterEvent& e : run.events)
    if (e.what == WaterChange::hunts) cycle.hunting.push_back(e.path);
}

/// Repeats the map over a known period, or twice or thrice of it, until it comes back to where it was.
bool repeat_period(const Plumbing& plumbing, WaterState state, double period, Cycle& cycle) {
  std::vector<WaterState> past{state};
  std::size_t switched = 0;
  for (int n = 0; n < kMostRepeats; ++n) {
    const WaterRun run = run_water(plumbing, past.back(), {Duration<>(period), {}, {}, true});
    if (!run.finished) {
      cycle.said = run.said;
      return false;
    }
    past.push_back(run.end);
    for (std::size_t times = 1; times <= 3 && times < past.size(); ++times) {
      if (difference(plumbing.loop(), past.back(), past[past.size() - 1 - times]) >= kRepeats) continue;
      cycle.start = past.back();
      cycle.period = Duration<>(period * static_cast<double>(times));
      cycle.kind = Cycle::Kind::periodic;
      return true;
    }
    switched += run.events.size();
    if (switched > kMostSwitches || static_cast<double>(n) * period > 40.0 * 86400.0) break;
  }
  cycle.start = past.back();
  return false;
}

bool is_mark(const WaterEvent& e) {
  return e.what == WaterChange::siphon_breaks || e.what == WaterChange::overflow_breaks ||
         e.what == WaterChange::pump_stops;
}

struct Mark {
  std::string path;
  WaterState state;
};

/// Whether the last `round` marks are those before them over again, in the same time to a millisecond. One mark that comes
/// back may be chance, and levels at a break may be alike while one siphon still drifts against another.
bool round_repeats(const Loop& loop, const std::vector<Mark>& marks, std::size_t round) {
  if (marks.size() <= 2 * round) return false;
  const auto clock = [&](std::size_t rounds_ago) { return marks[marks.size() - 1 - rounds_ago * round].state.clock; };
  if (std::abs(clock(0) - 2.0 * clock(1) + clock(2)) > 1e-3) return false;
  for (std::size_t i = 0; i < round; ++i) {
    const Mark &now = marks[marks.size() - 1 - i], &before = marks[marks.size() - 1 - i - round];
    if (now.path != before.path || difference(loop, before.state, now.state) >= kRepeats) return false;
  }
  return true;
}

/// Follows free-running siphons or floats from one break to the next, until a whole round repeats; else the mean of a
/// long stretch.
void follow_marks(const Plumbing& plumbing, WaterState state, Cycle& cycle) {
  std::vector<Mark> marks;
  WaterPlan to_next{Duration<>(6.0 * 3600.0)};
  std::string path;
  to_next.until = [&](const WaterEvent& e) {
    if (!is_mark(e)) return false;
    path = e.path;
    return true;
  };
  std::size_t switched = 0;
  while (marks.size() < 600 && switched < kMostSwitches) {
    path.clear();
    const WaterRun run = run_water(plumbing, marks.empty() ? state : marks.back().state, to_next);
    if (!run.finished) {
      cycle.said = run.said;
      return;
    }
    if (path.empty()) {  // nothing switches any more
      cycle.start = run.end;
      cycle.period = Duration<>(3600.0);
      cycle.kind = Cycle::Kind::steady;
      return;
    }
    marks.push_back({path, run.end});
    switched += run.events.size();
    for (std::size_t back = 1; back < marks.size() && back <= 12; ++back) {
      if (!round_repeats(plumbing.loop(), marks, back)) continue;
      cycle.start = marks.back().state;
      cycle.period = Duration<>(cycle.start.clock - marks[marks.size() - 1 - back].state.clock);
      cycle.kind = Cycle::Kind::periodic;
      return;
    }
  }
  cycle.start = marks[marks.size() / 2].state;
  cycle.period = Duration<>(marks.back().state.clock - cycle.start.clock);
  cycle.kind = Cycle::Kind::mean;
}

/// Nothing repeats before the last timer has started.
WaterState after_first_starts(const Plumbing& plumbing, const WaterState& start, Cycle& cycle) {
  double last = 0.0;
  for (const Pump& pump : plumbing.loop().pumps)
    if (pump.on && pump.schedule) last = std::max(last, pump.schedule->starts_after.si() - start.clock);
  if (last <= 0.0) return start;
  WaterRun run = run_water(plumbing, start, {Duration<>(last), {}, {}, true});
  cycle.said = run.said;
  return std::move(run.end);
}

}  // namespace

bool anything_switches(const Loop& loop) {
  // An overflow without a vent may fill and draw its vessel down to the foot of its sleeve.
  const bool may_siphon = std::any_of(loop.overflows.begin(), loop.overflows.end(),
                                      [](const Overflow& o) { return !o.vented && o.sleeve && o.back; });
  return may_siphon || !loop.siphons.empty() || !loop.valves.empty() ||
         std::any_of(loop.pumps.begin(), loop.pumps.end(), [](const Pump& p) { return p.schedule || p.float_on; });
}

Settled mean_water(const Loop& loop, const Cycle& cycle) {
  Settled s;
  s.settled = cycle.kind != Cycle::Kind::none;
  s.flows = cycle.mean;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    s.levels.push_back(loop.vessels[v].level_at(cycle.vessels[v].mean_water));
  s.tripped = cycle.start.setting.tripped;
  s.running = cycle.running;
  return s;
}

Flow<> inflow_while_fed(const Plumbing& plumbing, const Cycle& cycle, int bed) {
  const Loop& loop = plumbing.loop();
  Flow<> q{};
  for (std::size_t i = 0; i < loop.pipes.size(); ++i)
    if (loop.pipes[i].to.what == End::What::vessel && loop.pipes[i].to.index == bed) q += cycle.most.pipes[i];
  for (const Passage& p : plumbing.passages(cycle.mean))
    if (p.to == bed) q += p.flow;
  for (std::size_t s = 0; s < loop.sources.size(); ++s)
    if (loop.sources[s].vessel == bed) q += cycle.mean.top_ups[s];
  return q;
}

Cycle find_cycle(const Plumbing& plumbing, const WaterState& start) {
  const Loop& loop = plumbing.loop();
  Cycle cycle;
  if (!anything_switches(loop)) {
    Setting setting;
    setting.outside = true;
    const WaterRun run = run_water(plumbing, start, {Duration<>(4.0 * 3600.0), {}, {}, true});
    const Settled settled = settle(loop, plumbing, run.end.levels, setting);
    cycle.said = settled.settled ? "" : "the levels do not come to rest";
    cycle.start = water_at(loop, settled.levels);
    cycle.start.setting.tripped = settled.tripped;
    cycle.period = Duration<>(60.0);
    cycle.kind = settled.settled ? Cycle::Kind::steady : Cycle::Kind::none;
  } else if (const WaterState started = after_first_starts(plumbing, start, cycle); cycle.said.empty()) {
    const auto period = common_period(loop);
    if (!period) {
      follow_marks(plumbing, started, cycle);
    } else if (!repeat_period(plumbing, started, *period, cycle) && cycle.said.empty()) {
      cycle.period = Duration<>(*period * std::ceil(86400.0 / *period));  // a day at least
      cycle.kind = Cycle::Kind::mean;
    }
  }
  if (cycle.kind != Cycle::Kind::none) sum_up(plumbing, cycle);
  return cycle;
}

}  // namespace leat::model
