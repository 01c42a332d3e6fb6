#include "answers/week_ahead.h"

#include <fmt/core.h>

#include <algorithm>

#include "answers/ahead.h"
#include "learn/present.h"
#include "learn/recorded_weather.h"

namespace leat::answers {
namespace {

constexpr int kRecent = 3;  // days for which weather that was noted says something of the next ones

/// Days as the last one that was noted, if that is not long ago; made up from what is usual if it is.
model::Weather weather_to_come(const model::Loop& loop, const learn::History& history, const CivilDate& first, int days,
                               std::string& like) {
  model::WeatherSources sources;
  const auto noted = learn::recorded_weather(history, loop.site.place.clock);
  like = "weather made up from what is usual";
  if (!noted.empty() && first.serial() - noted.back().date.serial() <= kRecent) {
    like = fmt::format("weather as on {}, the last day noted", noted.back().date.text());
    sources.daily.emplace();
    for (int d = 0; d < days; ++d) {
      model::WeatherDay day = noted.back();
      day.date = first.plus_days(d);
      sources.daily->days.push_back(day);
      sources.daily->lines.push_back(0);
    }
  }
  return model::assemble_weather(loop.site.place, sources, first, days);
}

struct Lowest {
  std::string where;
  CivilDate date;
  double mg_per_litre = 1e9, hour = 0.0;
};

Lowest lowest_of(const model::Loop& loop, const AheadAnswer& ahead) {
  Lowest low;
  for (const VesselAhead& v : ahead.vessels) {
    const bool has_fish = std::any_of(loop.fish.begin(), loop.fish.end(), [&](const model::FishGroup& g) {
      return g.count > 0.0 && loop.vessels[static_cast<std::size_t>(g.vessel)].path == v.path;
    });
    for (std::size_t d = 0; d < v.days.size() && d < ahead.dates.size() && has_fish && !v.dry; ++d) {
      const double oxygen = 31.998 * v.days[d].oxygen_low.value;
      if (oxygen < low.mg_per_litre) low = {v.path, ahead.dates[d], oxygen, v.days[d].oxygen_low.hour};
    }
  }
  return low;
}

}  // namespace

std::optional<WeekLine> oxygen_to_come(const model::Loop& described, const std::vector<record::Entry>& entries,
                                       const CivilDate& last, record::Moment end, int days) {
  if (described.fish.empty()) return std::nullopt;
  const learn::History history = learn::history_of(entries).until(end);
  learn::Present present = learn::present_of(history, described.site.place.clock, end);
  const model::Loop loop = learn::loop_at_present(described, history, present);
  const CivilDate first = last.plus_days(1);
  std::string like;
  const AheadAnswer ran = ahead(loop, weather_to_come(loop, history, first, days, like), {first, days, false});
  const Lowest low = lowest_of(loop, ran);
  if (low.where.empty())
    return ran.said.empty()
               ? std::nullopt
               : std::optional(WeekLine{"oxygen of the week to come: the loop cannot be run, " + ran.said});
  const double limit = 31.998 * loop.limits.oxygen_low.si();
  const int minutes = static_cast<int>(low.hour * 60.0 + 0.5) % 1440;
  WeekLine line{
      fmt::format("oxygen of the week to come: {} {:.1f} mg/L in {}, {} {:02}:{:02} (limit {:.1f}); one run of "
                  "the model with middle values, {}",
                  low.mg_per_litre < limit ? "below the limit, down to" : "lowest", low.mg_per_litre, low.where,
                  low.date.text(), minutes / 60, minutes % 60, limit, like)};
  for (const learn::Taken& t : present.taken)
    if (t.used && t.path == "water.temperature") line.entries.push_back(t.entry);
  return line;
}

}  // namespace leat::answers
