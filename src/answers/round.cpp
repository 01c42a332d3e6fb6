#include "answers/round.h"

#include <fmt/core.h>

#include <algorithm>
#include <future>

#include "answers/ahead.h"
#include "learn/recorded_weather.h"
#include "record/when.h"

namespace leat::answers {
namespace {

using namespace model;
using learn::kDay;

constexpr int kDaysAhead = 3;

/// What is typed or on file for these days; where nothing is, the last day that the record has, for lack of better.
Weather weather_from_today(const Loop& loop, const learn::History& history, const RoundRequest& request,
                           const CivilDate& today, bool& known, std::vector<std::string>& assumed) {
  WeatherSources sources = request.weather;
  if (!sources.daily) sources.daily.emplace();
  auto& days = sources.daily->days;
  const std::vector<WeatherDay> noted = learn::recorded_weather(history, loop.site.place.clock);
  const bool recent = !noted.empty() && today.serial() - noted.back().date.serial() <= 2;
  bool any_persisted = false;
  known = true;
  for (int d = 0; d < kDaysAhead; ++d) {
    const CivilDate date = today.plus_days(d);
    const auto is_it = [&](const WeatherDay& day) { return day.date == date; };
    const bool said = std::any_of(days.begin(), days.end(), is_it) ||
                      std::any_of(sources.forecast.begin(), sources.forecast.end(), is_it);
    if (said) continue;
    if (!recent) {
      known = known && d > 1;
      continue;
    }
    WeatherDay like = noted.back();
    like.date = date;
    days.push_back(like);
    sources.daily->lines.push_back(0);
    any_persisted = true;
  }
  std::sort(days.begin(), days.end(), [](const WeatherDay& a, const WeatherDay& b) { return a.date < b.date; });
  if (any_persisted)
    assumed.push_back(
        fmt::format("weather as on {}, the last day that the record has; --tomorrow \"min 4 max 12 clear\" is better",
                    noted.back().date.text()));
  else if (!known)
    assumed.push_back(
        "weather made up from what is usual, so the model wakes nobody by it; note the air's min and max, or "
        "say --tomorrow");
  return assemble_weather(loop.site.place, sources, today, kDaysAhead);
}

FeedRequest feed_request(const learn::Present& p) {
  FeedRequest r;
  const auto density = [&](const char* what) {
    const learn::Reading* reading = p.of(what);
    return reading ? std::optional(Density<>(1e-3 * reading->value())) : std::nullopt;
  };
  if (const auto* t = p.of("temperature")) r.temperature = Temperature<>::from_celsius(t->value());
  r.oxygen = density("dissolved_oxygen");
  r.ammonia = density("ammonia");
  r.nitrite = density("nitrite");
  if (const auto* pH = p.of("pH")) r.pH = pH->value();
  return r;
}

/// What the model sees in the next days that would be a task: limits that are passed, crops that are ready.
void look_ahead(const RoundGround& g, RoundAnswer& a) {
  const AheadAnswer days = ahead(g.loop, g.weather, {g.today(), kDaysAhead, false});
  if (days.dates.empty()) {
    a.assumed.push_back("nothing of the next days, as the loop cannot be run: " + days.said);
    return;
  }
  for (const Finding& f : days.findings) {
    if (f.verdict != Verdict::bad || a.coming.size() >= 3) continue;
    std::string statement = f.statement;
    std::replace(statement.begin(), statement.end(), '_', ' ');
    a.coming.push_back(fmt::format("{}: not sure that {}: {}{}", f.path, statement, f.reason,
                                   f.action.empty() ? "" : " To do: " + f.action + "."));
  }
  for (const PlantsAhead& p : days.plants)
    if (p.ready_in_days) a.coming.push_back(fmt::format("{}: {} ready to harvest by its warmth", p.path, p.crop));
}

}  // namespace

CivilDate RoundGround::today() const {
  return clock().local(Instant{1e-3 * static_cast<double>(present.now)}).date;
}

record::Moment RoundGround::at(const CivilDate& date, double hour) const {
  return record::moment_of(clock(), hour < 24.0 ? date : date.plus_days(1), hour < 24.0 ? hour : hour - 24.0);
}

RoundAnswer round(const Loop& described, const std::vector<record::Entry>& entries, const RoundRequest& request) {
  RoundAnswer a;
  a.loop_name = described.name;
  a.now = request.now;
  RoundGround g{described, described, learn::history_of(entries).until(request.now), {}, {}, false, request};
  g.present = learn::present_of(g.history, g.clock(), request.now);
  g.loop = learn::loop_at_present(described, g.history, g.present);
  g.weather = weather_from_today(g.loop, g.history, request, g.today(), g.weather_known, a.assumed);
  a.taken = g.present.taken;
  OddRequest look;
  look.now = request.now;
  look.most = request.most;
  // The model over the weeks before, beside the model over the days ahead.
  auto looking = std::async(std::launch::async, [&] { return answers::odd(described, entries, look); });
  if (!request.urgent_only) {
    a.feed = feed(g.loop, feed_request(g.present));
    a.assumed.insert(a.assumed.end(), a.feed.assumed.begin(), a.feed.assumed.end());
    const record::Moment end_of_day = g.at(g.today(), 24.0);
    for (Task& t : routine(g, a.feed)) (t.due < end_of_day ? a.due : a.later).push_back(std::move(t));
    look_ahead(g, a);
  }
  const OddAnswer odd = looking.get();
  a.odd = odd.told;
  a.urgent = urgent_matters(g, odd.all);
  return a;
}

}  // namespace leat::answers
