#include "answers/ahead.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/ahead_run.h"
#include "answers/bands.h"
#include "answers/judge/water_statements.h"
#include "answers/running_water.h"

namespace leat::answers {
namespace {

using namespace model;

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

/// How pulsed water was taken; and where mean flows were taken that do not stand for the cycle, that is said.
void tell_pulses(const RunningWater& running, AheadAnswer& a) {
  a.mean_of_pulses = running.how == Pulsed::mean && !running.caveat.empty();
  if (running.how == Pulsed::by_cycles)
    a.assumptions.push_back(
        {"water", "by whole cycles",
         fmt::format(
             "it comes in pulses that repeat after {:.0f} min; what it carries moves as a whole cycle moves it, "
             "and the lowest oxygen is that within a cycle",
             running.pulses->period / 60.0)});
  if (running.how == Pulsed::resolved)
    a.assumptions.push_back(
        {"water", "switch by switch",
         fmt::format("it comes in pulses that repeat after {:.0f} min; each switch is followed at its moment, with "
                     "timers set at the first midnight",
                     running.pulses->period / 60.0)});
  if (running.how == Pulsed::mean && running.pulses)
    a.assumptions.push_back(
        {"water", "by mean flows", "it comes in pulses, too many to follow: " + running.not_by_cycles});
  if (running.caveat.empty() || running.how == Pulsed::resolved) return;
  if (running.how == Pulsed::by_cycles && running.not_by_cycles.empty()) return;
  a.findings.push_back({"mean_flows_stand_for_the_cycle", "loop", "flow", 0.0, 0.0, true, Verdict::cannot_tell,
                        running.caveat + (running.not_by_cycles.empty() ? "" : "; " + running.not_by_cycles) +
                            "; temperatures and days are right, oxygen and ammonia within the hour are not",
                        "take oxygen and ammonia just before and after a flood as rougher than they look",
                        "first-order averaging holds for what is slower than about ten cycles"});
}

/// Members run by mean flows; where pulses were taken, they are moved by what those change.
Bands bands_beside(const Loop& loop, const Plumbing& plumbing, const RunningWater& running, const Weather& weather,
                   const AheadRequest& request, AheadAnswer& a) {
  if (running.how == Pulsed::mean) return bands(loop, plumbing, running.water, weather, request);
  const AheadAnswer by_mean = run_ahead(loop, plumbing, running.water, weather, request);
  if (!by_mean.finished) return bands(loop, plumbing, running.water, weather, request);
  a.assumptions.push_back({"water", "members by mean flows",
                           "each is moved by as much as pulses move the run with middle values, day by day"});
  const Beside beside{by_mean, a};
  return bands(loop, plumbing, running.water, weather, request, &beside);
}

}  // namespace

AheadAnswer ahead(const model::Loop& described, const model::Weather& weather, const AheadRequest& request) {
  const Loop loop = with_fish_to_come(with_water_as_warm_as_the_air(described, weather, request.first));
  const Plumbing plumbing(loop);
  RunningWater running = running_water(plumbing, request.days);
  if (!running.refused.empty()) {
    AheadAnswer refused;
    refused.loop_name = loop.name;
    refused.assumptions = loop.assumptions;
    refused.said = running.refused;
    return refused;
  }
  AheadAnswer a = run_ahead(loop, plumbing, running, weather, request);
  a.loop_name = loop.name;
  a.assumptions = loop.assumptions;
  tell_weather(weather, a);
  tell_what_is_past(loop, request, a);
  if (request.members > 0 && a.finished)
    a.bands = bands_beside(loop, plumbing, running, weather, request, a);
  else if (request.with_sun_band)
    a.sun_band = sun_band(loop, plumbing, running.water, weather, request, a);
  judge_water(loop, a);
  tell_pulses(running, a);
  return a;
}

}  // namespace leat::answers
