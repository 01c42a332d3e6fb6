#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "model/weather/hours.h"
#include "model/weather/weather.h"

namespace leat::model {
namespace {

constexpr std::size_t kEnoughDays = 20;
constexpr double kWetDay = 0.0002;  // m; less is dew or a trace

/// Common practice, no source: round figures between the coasts and the inner land, where people live.
struct ZonalRow {
  double latitude, mean_c, half_swing_k, span_k;
};
constexpr std::array kZones = {ZonalRow{0, 26.5, 0.8, 9},   ZonalRow{10, 27.0, 1.5, 9.5}, ZonalRow{20, 25.5, 4.0, 10},
                               ZonalRow{30, 20.5, 7.0, 11}, ZonalRow{40, 14.0, 9.5, 10},  ZonalRow{50, 9.5, 9.0, 8.5},
                               ZonalRow{60, 4.0, 11.5, 8},  ZonalRow{70, -5.0, 13.0, 7},  ZonalRow{80, -16.0, 15.0, 6},
                               ZonalRow{90, -20.0, 16.0, 5}};
constexpr double kLapse = 6.0e-3;     // K/m
constexpr double kColdestDay = 22.0;  // of the year in the north, half a year later in the south

/// Means over the days of one month in a record.
struct MonthSums {
  std::size_t days = 0, wet = 0, with_rain = 0, with_wind = 0;
  double low = 0, high = 0, low2 = 0, high2 = 0, rain = 0, wind = 0;
  std::array<double, 2> clearness{};  // dry, wet
  std::array<std::size_t, 2> with_clearness{};
};

double clearness_from(const WeatherDay& day, const SunFrame& frame) {
  const double outside = frame.outside.si();
  if (outside < 1.0) return -1.0;
  const Flux<> guessed = std::min(science::radiation_hargreaves(day.high - day.low, frame.outside), frame.clear);
  return std::min(day.sun.value_or(guessed).si() / outside, most_sun);
}

void add(MonthSums& m, const WeatherDay& day, const Place& place) {
  ++m.days;
  const double low = day.low.celsius(), high = day.high.celsius();
  m.low += low, m.low2 += low * low, m.high += high, m.high2 += high * high;
  const bool wet = day.rain && day.rain->si() > kWetDay;
  if (day.rain) ++m.with_rain;
  if (wet) ++m.wet, m.rain += day.rain->si();
  if (day.wind) ++m.with_wind, m.wind += day.wind->si();
  const double clearness = clearness_from(day, sun_frame(place, day.date));
  if (clearness >= 0.0) ++m.with_clearness[wet], m.clearness[wet] += clearness;
}

double sd_of(double sum, double sum2, std::size_t n) {
  const auto count = static_cast<double>(n);
  return std::sqrt(std::max(0.0, (sum2 - sum * sum / count) / (count - 1.0)));
}

void take_record(MonthNormal& normal, const MonthSums& m) {
  const auto mean = [](double sum, std::size_t n) { return sum / static_cast<double>(n); };
  normal.low = Temperature<>::from_celsius(mean(m.low, m.days));
  normal.high = Temperature<>::from_celsius(mean(m.high, m.days));
  normal.low_sd = sd_of(m.low, m.low2, m.days);
  normal.high_sd = sd_of(m.high, m.high2, m.days);
  if (m.with_rain >= kEnoughDays) {
    normal.wet_share = mean(static_cast<double>(m.wet), m.with_rain);
    if (m.wet > 0) normal.rain_of_wet_day = Length<>(mean(m.rain, m.wet));
  }
  if (m.with_wind >= kEnoughDays) normal.wind = Velocity<>(mean(m.wind, m.with_wind));
  if (m.with_clearness[0] >= 5) normal.clearness_dry = mean(m.clearness[0], m.with_clearness[0]);
  if (m.with_clearness[1] >= 5) normal.clearness_wet = mean(m.clearness[1], m.with_clearness[1]);
}

YearNormals zonal_normals(const Place& place) {
  const ZonalAir air = zonal_air(place);
  const double side = place.latitude_deg < 0.0 ? -1.0 : 1.0;
  YearNormals year(12);
  for (std::size_t m = 0; m < 12; ++m) {
    const double turn = 2.0 * std::numbers::pi * ((static_cast<double>(m) + 0.5) / 12.0 - kColdestDay / 365.0);
    const Temperature<> mean = air.mean - side * std::cos(turn) * air.half_swing;
    year[m].low = mean - 0.5 * air.span_of_day;
    year[m].high = mean + 0.5 * air.span_of_day;
  }
  return year;
}

/// Moves the months that no record covers by what the covered ones lie off the zonal table.
void shift_unknown(YearNormals& year, const YearNormals& zonal, const std::vector<bool>& known) {
  const auto n = std::count(known.begin(), known.end(), true);
  if (n == 0 || n == 12) return;
  TemperatureDifference<> low, high;
  for (std::size_t m = 0; m < 12; ++m)
    if (known[m]) low += year[m].low - zonal[m].low, high += year[m].high - zonal[m].high;
  for (std::size_t m = 0; m < 12; ++m) {
    if (known[m]) continue;
    year[m].low = zonal[m].low + low / static_cast<double>(n);
    year[m].high = zonal[m].high + high / static_cast<double>(n);
  }
}

}  // namespace

ZonalAir zonal_air(const Place& place) {
  const double latitude = std::min(std::abs(place.latitude_deg), 90.0);
  const auto i = std::min(static_cast<std::size_t>(latitude / 10.0), kZones.size() - 2);
  const ZonalRow &a = kZones[i], &b = kZones[i + 1];
  const double share = (latitude - a.latitude) / (b.latitude - a.latitude);
  const auto mix = [share](double x, double y) { return x + share * (y - x); };
  return {Temperature<>::from_celsius(mix(a.mean_c, b.mean_c) - kLapse * place.altitude.si()),
          TemperatureDifference<>(mix(a.half_swing_k, b.half_swing_k)),
          TemperatureDifference<>(mix(a.span_k, b.span_k))};
}

YearNormals normals_for(const Place& place, const std::vector<WeatherDay>& record,
                        std::vector<std::string>& assumptions) {
  std::array<MonthSums, 12> months;
  for (const WeatherDay& day : record) add(months[static_cast<std::size_t>(day.date.month - 1)], day, place);
  const YearNormals zonal = zonal_normals(place);
  YearNormals year = zonal;
  std::vector<bool> known(12);
  for (std::size_t m = 0; m < 12; ++m) {
    known[m] = months[m].days >= kEnoughDays;
    if (known[m]) take_record(year[m], months[m]);
  }
  shift_unknown(year, zonal, known);
  const auto n = std::count(known.begin(), known.end(), true);
  if (n > 0)
    assumptions.push_back(n == 12 ? std::string("What is typical of each month is taken from the record.")
                                  : fmt::format("What is typical of {} of the 12 months is taken from the record.", n));
  if (n < 12)
    assumptions.push_back(
        fmt::format("What is typical of {} is a rough guess from latitude and altitude (common practice, no source; 3 "
                    "to 5 degC off); a "
                    "year of daily lows and highs in a weather file replaces it.",
                    n == 0 ? "each month" : "the other months"));
  return year;
}

}  // namespace leat::model
