#include "answers/running_water.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "model/equations/cycle_map.h"
#include "model/flow/cycle.h"

namespace leat::answers {

using namespace model;

namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// More stretches in a run than this are not followed one by one: a run should take a second or two.
constexpr double kMostStretches = 15000.0;

void take_pulses(const Plumbing& plumbing, const Cycle& cycle, int days, RunningWater& running) {
  Pulses pulses = pulses_of(plumbing, cycle);
  running.not_by_cycles = why_not_by_cycles(plumbing.loop(), pulses);
  const double stretches = static_cast<double>(pulses.stretches.size()) * 86400.0 * days / pulses.period;
  running.how = stretches <= kMostStretches     ? Pulsed::resolved
                : running.not_by_cycles.empty() ? Pulsed::by_cycles
                                                : Pulsed::mean;
  running.pulses = std::move(pulses);
}

RunningWater water_that_runs(const Plumbing& plumbing, int days) {
  const Loop& loop = plumbing.loop();
  if (!anything_switches(loop)) {
    const Settled water = settle(loop, plumbing, levels_at_rest(loop), Setting{});
    if (water.settled) return {water, {}, {}};
  }
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  if (cycle.kind == Cycle::Kind::none)
    return {{}, {}, "the water finds no cycle that repeats: " + cycle.said + "; leat check tells more"};
  RunningWater running{mean_water(loop, cycle), why_not_averaged(loop, plumbing, cycle), {}};
  if (days > 0 && cycle.kind == Cycle::Kind::periodic && cycle.hunting.empty())
    take_pulses(plumbing, cycle, days, running);
  return running;
}

/// The vessel without an overflow that the mean flows would fill or empty by more than a tenth within a day, in words;
/// empty if there is none.
std::string what_does_not_balance(const Plumbing& plumbing, const Settled& water) {
  const Loop& loop = plumbing.loop();
  std::vector<double> net(loop.vessels.size(), 0.0);
  std::vector<bool> overflows(loop.vessels.size(), false);
  for (const FlowPath& p : flow_paths(loop, plumbing, water)) {
    if (p.by_overflow) overflows[at(p.from)] = true;
    net[at(p.from)] -= p.flow.si();
    net[at(p.to)] += p.flow.si();
  }
  for (std::size_t v = 0; v < net.size(); ++v) {
    const double litres = 86400e3 * net[v], holds = 1e3 * loop.vessels[v].volume_at(water.levels[v]).si();
    if (overflows[v] || std::abs(litres) <= 0.1 * holds + 1.0) continue;
    return fmt::format("the mean flows would {} {} by {:.0f} L a day, and it holds {:.0f} L; leat check tells more",
                       litres > 0.0 ? "fill" : "empty", loop.vessels[v].path, std::abs(litres), holds);
  }
  return {};
}

}  // namespace

RunningWater running_water(const Plumbing& plumbing, int days) {
  RunningWater running = water_that_runs(plumbing, days);
  if (running.refused.empty()) running.refused = what_does_not_balance(plumbing, running.water);
  return running;
}

Loop with_water_as_warm_as_the_air(const Loop& described, const Weather& weather, const CivilDate& first) {
  Loop loop = described;
  if (loop.water.temperature_said) return loop;
  for (const WeatherDay& day : weather.days) {
    if (!(day.date == first)) continue;
    const double mean = 0.5 * (day.low.celsius() + day.high.celsius());
    loop.water.temperature = Temperature<>::from_celsius(std::clamp(mean, 1.0, 30.0));
    for (Assumption& a : loop.assumptions)
      if (a.path == "water.temperature") {
        a.value = fmt::format("{:.1f} degC", loop.water.temperature.celsius());
        a.reason = "not measured; the mean air of the first day";
      }
  }
  return loop;
}

}  // namespace leat::answers
