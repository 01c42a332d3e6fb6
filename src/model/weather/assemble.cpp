#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "model/weather/hours.h"
#include "model/weather/weather.h"

namespace leat::model {
namespace {

constexpr int kHoursOfADay = 20;  // at least so many make an hourly file's day
constexpr Flux<> kDark{1.0};      // a cloudless day below this tells nothing of the cloud
constexpr double kUnknownCloud = 0.5;

/// What is known of one date, and what of it had to be supplied.
struct Known {
  WeatherDay day;
  bool found = false;
};

class Assembly {
  const Place& place_;
  const WeatherSources& sources_;
  CivilDate first_;
  int count_;
  Weather weather_;
  std::map<CivilDate, WeatherDay> hourly_, daily_, forecast_;
  std::vector<WeatherDay> days_;  ///< one more at each end
  std::vector<FullDay> full_;     ///< of the same
  YearNormals normals_;

 public:
  Assembly(const Place& place, const WeatherSources& sources, CivilDate first, int count)
      : place_(place), sources_(sources), first_(first), count_(count) {
    weather_.place = place;
  }

  Weather run() {
    set_span();
    index_sources();
    say_sources();
    choose_days();
    build_hours();
    say_what_was_supplied();
    return std::move(weather_);
  }

 private:
  /// Whole hours of universal time from the first midnight to the last, by the place's clock.
  void set_span() {
    const double from = place_.clock.instant({first_, 0.0}).seconds;
    const double to = place_.clock.instant({first_.plus_days(count_), 0.0}).seconds;
    weather_.start = {std::floor(from / 3600.0) * 3600.0};
    weather_.airs.resize(static_cast<std::size_t>(std::ceil((to - weather_.start.seconds) / 3600.0)) + 1);
  }

  void index_sources() {
    if (sources_.hourly) index_hourly(*sources_.hourly);
    if (sources_.daily)
      for (const WeatherDay& day : sources_.daily->days) daily_[day.date] = day;
    for (const WeatherDay& day : sources_.forecast) forecast_[day.date] = day;
  }

  /// The days of an hourly file, by the clock; those of fewer hours are left to the other sources.
  void index_hourly(const HourlyRecord& record) {
    std::map<CivilDate, std::vector<std::size_t>> hours;
    for (std::size_t i = 0; i < record.airs.size(); ++i)
      hours[place_.clock.local({record.start.seconds + 3600.0 * static_cast<double>(i)}).date].push_back(i);
    for (const auto& [date, list] : hours)
      if (list.size() >= kHoursOfADay) hourly_[date] = day_of_hours(record, date, list);
  }

  static WeatherDay day_of_hours(const HourlyRecord& record, CivilDate date, const std::vector<std::size_t>& hours) {
    WeatherDay day;
    day.date = date;
    day.source = DaySource::hourly_file;
    day.low = day.high = record.airs[hours.front()].temperature;
    double wind = 0.0, rain = 0.0, sun = 0.0;
    bool has_sun = hours.size() >= 23;
    for (const std::size_t i : hours) {
      const Air& air = record.airs[i];
      day.low = std::min(day.low, air.temperature);
      day.high = std::max(day.high, air.temperature);
      wind += air.wind.si();
      rain += air.rain.si() * 3600.0;
      sun += air.sun.si();
      has_sun = has_sun && record.has_sun[i];
    }
    const auto n = static_cast<double>(hours.size());
    if (record.has_wind) day.wind = Velocity<>(wind / n);
    if (record.has_rain) day.rain = Length<>(rain);
    if (has_sun) day.sun = Flux<>(sun / n);
    return day;
  }

  Known known(CivilDate date) const {
    Known best;
    for (const auto* source : {&hourly_, &daily_, &forecast_}) {
      const auto at = source->find(date);
      if (at == source->end()) continue;
      if (!best.found) {
        best = {at->second, true};
        continue;
      }
      WeatherDay& day = best.day;  // a lesser source fills what the better one left open
      if (!day.rain) day.rain = at->second.rain;
      if (!day.wind) day.wind = at->second.wind;
      if (!day.sun) day.sun = at->second.sun;
      if (!day.sky) day.sky = at->second.sky;
    }
    return best;
  }

  /// The days that are wanted and one at each end, which only gives its evening or its morning.
  void choose_days() {
    std::vector<Known> span;
    bool all = true;
    for (int n = -1; n <= count_; ++n) {
      span.push_back(known(first_.plus_days(n)));
      if (n >= 0 && n < count_) all = all && span.back().found;
    }
    std::vector<std::string> said;
    normals_ = normals_for(place_, sources_.daily ? sources_.daily->days : std::vector<WeatherDay>{}, said);
    if (!all) {
      weather_.assumptions.insert(weather_.assumptions.end(), said.begin(), said.end());
      const std::vector<WeatherDay> made = generate_days(place_, normals_, first_, count_, sources_.seed);
      for (std::size_t n = 0; n < made.size(); ++n)
        if (!span[n + 1].found) span[n + 1] = {made[n], true};
    }
    if (!span.front().found) span.front().day = moved(span[1].day, -1);
    if (!span.back().found) span.back().day = moved(span[span.size() - 2].day, 1);
    for (const Known& k : span) days_.push_back(k.day);
    weather_.days.assign(days_.begin() + 1, days_.end() - 1);
  }

  static WeatherDay moved(WeatherDay day, int days) {
    day.date = day.date.plus_days(days);
    return day;
  }

  /// Sun of a day: measured, else from the word for the sky, else from the span of the air's temperature.
  static Flux<> sun_of(const WeatherDay& day, const SunFrame& frame) {
    if (day.sun) return std::min(*day.sun, most_sun * frame.outside);
    if (day.sky) return clearness_of(*day.sky) * frame.clear;
    return std::min(science::radiation_hargreaves(day.high - day.low, frame.outside), frame.clear);
  }

  /// Share of the sky that is closed: what the day's sun lacks of a cloudless one's (Crawford and Duchon 1999).
  static double cloud_of(const WeatherDay& day, const SunFrame& frame, Flux<> sun) {
    if (frame.clear > kDark) return std::clamp(1.0 - (sun / frame.clear).si(), 0.0, 1.0);
    return day.sky ? 1.0 - clearness_of(*day.sky) : kUnknownCloud;
  }

  FullDay fill(const WeatherDay& day) const {
    FullDay full{sun_frame(place_, day.date), day.low, day.high, {}, {}, {}, {}, 0.0};
    const MonthNormal& normal = normals_[static_cast<std::size_t>(day.date.month - 1)];
    full.vapour = science::saturation_vapour_pressure(science::dew_point_from_lowest_air(day.low, sources_.dew));
    full.wind = day.wind.value_or(normal.wind);
    full.rain = day.rain.value_or(Length<>(0.0));
    full.sun = sun_of(day, full.frame);
    full.cloud = cloud_of(day, full.frame, full.sun);
    return full;
  }

  void build_hours() {
    for (const WeatherDay& day : days_) full_.push_back(fill(day));
    weather_.airs = hours_of_days(full_, weather_.start, weather_.airs.size());
    if (sources_.hourly) lay_over(*sources_.hourly);
    NoonWalk walk(full_);
    for (std::size_t k = 0; k < weather_.airs.size(); ++k) {
      const Instant t{weather_.start.seconds + 3600.0 * static_cast<double>(k)};
      split_sun(place_, full_[walk.nearest(t)].frame, t, weather_.airs[k]);
    }
  }

  /// Puts the hours of a file in place of the built ones, as far as it measured them.
  void lay_over(const HourlyRecord& record) {
    const auto shift =
        static_cast<std::ptrdiff_t>(std::lround((record.start.seconds - weather_.start.seconds) / 3600.0));
    for (std::size_t i = 0; i < record.airs.size(); ++i) {
      const std::ptrdiff_t k = static_cast<std::ptrdiff_t>(i) + shift;
      if (k < 0 || k >= static_cast<std::ptrdiff_t>(weather_.airs.size())) continue;
      Air& air = weather_.airs[static_cast<std::size_t>(k)];
      const Air& measured = record.airs[i];
      air.temperature = measured.temperature;
      if (record.has_vapour) air.vapour_pressure = measured.vapour_pressure;
      air.vapour_pressure = science::vapour_pressure_capped(air.vapour_pressure, air.temperature);
      if (record.has_wind) air.wind = measured.wind;
      if (record.has_rain) air.rain = measured.rain;
      if (record.has_sun[i]) air.sun = measured.sun;
    }
  }

  void say(std::string sentence) { weather_.assumptions.push_back(std::move(sentence)); }

  void say_sources() {
    if (sources_.hourly)
      for (const std::string& said : sources_.hourly->assumptions) say(said);
    if (sources_.daily)
      for (const std::string& said : sources_.daily->assumptions) say(said);
  }

  void say_counts() {
    std::array<int, 4> counts{};
    for (const WeatherDay& day : weather_.days) ++counts[static_cast<std::size_t>(day.source)];
    std::string parts;
    for (std::size_t i = 0; i < counts.size(); ++i)
      if (counts[i] > 0)
        parts += fmt::format("{}{} {}", parts.empty() ? "" : ", ", counts[i], word_for(static_cast<DaySource>(i)));
    say(fmt::format("Days by where they come from: {}.", parts));
    if (counts[static_cast<std::size_t>(DaySource::generated)] > 0)
      say(fmt::format(
          "Generated days (seed {}) are like the place's weather in the mean and from day to day, but they are "
          "no forecast, and real spells last longer.",
          sources_.seed));
  }

  void say_what_was_supplied() {
    say_counts();
    if (!(sources_.hourly && sources_.hourly->has_vapour && all_hourly()))
      say(fmt::format(
          "The dew point is the day's lowest air temperature less {} K, held over the day; where dew forms on "
          "most clear mornings 0 K is right, in dry places 3 or 6.",
          sources_.dew == science::MorningDew::most   ? 0
          : sources_.dew == science::MorningDew::some ? 3
                                                      : 6));
    say_sun();
    if (any([](const WeatherDay& d, const SunFrame&) { return !d.wind; }))
      say("Days without a wind are given what is usual for the month.");
    if (any([](const WeatherDay& d, const SunFrame&) { return !d.rain; })) say("Days without a rain are taken as dry.");
  }

  void say_sun() {
    if (any([](const WeatherDay& d, const SunFrame&) { return !d.sun && !d.sky; }))
      say("Where neither sun nor a word for the sky is given, the sun comes from the span of the day's air (0.16 of "
          "FAO-56, "
          "inland), to 3 or 4 MJ/m2 of a day.");
    if (any([](const WeatherDay& d, const SunFrame&) { return !d.sun && d.sky; }))
      say("A sky that is clear, mixed or overcast is taken to let through 0.95, 0.65 or 0.30 of a cloudless day's sun "
          "(common practice, no source).");
    if (any([](const WeatherDay& d, const SunFrame& f) { return d.sun && *d.sun > most_sun * f.outside; }))
      say("Days with more sun than the air lets through are cut to 0.85 of what falls outside it.");
    if (any([](const WeatherDay& d, const SunFrame& f) { return !d.sky && f.clear <= kDark; }))
      say("On days without daylight half the sky is taken as cloudy.");
  }

  /// Whether something holds for any of the days that are wanted.
  template <class F>
  bool any(F holds) const {
    for (std::size_t i = 0; i < weather_.days.size(); ++i)
      if (holds(weather_.days[i], full_[i + 1].frame)) return true;
    return false;
  }

  bool all_hourly() const {
    return std::all_of(weather_.days.begin(), weather_.days.end(),
                       [](const WeatherDay& d) { return d.source == DaySource::hourly_file; });
  }
};

}  // namespace

Weather assemble_weather(const Place& place, const WeatherSources& sources, CivilDate first, int count) {
  return Assembly(place, sources, first, std::max(count, 1)).run();
}

}  // namespace leat::model
