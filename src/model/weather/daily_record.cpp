#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "model/weather/columns.h"
#include "model/weather/hours.h"
#include "model/weather/weather.h"

namespace leat::model {
namespace {

enum Word { kDate, kMin, kMax, kRain, kWind, kSun, kSky, kLocation };

const std::vector<ColumnWord>& daily_words() {
  constexpr std::string_view kHot =
      R"(is the column in Fahrenheit? name it "{} degF"; in tenths of a degree? divide by ten)";
  static const std::vector<ColumnWord> words = {
      {"date", {"day", "time"}, "", 0, 0, ""},
      {"min",
       {"temp_min", "tmin", "low", "min_temp", "temperature_min", "minimum", "lowest", "mintemp", "temperature_2m_min"},
       "degC",
       -60.0,
       50.0,
       kHot},
      {"max",
       {"temp_max", "tmax", "high", "max_temp", "temperature_max", "maximum", "highest", "maxtemp",
        "temperature_2m_max"},
       "degC",
       -60.0,
       50.0,
       kHot},
      {"rain",
       {"precipitation", "precip", "prcp", "rainfall", "precipitation_sum", "rain_sum"},
       "mm",
       0.0,
       500.0,
       R"(is the column in tenths of a millimetre? divide by ten)",
       true},
      {"wind",
       {"wind_speed", "windspeed", "awnd", "wind_mean"},
       "m/s",
       0.0,
       25.0,
       R"(is the column in km/h? name it "{} km/h")"},
      {"sun",
       {"radiation", "solar_radiation", "global_radiation", "solar", "rs", "shortwave_radiation_sum"},
       "MJ/m2/d",
       0.0,
       45.0,
       R"(is the column in W/m2? name it "{} W/m2")",
       true},
      {"sky", {"sky_word"}, "", 0, 0, ""},
      {"location", {"station", "place", "city", "town"}, "", 0, 0, ""}};
  return words;
}

std::string lower(std::string_view text) {
  std::string low(text);
  for (char& c : low) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return low;
}

std::string quoted_list(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size() && i < 6; ++i)
    text += (i == 0 ? "\"" : i + 1 == names.size() ? " and \"" : ", \"") + names[i] + '"';
  return names.size() > 6 ? text + fmt::format(" and {} more", names.size() - 6) : text;
}

std::vector<std::string> locations(const Sheet& sheet) {
  std::vector<std::string> names;
  for (const CsvRow& row : sheet.rows()) {
    const std::string name(sheet.text(row, kLocation));
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

/// The location whose rows are wanted; nothing when that cannot be known (told).
std::optional<std::string> chosen_location(Sheet& sheet, std::string_view wanted) {
  const std::vector<std::string> names = locations(sheet);
  if (wanted.empty()) {
    if (names.size() < 2) return names.empty() ? "" : names.front();
    sheet.complain_of_column(kLocation, fmt::format(R"(holds {}; say which one is meant, such as location "{}")",
                                                    quoted_list(names), names.front()));
    return std::nullopt;
  }
  for (const std::string& name : names)
    if (lower(name) == lower(wanted)) return name;
  sheet.complain_of_column(kLocation, fmt::format(R"("{}" is not in this column, which holds {}; write one of them)",
                                                  wanted, quoted_list(names)));
  return std::nullopt;
}

std::optional<Sky> read_sky(Sheet& sheet, const CsvRow& row) {
  const std::string word = lower(sheet.text(row, kSky));
  if (word.empty() || word == "na" || word == "-") return std::nullopt;
  if (word == "clear") return Sky::clear;
  if (word == "mixed") return Sky::mixed;
  if (word == "overcast") return Sky::overcast;
  sheet.complain_once("sky " + word, row, kSky, "is no word for the sky", R"(write "clear", "mixed" or "overcast")");
  return std::nullopt;
}

template <class Q>
std::optional<Q> as(std::optional<double> si) {
  return si ? std::optional<Q>(Q(*si)) : std::nullopt;
}

/// A low or a high, which may not be missing.
std::optional<Temperature<>> read_extreme(Sheet& sheet, const CsvRow& row, Word word) {
  if (sheet.is_empty(row, word))
    sheet.complain_once(fmt::format("empty {}", static_cast<int>(word)), row, word, "is no temperature",
                        R"(a day needs its lowest and its highest; write such as "4.5")");
  const auto kelvin = sheet.number(row, word);
  return kelvin ? std::optional(Temperature<>::from_kelvin(*kelvin)) : std::nullopt;
}

struct Row {
  WeatherDay day;
  const CsvRow* row = nullptr;
  bool has_date = false, has_air = false;
};

Row read_row(Sheet& sheet, const CsvRow& row) {
  Row read{{}, &row};
  const auto date = read_date(sheet.text(row, kDate));
  if (const auto* bad = std::get_if<Unreadable>(&date)) {
    const std::size_t cut = bad->wrong.find("; ");
    sheet.complain_once(bad->wrong, row, kDate, bad->wrong.substr(0, cut), bad->wrong.substr(cut + 2));
  } else {
    read.day.date = std::get<CivilDate>(date);
    read.has_date = true;
  }
  const auto low = read_extreme(sheet, row, kMin), high = read_extreme(sheet, row, kMax);
  read.day.rain = as<Length<>>(sheet.number(row, kRain));
  read.day.wind = as<Velocity<>>(sheet.number(row, kWind));
  read.day.sun = as<Flux<>>(sheet.number(row, kSun));
  read.day.sky = read_sky(sheet, row);
  read.has_air = low && high;
  if (!read.has_air) return read;
  read.day.low = *low;
  read.day.high = *high;
  if (*high < *low)
    sheet.complain_once("order", row, kMin,
                        fmt::format(R"(is above the highest of the day, "{}")", sheet.text(row, kMax)),
                        "exchange the two");
  return read;
}

/// The rows that are wanted and have a date, in its order.
std::vector<Row> read_rows(Sheet& sheet, const std::optional<std::string>& location, bool& every_date) {
  std::vector<Row> rows;
  for (const CsvRow& row : sheet.rows()) {
    if (location && sheet.text(row, kLocation) != *location) continue;
    const Row read = read_row(sheet, row);
    every_date = every_date && read.has_date;
    if (read.has_date) rows.push_back(read);
  }
  std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.day.date < b.day.date; });
  return rows;
}

void check_calendar(Sheet& sheet, const std::vector<Row>& rows, bool every_date) {
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const Row &before = rows[i - 1], &now = rows[i];
    const int step = now.day.date.serial() - before.day.date.serial();
    if (step == 0)
      sheet.complain(*now.row, kDate, fmt::format("stands in line {} already", before.row->line), "keep one row a day");
    if (step > 1 && every_date)
      sheet.complain(
          *now.row, kDate,
          fmt::format("follows {}: {} {} missing", before.day.date.text(), step - 1, step == 2 ? "day is" : "days are"),
          "add what is missing, or keep only the rows on one side of the gap");
  }
}

void say_what_is_taken(const Sheet& sheet, std::string_view file, std::vector<std::string>& assumptions) {
  if (sheet.has(kWind))
    assumptions.push_back(fmt::format("{}: the wind is taken as the mean of the day at 10 m above open ground.", file));
  assumptions.push_back(
      fmt::format("{}: lowest and highest are taken as of the row's own day; a thermometer that is read and reset in "
                  "the morning holds "
                  "the highest of the day before.",
                  file));
}

}  // namespace

DailyRecord read_daily_record(std::string_view text, std::string_view file, std::string_view location,
                              Problems& problems) {
  DailyRecord record;
  Sheet sheet(text, file, daily_words(), 86400.0, problems);
  if (sheet.broken()) return record;
  bool whole = sheet.require(kDate, "the date");
  whole = sheet.require(kMin, "the lowest air temperature of the day") && whole;
  whole = sheet.require(kMax, "the highest air temperature of the day") && whole;
  if (!whole) return record;
  std::optional<std::string> chosen;
  if (sheet.has(kLocation) && !sheet.rows().empty()) {
    chosen = chosen_location(sheet, location);
    if (!chosen) return record;
  }
  bool every_date = true;
  const std::vector<Row> rows = read_rows(sheet, chosen, every_date);
  check_calendar(sheet, rows, every_date);
  sheet.finish();
  if (sheet.rows().empty())
    problems.add({std::string(file), 0, 0, "", R"(holds no day; write one row a day, such as "2026-01-05,3.5,11.0")"});
  for (const Row& read : rows) {
    if (!read.has_air) continue;
    record.days.push_back(read.day);
    record.lines.push_back(read.row->line);
  }
  record.assumptions = sheet.assumptions();
  say_what_is_taken(sheet, file, record.assumptions);
  return record;
}

void check_daily_sun(const DailyRecord& record, const Place& place, std::string_view file, Problems& problems) {
  for (std::size_t i = 0; i < record.days.size(); ++i) {
    const WeatherDay& day = record.days[i];
    if (!day.sun) continue;
    const Flux<> most = most_sun * sun_frame(place, day.date).outside;
    if (*day.sun <= most) continue;
    const auto mj = [](Flux<> f) { return f.in(science::megajoule_per_square_metre_day); };
    problems.add(
        {std::string(file), record.lines[i], 0, "sun",
         fmt::format("\"{:.1f} MJ/m2\" of {} is more than the air lets through there, {:.1f}; check the unit, the "
                     "date and the latitude",
                     mj(*day.sun), day.date.text(), mj(most))});
  }
}

}  // namespace leat::model
