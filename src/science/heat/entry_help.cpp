#include "science/heat/entry_help.h"

#include <string>

#include "base/units/parse.h"

namespace leat::science::heat_entry {
namespace {

std::string_view trim(std::string_view s) {
  while (!s.empty() && s.front() == ' ') s.remove_prefix(1);
  while (!s.empty() && s.back() == ' ') s.remove_suffix(1);
  return s;
}

Unit unit_of_text(std::string_view text, std::string_view name) {
  if (const std::size_t per = text.find(" per "); per != std::string_view::npos) {
    const Unit above = unit_of_text(text.substr(0, per), name), below = unit_of_text(text.substr(per + 5), name);
    return {above.dimension - below.dimension, above.scale / below.scale, 0.0, {}};
  }
  const auto unit = read_unit(text);
  if (!std::holds_alternative<Unit>(unit)) throw std::out_of_range(std::string(name));
  return std::get<Unit>(unit);
}

}  // namespace

InputRow maybe(InputRow row) {
  row.optional = true;
  return row;
}

InputRow assume(InputRow row, double value) {
  row.assumed = value;
  return row;
}

Temperature<> celsius(const Given& given, std::string_view name) {
  return Temperature<>::from_celsius(given(name));
}

Pressure<> kilopascals(const Given& given, std::string_view name) {
  return given(name) * units::kilopascal;
}

Flux<> mj_per_day(const Given& given, std::string_view name) {
  return given(name) * megajoule_per_square_metre_day;
}

Number<> percent(const Given& given, std::string_view name) {
  return Number<>(0.01 * given(name));
}

Angle degrees(const Given& given, std::string_view name) {
  return Angle::from_degrees(given(name));
}

bool all_of(const Given& given, std::initializer_list<std::string_view> names) {
  for (const std::string_view name : names)
    if (!given.numbers.contains(name)) return false;
  return true;
}

std::vector<InputRow> day_rows() {
  return {maybe({"latitude", "deg", -90, 90, "north positive"}),
          maybe({"day_of_year", "-", 1, 366, "number of the day in its year"}),
          maybe({"year", "-", 1950, 2050, "of the day"}), maybe({"month", "-", 1, 12, "of the day"}),
          maybe({"day", "-", 1, 31, "of the month"})};
}

int day_number(const Given& given) {
  if (given.has("day_of_year")) return static_cast<int>(given("day_of_year"));
  const double month = given("month");
  return day_of_year(static_cast<int>(given.get("year", 2001)), static_cast<int>(month),
                     static_cast<int>(given.get("day", 15)));
}

std::vector<InputRow> vapour_rows() {
  return {maybe({"vapour_pressure", "kPa", 0.05, 6, "of the air"}),
          maybe({"humidity_max", "%", 1, 100, "highest relative humidity of the day, at the lowest temperature"}),
          maybe({"humidity_min", "%", 1, 100, "lowest relative humidity of the day, at the highest temperature"}),
          maybe({"humidity", "%", 1, 100, "relative humidity"}), maybe({"dew_point", "degC", -30, 35, "of the air"})};
}

Pressure<> vapour_of(const Given& given) {
  if (given.has("vapour_pressure")) return kilopascals(given, "vapour_pressure");
  if (given.has("dew_point")) return saturation_vapour_pressure(celsius(given, "dew_point"));
  if (all_of(given, {"humidity_max", "humidity_min"}))
    return vapour_pressure_from_humidity_extremes(celsius(given, "air_min"), celsius(given, "air_max"),
                                                  percent(given, "humidity_max"), percent(given, "humidity_min"));
  if (given.has("humidity")) return percent(given, "humidity").si() * saturation_of(given);
  if (given.has("humidity_max"))
    return vapour_pressure_from_humidity(celsius(given, "air_min"), percent(given, "humidity_max"));
  throw std::out_of_range("vapour_pressure");
}

std::vector<InputRow> pressure_rows() {
  return {maybe({"air_pressure", "kPa", 50, 110, "of the air"}), maybe({"altitude", "m", -400, 5000, "above the sea"})};
}

Pressure<> pressure_of(const Given& given) {
  if (given.has("air_pressure")) return kilopascals(given, "air_pressure");
  return air_pressure_from_elevation(Length<>(given.get("altitude", 0.0)));
}

std::vector<InputRow> air_rows() {
  return {maybe({"temperature", "degC", -30, 50, "of the air; of a day, the mean"}),
          maybe({"air_max", "degC", -30, 50, "highest air temperature of the day"}),
          maybe({"air_min", "degC", -40, 40, "lowest air temperature of the day"})};
}

Temperature<> air_of(const Given& given) {
  if (given.has("temperature")) return celsius(given, "temperature");
  return mean_of(celsius(given, "air_max"), celsius(given, "air_min"));
}

Pressure<> saturation_of(const Given& given) {
  if (all_of(given, {"air_max", "air_min"}))
    return mean_saturation_vapour_pressure(celsius(given, "air_max"), celsius(given, "air_min"));
  return saturation_vapour_pressure(celsius(given, "temperature"));
}

Flux<> outside_of(const Given& given) {
  if (given.has("extraterrestrial_radiation")) return mj_per_day(given, "extraterrestrial_radiation");
  return extraterrestrial_radiation_day(degrees(given, "latitude"), sun_of_day_fao(day_number(given)));
}

Duration<> day_length_of(const Given& given) {
  if (given.has("day_length")) return given("day_length") * units::hour;
  if (given.has("sunset_angle")) return given("sunset_angle") * 24.0 / std::numbers::pi * units::hour;
  const Angle declination = given.has("declination") ? Angle::from_radians(given("declination"))
                                                     : sun_of_day_fao(day_number(given)).declination;
  return day_length(degrees(given, "latitude"), declination);
}

Number<> clear_ratio_of(const Given& given) {
  if (given.has("clear_ratio")) return Number<>(given("clear_ratio"));
  if (given.has("clear_sky_radiation")) return Number<>(given("global_radiation") / given("clear_sky_radiation"));
  const Flux<> clear = clear_sky_radiation_simple(outside_of(given), Length<>(given("altitude")));
  return mj_per_day(given, "global_radiation") / clear;
}

std::vector<InputRow> rows(std::initializer_list<std::vector<InputRow>> groups) {
  std::vector<InputRow> all;
  for (const auto& group : groups) all.insert(all.end(), group.begin(), group.end());
  return all;
}

double si_of(std::string_view text, std::string_view bare_unit, std::string_view name) {
  text = trim(text.substr(0, text.find('(')));
  const std::size_t space = text.find(' ');
  const auto number = read_number(text.substr(0, space));
  if (!std::holds_alternative<double>(number)) throw std::out_of_range(std::string(name));
  const Unit unit = unit_of_text(space == std::string_view::npos ? bare_unit : trim(text.substr(space)), name);
  if (!(unit.dimension == unit_of_text(bare_unit, name).dimension)) throw std::out_of_range(std::string(name));
  return std::get<double>(number) * unit.scale + unit.offset;
}

double si_of_text(const Given& given, std::string_view name, std::string_view bare_unit) {
  return si_of(given.word(name), bare_unit, name);
}

}  // namespace leat::science::heat_entry
