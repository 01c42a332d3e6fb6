#include "answers/odd.h"

#include <fmt/core.h>

#include <algorithm>

#include "answers/ahead_run.h"
#include "answers/heat_capacity.h"
#include "answers/running_water.h"
#include "learn/recorded_weather.h"
#include "model/flow/water_run.h"
#include "model/simulate/feeding.h"
#include "science/heat/reference_evapotranspiration.h"

namespace leat::answers {
namespace {

using namespace model;

/// The model is run over a whole record of at most so many days, and over the last days of a longer one: by then it has
/// forgotten its start, and an answer must not wait.
constexpr int kWhole = 150, kOfLonger = 45;

CivilDate date_of(const Clock& clock, record::Moment at) {
  return clock.local(Instant{1e-3 * static_cast<double>(at)}).date;
}

/// At most 1.5 times what short grass would lose (Hargreaves, FAO-56 equation 52), from all water and beds, and never
/// less than 1 mm a day: warm water under cold air (common practice).
double loses_at_most(const Loop& loop, const WeatherDay& day) {
  double area = 0.0;
  for (const Vessel& v : loop.vessels) area += v.area.si();
  const Flux<> outside = science::extraterrestrial_radiation_day(
      science::Angle::from_degrees(loop.site.place.latitude_deg), science::sun_of_day_fao(day.date.day_of_year()));
  const double grass = science::hargreaves_et(day.high, day.low, outside).si() * 86400.0;
  return 1e3 * area * std::max(1e-3, 1.5 * grass);
}

/// The tank that has all the fish, or nothing.
void take_fish(const Loop& loop, learn::Expected& e) {
  int tank = -1;
  for (const FishGroup& g : loop.fish) {
    e.fish_tank = tank < 0 || tank == g.vessel ? loop.vessels[static_cast<std::size_t>(g.vessel)].path : "";
    tank = g.vessel;
    e.mass_g += 1e3 * g.count * g.mass.si();
    e.fish += g.count;
    e.protein = g.feed_protein;
  }
  if (e.fish > 0.0) e.mass_g /= e.fish;
  for (int celsius = 0; celsius <= 32 && !loop.fish.empty(); ++celsius) {
    double grams = 0.0;
    for (FishGroup group : loop.fish) {
      group.feed.reset();
      const Ration r = ration_of(group, group.count * group.mass, Temperature<>::from_celsius(celsius),
                                 Concentration<>(9.0 / 31.998));
      grams += 1e3 * r.a_day.si();
    }
    e.ration.push_back(grams);
  }
}

void take_weather(const Loop& loop, const Weather& weather, learn::Expected& e, OddAnswer& answer) {
  e.start = static_cast<record::Moment>(1e3 * weather.start.seconds);
  for (const WeatherDay& day : weather.days) {
    e.loses_at_most.push_back(loses_at_most(loop, day));
    e.air_low.push_back(day.low.celsius());
    e.air_high.push_back(day.high.celsius());
    if (day.source != DaySource::generated) ++answer.days_with_weather;
  }
  e.weather_known = 10 * answer.days_with_weather >= 8 * static_cast<int>(weather.days.size());
}

AheadAnswer run(const Loop& described, const Weather& weather, const AheadRequest& request) {
  const Loop loop = with_fish_to_come(described);
  const Plumbing plumbing(loop);
  const RunningWater running = running_water(plumbing);
  if (running.refused.empty()) return run_ahead(loop, plumbing, running.water, weather, request);
  AheadAnswer refused;
  refused.said = running.refused;
  return refused;
}

/// The loop as it starts: at the first temperature that was read, with the alkalinity held.
void take_warmth(Loop loop, const Weather& weather, CivilDate first, int days, const learn::History& history,
                 learn::Expected& e, OddAnswer& answer) {
  const auto readings = history.of("temperature");
  if (readings.empty()) {
    const bool extremes = !history.places_of("temperature").empty();
    answer.no_warmth = std::string(extremes ? "only min and max were noted, never what it was just then"
                                            : "no temperature was noted") +
                       ", so nothing is said of the thermometer; note it as \"min 9.1 max 11.4 now 10.2\"";
    return;
  }
  const auto begins = std::find_if(readings.begin(), readings.end(), [&](const auto* r) { return r->at >= e.start; });
  const learn::Reading& at_first = **(begins == readings.end() ? readings.end() - 1 : begins);
  loop.water.temperature = Temperature<>::from_celsius(std::clamp(at_first.value(), 1.0, 30.0));
  loop.water.temperature_said = true;
  AheadRequest request{first, days, false};
  request.hold_alkalinity = loop.water.alkalinity;
  request.resow = true;
  const AheadAnswer ran = run(loop, weather, request);
  if (ran.vessels.empty()) {
    answer.no_warmth = "the loop cannot be run (" + ran.said + "), so nothing is said of the thermometer";
    return;
  }
  for (const VesselAhead& v : ran.vessels) {
    learn::Warmth w{v.path, e.start, {}};
    for (const double kelvin : v.hourly_temperature) w.hourly.push_back(kelvin - 273.15);
    if (!v.dry) e.warmth.push_back(std::move(w));
  }
}

Weather weather_of(const Loop& loop, const learn::History& history, const OddRequest& request, CivilDate first,
                   int days) {
  WeatherSources sources = request.weather;
  std::vector<WeatherDay> noted = learn::recorded_weather(history, loop.site.place.clock);
  if (!sources.daily) sources.daily.emplace();
  for (const WeatherDay& day : noted) {
    const auto known = [&](const WeatherDay& d) { return d.date == day.date; };
    if (std::none_of(sources.daily->days.begin(), sources.daily->days.end(), known)) {
      sources.daily->days.push_back(day);
      sources.daily->lines.push_back(0);
    }
  }
  std::sort(sources.daily->days.begin(), sources.daily->days.end(),
            [](const WeatherDay& a, const WeatherDay& b) { return a.date < b.date; });
  return assemble_weather(loop.site.place, sources, first, days);
}

}  // namespace

learn::Expected expected_of(const Loop& loop, const learn::History& history, const OddRequest& request,
                            OddAnswer& answer) {
  learn::Expected e;
  e.clock = loop.site.place.clock;
  take_fish(loop, e);
  const Volume<> water = water_in(loop, levels_at_rest(loop));
  e.water = 1e3 * water.si();
  e.heat_capacity = 1e-6 * heat_capacity_of(loop);
  for (const Planting& p : loop.plantings) e.planted += p.area.si();
  for (const Source& s : loop.sources) e.source_alkalinity = 50.04 * s.water.alkalinity.si();
  for (const Vessel& v : loop.vessels) e.limestone = e.limestone || v.limestone.si() > 0.0;
  if (history.empty()) return e;
  const CivilDate last = date_of(e.clock, request.now);
  CivilDate first = date_of(e.clock, history.moments.front());
  if (last.serial() - first.serial() > kWhole) first = last.plus_days(-kOfLonger);
  const int days = std::max(1, last.serial() - first.serial() + 1);
  answer.days_in_record = days;
  const Weather weather = weather_of(loop, history, request, first, days);
  take_weather(loop, weather, e, answer);
  take_warmth(loop, weather, first, days, history, e, answer);
  return e;
}

OddAnswer odd(const Loop& loop, const std::vector<record::Entry>& entries, const OddRequest& request) {
  OddAnswer a;
  a.loop_name = loop.name;
  a.now = request.now;
  a.days = request.days;
  const learn::History history = learn::history_of(entries).until(request.now);
  a.entries = history.moments.size();
  if (history.empty()) return a;
  a.from = history.moments.front();
  const learn::Expected expected = expected_of(loop, history, request, a);
  if (!expected.weather_known && a.no_warmth.empty())
    a.assumed.push_back(
        fmt::format("weather is known of {} of {} days and made up for the others, so the thermometer is judged with "
                    "twice the room; "
                    "note the air's min and max, or give --weather",
                    a.days_with_weather, a.days_in_record));
  a.all = learn::oddities(history, expected, request.now);
  const record::Moment since = request.now - request.days * learn::kDay;
  a.told = learn::to_tell(a.all, since, request.most);
  a.more = learn::to_tell(a.all, since, 1000).size() - a.told.size();
  return a;
}

}  // namespace leat::answers
