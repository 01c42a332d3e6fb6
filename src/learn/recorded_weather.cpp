#include "learn/recorded_weather.h"

#include <map>

namespace leat::learn {
namespace {

struct Ends {
  std::optional<double> low, high;
};

CivilDate date_of(const Clock& clock, Moment at) {
  return clock.local(Instant{1e-3 * static_cast<double>(at)}).date;
}

std::map<CivilDate, Ends> ends_by_day(const History& history, const Clock& clock) {
  std::map<CivilDate, Ends> days;
  for (const Reading& r : history.readings) {
    if (r.what != "air_temperature" || r.extreme.empty()) continue;
    const auto local = clock.local(Instant{1e-3 * static_cast<double>(r.at)});
    if (r.extreme == "min")
      days[local.date].low = r.value();
    else
      days[local.hour < 12.0 ? local.date.plus_days(-1) : local.date].high = r.value();
  }
  return days;
}

}  // namespace

std::vector<model::WeatherDay> recorded_weather(const History& history, const Clock& clock) {
  std::map<CivilDate, model::WeatherDay> days;
  for (const auto& [date, ends] : ends_by_day(history, clock)) {
    if (!ends.low || !ends.high || *ends.low > *ends.high) continue;
    model::WeatherDay day;
    day.date = date;
    day.low = Temperature<>::from_celsius(*ends.low);
    day.high = Temperature<>::from_celsius(*ends.high);
    days[date] = day;
  }
  for (const Deed& d : history.deeds) {
    if (d.what != "weather" || d.subject.find("min") == std::string::npos) continue;
    const CivilDate date = date_of(clock, d.at);
    Problems unreadable;
    for (const model::WeatherDay& day : model::read_forecast("today " + d.subject, "record", date, unreadable))
      if (unreadable.empty()) days[date] = day;
  }
  std::vector<model::WeatherDay> all;
  for (auto& [date, day] : days) {
    day.source = model::DaySource::daily_record;
    all.push_back(day);
  }
  return all;
}

}  // namespace leat::learn
