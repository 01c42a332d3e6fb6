#include "answers/ahead.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/ahead_run.h"
#include "answers/bands.h"
#include "answers/judge/water_statements.h"
#include "model/flow/cycle.h"

namespace leat::answers {
namespace {

using namespace model;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

void tell_weather(const Weather& weather, AheadAnswer& a) {
  for (const CivilDate& date : a.dates)
    for (const WeatherDay& day : weather.days)
      if (day.date == date) {
        a.weather_sources.emplace_back(word_for(day.source));
        a.air_low.push_back(day.low.kelvin());
        a.air_high.push_back(day.high.kelvin());
      }
  for (const std::string& sentence : weather.assumptions) a.assumptions.push_back({"weather", "", sentence});
}

/// Water whose temperature nobody measured starts at the mean air of its first day, but free of ice.
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

/// What the loop file has done before the first day is taken to be in what it describes.
void tell_what_is_past(const Loop& loop, const AheadRequest& request, AheadAnswer& a) {
  const auto look = [&](const auto& deeds) {
    for (const auto& deed : deeds) {
      if (deed.when.date < request.first)
        a.assumptions.push_back({deed.path, "not done",
                                 "before the first day: the loop file is taken to describe what "
                                 "came of it"});
      else if (!(deed.when.date < request.first.plus_days(request.days)))
        a.assumptions.push_back({deed.path, "not done", "after the last day"});
    }
  };
  look(loop.deeds.moves), look(loop.deeds.algae_deaths), look(loop.deeds.cuts);
}

/// The water that runs, and what speaks against taking its means for it.
struct RunningWater {
  Settled water;
  std::string caveat, refused;
};

RunningWater water_that_runs(const Plumbing& plumbing) {
  const Loop& loop = plumbing.loop();
  if (!anything_switches(loop)) {
    const Settled water = settle(loop, plumbing, levels_at_rest(loop), Setting{});
    if (water.settled) return {water, {}, {}};
  }
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  if (cycle.kind == Cycle::Kind::none)
    return {{}, {}, "the water finds no cycle that repeats: " + cycle.said + "; leat check tells more"};
  return {mean_water(loop, cycle), why_not_averaged(loop, plumbing, cycle), {}};
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

RunningWater running_water(const Plumbing& plumbing) {
  RunningWater running = water_that_runs(plumbing);
  if (running.refused.empty()) running.refused = what_does_not_balance(plumbing, running.water);
  return running;
}

/// Days are run with the mean flows of a cycle; where those do not stand for it, that is said.
void tell_averaging(const RunningWater& running, AheadAnswer& a) {
  if (running.caveat.empty()) return;
  a.findings.push_back(
      {"mean_flows_stand_for_the_cycle", "loop", "flow", 0.0, 0.0, true, Verdict::cannot_tell,
       running.caveat + "; temperatures and days are right, oxygen and ammonia within the hour are not",
       "take oxygen and ammonia just before and after a flood as rougher than they look",
       "first-order averaging holds for what is slower than about ten cycles"});
}

}  // namespace

AheadAnswer ahead(const model::Loop& described, const model::Weather& weather, const AheadRequest& request) {
  const Loop loop = with_fish_to_come(with_water_as_warm_as_the_air(described, weather, request.first));
  const Plumbing plumbing(loop);
  const RunningWater running = running_water(plumbing);
  if (!running.refused.empty()) {
    AheadAnswer refused;
    refused.loop_name = loop.name;
    refused.assumptions = loop.assumptions;
    refused.said = running.refused;
    return refused;
  }
  AheadAnswer a = run_ahead(loop, plumbing, running.water, weather, request);
  a.loop_name = loop.name;
  a.assumptions = loop.assumptions;
  tell_weather(weather, a);
  tell_what_is_past(loop, request, a);
  if (request.members > 0 && a.finished)
    a.bands = bands(loop, plumbing, running.water, weather, request);
  else if (request.with_sun_band)
    a.sun_band = sun_band(loop, plumbing, running.water, weather, request, a);
  judge_water(loop, a);
  tell_averaging(running, a);
  return a;
}

}  // namespace leat::answers
