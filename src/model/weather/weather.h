// The weather that drives a run, hour by hour, and where each day of it came from.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv.h"
#include "base/time/civil.h"
#include "base/units/quantity.h"
#include "science/heat/vapour.h"

namespace leat::model {

struct Place {
  double latitude_deg = 0.0;   ///< north positive
  double longitude_deg = 0.0;  ///< east positive
  Length<> altitude{};
  Clock clock = Clock::fixed(0.0, "UTC");
};

enum class DaySource { hourly_file, daily_record, forecast, generated };
std::string_view word_for(DaySource source);

enum class Sky { clear, mixed, overcast };
enum class WindWord { calm, light, windy };

/// One day as people know it.
struct WeatherDay {
  CivilDate date;
  Temperature<> low, high;
  std::optional<Length<>> rain;    ///< depth of the day
  std::optional<Velocity<>> wind;  ///< mean, at 10 m
  std::optional<Sky> sky;
  std::optional<Flux<>> sun;  ///< mean global radiation of the day
  DaySource source = DaySource::daily_record;
};

/// The air at one instant. Between the instants of a Weather everything is linear.
struct Air {
  Temperature<> temperature;
  Pressure<> vapour_pressure;  ///< actual, of water vapour
  Velocity<> wind;             ///< open ground, at 10 m
  Flux<> sun;                  ///< global, on the level
  Flux<> diffuse;              ///< its diffuse part
  double cloud = 0.0;          ///< 0 clear to 1 overcast: share of the sky's long-wave closed by cloud
  Velocity<> rain{};           ///< depth per time
};

struct Weather {
  Place place;
  Instant start;                         ///< of airs[0]; the rest follow hour by hour
  std::vector<Air> airs;                 ///< one more than there are hours
  std::vector<WeatherDay> days;          ///< what was known of each day
  std::vector<std::string> assumptions;  ///< one sentence each: what was assumed and why

  Instant end() const { return {start.seconds + 3600.0 * static_cast<double>(airs.size() - 1)}; }
  /// Linear between hours; clamped at the ends.
  Air at(Instant t) const;
};

/// Reads a daily record: columns date, min (or temp_min), max (or temp_max), and optionally rain (precipitation), wind,
/// sun, sky, location. A unit may stand behind a name in brackets or after a blank: "wind (m/s)", "max degF". Without
/// one: degC, mm, m/s, MJ/m2/d; that is said. min > max, gaps, doubled dates, impossible values are problems with their
/// line.
struct DailyRecord {
  std::vector<WeatherDay> days;  ///< in order of date
  std::vector<int> lines;        ///< of each day in its file
  std::vector<std::string> assumptions;
};
DailyRecord read_daily_record(std::string_view text, std::string_view file, std::string_view location,
                              Problems& problems);

/// Finds what only the place can tell: days with more sun than the sky lets through (0.85 of what falls outside the
/// air).
void check_daily_sun(const DailyRecord& record, const Place& place, std::string_view file, Problems& problems);

/// Reads an hourly file: columns time (or date), temperature (temp, air), and optionally humidity (%), dew (dew point),
/// wind, sun, rain, pressure. Rows must be an hour apart; up to three missing hours are bridged and said. Times are by
/// the place's clock, or by its standard time all year where that leaves fewer holes. Where the middle of the sun's day
/// lies up to 0.75 h off solar noon (means stamped at the end of their hour), the sun is moved and that is said; more
/// is a problem.
struct HourlyRecord {
  Instant start;              ///< on a whole hour of universal time
  std::vector<Air> airs;      ///< without the diffuse sun and the cloud, which `assemble_weather` adds
  std::vector<bool> has_sun;  ///< false where the sun must be built
  bool has_vapour = false, has_wind = false, has_rain = false;
  std::vector<std::string> assumptions;
};
HourlyRecord read_hourly_record(std::string_view text, std::string_view file, const Place& place, Problems& problems);

/// A day of calm, light or windy air: 1, 2.5 and 6.5 m/s at 10 m (middles of Beaufort's classes; common practice).
Velocity<> wind_of(WindWord word);
/// Radiation of a day over that of a cloudless one: 0.95 clear, 0.65 mixed, 0.30 overcast (common practice).
double clearness_of(Sky sky);

/// Reads typed days: "tomorrow min 4 max 12 clear light wind rain 2 mm", one a line or separated by ';'. The first word
/// may be a date, "today", "tomorrow", or a weekday; without one the days follow on, from today.
std::vector<WeatherDay> read_forecast(std::string_view text, std::string_view file, CivilDate today,
                                      Problems& problems);

/// What is typical of a month at a place, for the generator.
struct MonthNormal {
  Temperature<> low, high;
  double low_sd = 2.5, high_sd = 3.0;  ///< day to day, K
  double wet_share = 0.4;
  Length<> rain_of_wet_day{0.006};
  Velocity<> wind{3.0};
  double clearness_dry = 0.62, clearness_wet = 0.35;  ///< Rs/Ra
};
using YearNormals = std::vector<MonthNormal>;  ///< twelve, January first

/// Air of a place from its latitude and altitude alone: mean of the year, half the span from the coldest to the warmest
/// month, span of a day. A rough zonal table between oceans and continents: common practice, no source; expect to be 3
/// to 5 K off.
struct ZonalAir {
  Temperature<> mean;
  TemperatureDifference<> half_swing, span_of_day;
};
ZonalAir zonal_air(const Place& place);

/// Normals from a record where a month has at least 20 days of it, else from latitude and altitude alone (rough; said).
YearNormals normals_for(const Place& place, const std::vector<WeatherDay>& record,
                        std::vector<std::string>& assumptions);

/// Seeded days from normals: a two-state rain chain and correlated residuals (Richardson 1981). Same seed, same days.
std::vector<WeatherDay> generate_days(const Place& place, const YearNormals& normals, CivilDate first, int count,
                                      std::uint64_t seed);

/// Everything that may be known, for `count` days from `first`: an hourly file wins over the daily record, that over
/// the forecast, that over the generator.
struct WeatherSources {
  std::optional<HourlyRecord> hourly;
  std::optional<DailyRecord> daily;
  std::vector<WeatherDay> forecast;
  std::uint64_t seed = 1;
  science::MorningDew dew = science::MorningDew::most;  ///< "does dew form on most clear mornings?"
};
Weather assemble_weather(const Place& place, const WeatherSources& sources, CivilDate first, int count);

}  // namespace leat::model
