#include "doors/command/weather_flags.h"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <chrono>

#include "base/words/letters.h"
#include "doors/command/files.h"

namespace leat::doors {
namespace {

using namespace model;

/// Today by the place's clock, unless --today says another day. A wrong --today is told where the flags are checked.
CivilDate today(const AheadFlags& flags, const Clock& clock) {
  if (!flags.today.empty())
    if (const auto read = read_date(flags.today); std::holds_alternative<CivilDate>(read))
      return std::get<CivilDate>(read);
  const auto now = std::chrono::system_clock::now().time_since_epoch();
  return clock.local(Instant{std::chrono::duration<double>(now).count()}).date;
}

/// The first day of the run: --start, or the first of --month in this year, or today.
CivilDate first_day(const AheadFlags& flags, const Place& place, Problems& problems) {
  const CivilDate now = today(flags, place.clock);
  if (!flags.start.empty()) {
    const auto read = read_date(flags.start);
    if (const auto* bad = std::get_if<Unreadable>(&read)) {
      problems.add({"--start", 0, 0, "", fmt::format("\"{}\" {}", flags.start, bad->wrong)});
      return now;
    }
    return std::get<CivilDate>(read);
  }
  if (flags.month.empty()) return now;
  static constexpr std::string_view names[] = {"january", "february", "march",     "april",   "may",      "june",
                                               "july",    "august",   "september", "october", "november", "december"};
  const std::string word = words::in_small_letters(flags.month);
  for (int m = 0; m < 12; ++m)
    if (word.size() >= 3 && names[m].starts_with(word)) return {now.year + (m + 1 < now.month ? 1 : 0), m + 1, 1};
  int month = 0;
  const auto read = std::from_chars(word.data(), word.data() + word.size(), month);
  if (read.ec == std::errc{} && read.ptr == word.data() + word.size() && month >= 1 && month <= 12)
    return {now.year + (month < now.month ? 1 : 0), month, 1};
  problems.add(
      {"--month", 0, 0, "", fmt::format("\"{}\" is no month; write 1 to 12 or a name such as november", flags.month)});
  return now;
}

/// Typed days without a day of their own begin tomorrow: that is what the flag is called.
std::string from_tomorrow(const std::string& text) {
  const std::size_t first = text.find_first_not_of(' ');
  const bool bare =
      first != std::string::npos && (text.compare(first, 3, "min") == 0 || text.compare(first, 3, "max") == 0);
  return bare ? "tomorrow " + text.substr(first) : text;
}

WeatherSources read_sources(const AheadFlags& flags, const Place& place, Problems& problems) {
  WeatherSources sources;
  sources.seed = flags.seed;
  if (!flags.weather.empty())
    if (const auto text = read_file(flags.weather, problems)) {
      sources.daily = read_daily_record(*text, flags.weather, flags.location, problems);
      check_daily_sun(*sources.daily, place, flags.weather, problems);
    }
  if (!flags.noted.empty() && !sources.daily) sources.daily.emplace();
  for (const WeatherDay& day : flags.noted) {
    const auto is_it = [&](const WeatherDay& known) { return known.date == day.date; };
    if (std::any_of(sources.daily->days.begin(), sources.daily->days.end(), is_it)) continue;
    sources.daily->days.push_back(day);
    sources.daily->lines.push_back(0);
  }
  if (!flags.hourly.empty())
    if (const auto text = read_file(flags.hourly, problems))
      sources.hourly = read_hourly_record(*text, flags.hourly, place, problems);
  if (!flags.forecast.empty())
    if (const auto text = read_file(flags.forecast, problems))
      sources.forecast = read_forecast(*text, flags.forecast, today(flags, place.clock), problems);
  if (!flags.tomorrow.empty())
    for (WeatherDay& day :
         read_forecast(from_tomorrow(flags.tomorrow), "--tomorrow", today(flags, place.clock), problems))
      sources.forecast.push_back(day);
  return sources;
}

}  // namespace

AskedYears read_years(const AheadFlags& flags, int years, const Place& place, Problems& problems) {
  if (flags.days < 1 || flags.days > 3660)
    problems.add({"--days", 0, 0, "",
                  fmt::format("{} is not between 1 and 3660; write a number of days such as 14", flags.days)});
  if (const auto read = read_date(flags.today); !flags.today.empty() && std::holds_alternative<Unreadable>(read))
    problems.add({"--today", 0, 0, "", fmt::format("\"{}\" {}", flags.today, std::get<Unreadable>(read).wrong)});
  if (!flags.start.empty() && !flags.month.empty())
    problems.add({"--month", 0, 0, "", "stands beside --start; keep one of the two"});
  const WeatherSources sources = read_sources(flags, place, problems);
  const CivilDate first = first_day(flags, place, problems);
  for (const WeatherDay& day : sources.forecast)
    if (problems.empty() && (day.date < first || day.date >= first.plus_days(flags.days)))
      problems.add({flags.forecast.empty() ? "--tomorrow" : "typed days", 0, 0, "",
                    fmt::format("{} lies outside the run of {} days from {}; change the day, --start or --days",
                                day.date.text(), flags.days, first.text())});
  AskedYears asked{first, {}};
  for (int y = 0; y < years && problems.empty(); ++y) {
    WeatherSources one = sources;
    one.seed = sources.seed + static_cast<std::uint64_t>(y);
    asked.years.push_back(assemble_weather(place, one, first, flags.days));
  }
  return asked;
}

AskedWeather read_weather(const AheadFlags& flags, const Place& place, Problems& problems) {
  AskedYears asked = read_years(flags, 1, place, problems);
  if (asked.years.empty()) return {asked.first, {}};
  return {asked.first, std::move(asked.years.front())};
}

void check_members(int members, Problems& problems) {
  if (members > 5000 || (members > 0 && members < 20))
    problems.add(
        {"--members", 0, 0, "",
         fmt::format("{} runs make no band; write 20 to 5000, such as --members 100, or 0 for none", members)});
}

}  // namespace leat::doors
