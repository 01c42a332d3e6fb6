#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "model/weather/hourly_times.h"
#include "model/weather/sun_clock.h"
#include "model/weather/weather.h"

namespace leat::model {
namespace {

enum Word { kTime, kTemperature, kHumidity, kDew, kWind, kSun, kRain, kPressure };

const std::vector<ColumnWord>& hourly_words() {
  constexpr std::string_view kHot = R"(is the column in Fahrenheit? name it "{} degF"; in tenths? divide by ten)";
  static const std::vector<ColumnWord> words = {
      {"time", {"date", "datetime", "date_time", "timestamp"}, "", 0, 0, ""},
      {"temperature", {"temp", "air", "air_temperature", "temp_air", "t", "temperature_2m"}, "degC", -60.0, 50.0, kHot},
      {"humidity",
       {"rh", "relative_humidity", "relative_humidity_2m"},
       "%",
       0.0,
       105.0,
       "relative humidity ends at 100 %"},
      {"dew", {"dew_point", "dewpoint", "dew_point_2m", "temp_dew"}, "degC", -80.0, 40.0, kHot},
      {"wind",
       {"wind_speed", "windspeed", "wind_speed_10m"},
       "m/s",
       0.0,
       25.0,
       R"(is the column in km/h? name it "{} km/h")"},
      {"sun",
       {"radiation", "solar_radiation", "global_radiation", "solar", "ghi", "rs", "shortwave_radiation"},
       "W/m2",
       -20.0,
       1500.0,
       "write the unit behind the name, such as \"{} (kJ/m2)\"",
       true},
      {"rain",
       {"precipitation", "precip", "rainfall"},
       "mm",
       0.0,
       200.0,
       "is the column in tenths of a millimetre? divide by ten",
       true},
      {"pressure", {"air_pressure", "surface_pressure"}, "hPa", 400.0, 1100.0, R"(is it in Pa? name it "{} Pa")"}};
  return words;
}

/// One quantity hour by hour from the first row.
using Series = std::vector<std::optional<double>>;

Series series_of(Sheet& sheet, const std::vector<HourlyRow>& rows, Word word) {
  const double first = rows.front().at.seconds;
  const auto index = [&](const HourlyRow& row) {
    return static_cast<std::size_t>(std::lround((row.at.seconds - first) / 3600.0));
  };
  Series series(index(rows.back()) + 1);
  for (const HourlyRow& row : rows) series[index(row)] = sheet.number(*row.row, word);
  return series;
}

/// Draws straight lines over short holes between measured hours. Returns how many hours, or nothing at a longer hole.
std::optional<int> bridge(Series& series) {
  int bridged = 0;
  for (std::size_t i = 0; i < series.size(); ++i) {
    if (series[i]) continue;
    std::size_t end = i;
    while (end < series.size() && !series[end]) ++end;
    const auto length = static_cast<int>(end - i);
    if (length > most_bridged_hours || (i == 0 && end == series.size())) return std::nullopt;
    const double before = *series[i > 0 ? i - 1 : end], after = *series[end < series.size() ? end : i - 1];
    for (int k = 0; k < length; ++k)
      series[i + static_cast<std::size_t>(k)] = before + (after - before) * (k + 1.0) / (length + 1.0);
    bridged += length;
  }
  return bridged;
}

/// Everything read, before it is moved to whole hours of universal time.
struct Columns {
  Instant start;
  Series temperature, vapour, wind, rain;
  HourlySun sun;
};

class Reader {
  Sheet sheet_;
  std::string_view file_;
  const Place& place_;
  Problems& problems_;
  std::vector<HourlyRow> rows_;
  HourlyRecord record_;
  int bridged_ = 0;

 public:
  Reader(std::string_view text, std::string_view file, const Place& place, Problems& problems)
      : sheet_(text, file, hourly_words(), 3600.0, problems), file_(file), place_(place), problems_(problems) {}

  HourlyRecord read() {
    const std::size_t before = problems_.size();
    if (sheet_.broken()) return {};
    const bool has_time = sheet_.require(kTime, "the time");
    if (!sheet_.require(kTemperature, "the air temperature") || !has_time) return {};
    record_.assumptions = sheet_.assumptions();
    rows_ = read_hourly_times(sheet_, kTime);
    if (!rows_.empty()) choose_hourly_clock(rows_, place_, file_, record_.assumptions);
    const bool every_time = rows_.size() == sheet_.rows().size();
    const bool sound = every_time && rows_.size() >= 2 && check_hourly_steps(sheet_, kTime, rows_);
    if (sound) read_columns();
    sheet_.finish();
    if (sheet_.rows().size() < 2)
      problems_.add({std::string(file_), 0, 0, "",
                     R"(holds fewer than two hours; write one row an hour, such as "2026-01-05T14:00,3.5")"});
    return problems_.size() == before ? std::move(record_) : HourlyRecord{};
  }

 private:
  void read_columns() {
    Columns c;
    c.start = rows_.front().at;
    c.temperature = bridged(kTemperature);
    if (sheet_.has(kDew) || sheet_.has(kHumidity)) c.vapour = vapour(c.temperature);
    if (sheet_.has(kWind)) c.wind = bridged(kWind);
    if (sheet_.has(kRain)) c.rain = series_of(sheet_, rows_, kRain);
    if (sheet_.has(kDew) && sheet_.has(kHumidity))
      record_.assumptions.push_back(fmt::format("{}: the dew point is used and the humidity is not.", file_));
    if (sheet_.has(kPressure))
      record_.assumptions.push_back(fmt::format("{}: the pressure is not used; the altitude sets it.", file_));
    c.sun.start = c.start;
    if (sheet_.has(kSun)) {
      c.sun.watts = series_of(sheet_, rows_, kSun);
      for (auto& watts : c.sun.watts)
        if (watts) watts = std::max(0.0, *watts);
      check_sun(c.sun);
    }
    if (bridged_ > 0)
      record_.assumptions.push_back(fmt::format("{}: {} missing {} bridged in a straight line.", file_, bridged_,
                                                bridged_ == 1 ? "value is" : "values are"));
    move_to_whole_hours(c);
  }

  Series bridged(Word word) {
    Series series = series_of(sheet_, rows_, word);
    if (const auto n = bridge(series)) {
      bridged_ += *n;
      return series;
    }
    sheet_.complain_of_column(
        word, fmt::format(R"("{}" is empty for more than {} hours in a row; fill it, or leave the column out)",
                          sheet_.heading(word), most_bridged_hours));
    return {};
  }

  Series vapour(const Series& temperature) {
    if (temperature.empty()) return {};
    Series series = bridged(sheet_.has(kDew) ? kDew : kHumidity);
    if (!sheet_.has(kDew)) check_share(series);
    for (std::size_t i = 0; i < series.size(); ++i) {
      const auto air = Temperature<>::from_kelvin(*temperature[i]);
      const Pressure<> e = sheet_.has(kDew)
                               ? science::saturation_vapour_pressure(Temperature<>::from_kelvin(*series[i]))
                               : science::vapour_pressure_from_humidity(air, Number<>(*series[i]));
      series[i] = science::vapour_pressure_capped(e, air).si();
    }
    return series;
  }

  /// Humidity written from 0 to 1 would be read as next to nothing.
  void check_share(const Series& humidity) {
    if (humidity.empty()) return;
    const auto most = *std::max_element(humidity.begin(), humidity.end());
    if (*most <= 0.0105)
      sheet_.complain_of_column(kHumidity,
                                fmt::format("\"{}\" never passes 1 %; is it a share from 0 to 1? name it \"{} (-)\"",
                                            sheet_.heading(kHumidity), sheet_.heading(kHumidity)));
  }

  void check_sun(HourlySun& sun) {
    const std::vector<MeasuredSunDay> days = measured_sun_days(sun, place_);
    for (const MeasuredSunDay& day : days) check_most(day);
    const auto off = noon_off(days);
    if (!off) {
      record_.assumptions.push_back(fmt::format("{}: too little clear sun to check its clock by solar noon.", file_));
      return;
    }
    const double hours = off->off.in(units::hour);
    const std::string where =
        fmt::format("{:.2f} h {} solar noon ({} {}{})", std::abs(hours), hours < 0.0 ? "before" : "after", off->days,
                    off->clear ? "clear " : "", off->days == 1 ? "day" : "days");
    if (std::abs(hours) > noon_off_movable.in(units::hour)) {
      const bool offsets = rows_.front().time.utc_offset_hours.has_value();
      sheet_.complain_of_column(
          kSun,
          fmt::format("\"{}\" has its middle {}{}", sheet_.heading(kSun), where,
                      offsets ? std::string("; correct the offset behind the times, or the longitude")
                              : fmt::format(", so the times are not by the clock {}; write the offset behind each "
                                            "time, such as \"2026-07-01T12:00+01:00\", or correct the longitude",
                                            place_.clock.name())));
    } else if (std::abs(hours) > noon_off_allowed.in(units::hour)) {
      sun.start.seconds -= off->off.si();
      record_.assumptions.push_back(fmt::format(
          "{}: the middle of the sun lies {}; it is moved there, as if its stamps were not at the middle of what "
          "they mean.",
          file_, where));
    }
  }

  void check_most(const MeasuredSunDay& day) {
    const Flux<> most = most_sun * day.frame.outside;
    if (day.mean <= most) return;
    const auto mj = [](Flux<> f) { return f.in(science::megajoule_per_square_metre_day); };
    const auto row = std::find_if(rows_.begin(), rows_.end(), [&](const HourlyRow& r) {
      return r.at.seconds >= rows_.front().at.seconds + 3600.0 * static_cast<double>(day.middle_hour) - 1.0;
    });
    if (row == rows_.end()) return;
    sheet_.complain_once("sun of a day", *row->row, kSun,
                         fmt::format("belongs to a day of {:.1f} MJ/m2, more than the air lets through there ({:.1f})",
                                     mj(day.mean), mj(most)),
                         "check the unit, the date and the latitude");
  }

  /// Straight lines between the rows, read off at whole hours.
  void move_to_whole_hours(const Columns& c) {
    if (c.temperature.empty()) return;
    const double first = std::ceil(c.start.seconds / 3600.0 - 1e-6) * 3600.0;
    const double last = c.start.seconds + 3600.0 * static_cast<double>(c.temperature.size() - 1);
    if (std::abs(first - c.start.seconds) > 1.0)
      record_.assumptions.push_back(
          fmt::format("{}: its rows are not on the hour of universal time; values between are "
                      "read off straight lines.",
                      file_));
    record_.start = {first};
    record_.has_vapour = !c.vapour.empty();
    record_.has_wind = !c.wind.empty();
    record_.has_rain = !c.rain.empty();
    for (double t = first; t <= last + 1.0; t += 3600.0) {
      const auto at = [&](const Series& series) { return HourlySun{c.start, series}.at({t}).value_or(0.0); };
      Air air{Temperature<>::from_kelvin(at(c.temperature)),
              Pressure<>(at(c.vapour)),
              Velocity<>(at(c.wind)),
              {},
              {},
              0.0,
              Velocity<>(at(c.rain) / 3600.0)};
      const auto sun = c.sun.at({t});
      air.sun = Flux<>(sun.value_or(0.0));
      record_.airs.push_back(air);
      record_.has_sun.push_back(sun.has_value());
    }
  }
};

}  // namespace

HourlyRecord read_hourly_record(std::string_view text, std::string_view file, const Place& place, Problems& problems) {
  return Reader(text, file, place, problems).read();
}

}  // namespace leat::model
