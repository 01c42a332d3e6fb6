#include "science/fish/entry_input.h"

#include <array>
#include <stdexcept>

namespace leat::science {
namespace {

std::string_view trim(std::string_view s) {
  while (!s.empty() && s.front() == ' ') s.remove_prefix(1);
  while (!s.empty() && s.back() == ' ') s.remove_suffix(1);
  return s;
}

[[noreturn]] void absent(std::string_view name) {
  throw std::out_of_range(std::string(name));
}

std::string_view text_of(const Given& given, std::string_view name) {
  const auto found = given.words.find(name);
  if (found == given.words.end()) absent(name);
  return trim(found->second);
}

bool is_counted(std::string_view word) {
  constexpr std::array things{"fish",     "plants",  "plant", "heads", "feed", "fresh", "live", "dry", "body",
                              "weight",   "protein", "N",     "P",     "TAN",  "O2",    "CO2",  "BW",  "DM",
                              "constant", "fall",    "rise",  "DE",    "PAR",  "soil",  "mass"};
  for (const std::string_view thing : things)
    if (word == thing) return true;
  return false;
}

/// What stands before a remark such as "in one bed" or "of digestible N".
std::string_view before_remark(std::string_view unit) {
  unit = unit.substr(0, unit.find('('));
  const std::string led = " " + std::string(unit);
  for (const std::string_view word : {" in ", " of ", " per ", " at "})
    if (const std::size_t at = led.find(word); at < unit.size()) unit = unit.substr(0, at);
  return unit;
}

/// A unit without the things counted in it: "fish/m3" is "/m3", "MJ/kg feed" is "MJ/kg", "mg N/kg/h" is "mg /kg/h".
std::string bare_unit(std::string_view text) {
  std::string_view unit = before_remark(text);
  std::string bare;
  while (!unit.empty()) {
    const std::size_t end = unit.find_first_of(" /");
    const std::string_view word = unit.substr(0, end);
    if (!is_counted(word)) bare += word;
    if (end == std::string_view::npos) break;
    bare += unit[end];
    unit.remove_prefix(end + 1);
  }
  return std::string(trim(bare));
}

/// Number at the start of a text and what follows.
std::optional<std::pair<double, std::string_view>> leading_number(std::string_view text) {
  text = trim(text);
  const std::size_t end = text.find(' ');
  const std::string_view word = text.substr(0, end);
  const std::string_view rest = end == std::string_view::npos ? std::string_view() : trim(text.substr(end));
  if (const auto span = read_span(word)) return std::pair{span->low, rest};
  return std::nullopt;
}

/// "100 g" behind a stroke, as in "1.35 g/100 g", multiplies the unit by a number.
double taken_number(std::string& unit) {
  const std::size_t stroke = unit.find("/100 ");
  if (stroke == std::string::npos) return 1.0;
  unit.erase(stroke + 1, 4);
  return 0.01;
}

}  // namespace

std::optional<Measured> measured_from(std::string_view text) {
  const auto number = leading_number(text);
  if (!number) return std::nullopt;
  std::string unit = bare_unit(number->second);
  const double factor = taken_number(unit);
  const auto read = read_unit(unit);
  if (const Unit* u = std::get_if<Unit>(&read))
    return Measured{number->first * factor * u->scale + u->offset, u->dimension, u->offset != 0.0, u->basis, unit};
  return std::nullopt;
}

double number_in(const Given& given, std::string_view name, std::string_view unit) {
  if (const auto found = given.numbers.find(name); found != given.numbers.end()) return found->second;
  const std::string_view text = text_of(given, name);
  const auto number = leading_number(text);
  if (!number) absent(name);
  if (bare_unit(number->second).empty()) return number->first;
  const auto measured = measured_from(text);
  const auto wanted = read_unit(unit);
  const Unit* target = std::get_if<Unit>(&wanted);
  if (!measured || !target || !(measured->dimension == target->dimension)) absent(name);
  return (measured->si - target->offset) / target->scale;
}

double number_in(const Given& given, std::string_view name, std::string_view unit, double otherwise) {
  return given.has(name) ? number_in(given, name, unit) : otherwise;
}

double plain_number(const Given& given, std::string_view name) {
  if (const auto found = given.numbers.find(name); found != given.numbers.end()) return found->second;
  const auto number = leading_number(text_of(given, name));
  if (!number) absent(name);
  return number->first;
}

double plain_number(const Given& given, std::string_view name, double otherwise) {
  return given.has(name) ? plain_number(given, name) : otherwise;
}

double ratio_in(const Given& given, std::string_view over, std::string_view under) {
  const auto a = measured_from(text_of(given, over)), b = measured_from(text_of(given, under));
  if (!a) absent(over);
  if (!b || !(a->dimension == b->dimension)) absent(under);
  return a->si / b->si;
}

std::pair<double, double> pair_in(const Given& given, std::string_view name, std::string_view between,
                                  std::string_view unit) {
  const std::string_view text = text_of(given, name);
  const std::size_t middle = text.find(between);
  if (middle == std::string_view::npos) absent(name);
  const std::string second(text.substr(middle + between.size()));
  std::string first(text.substr(0, middle));
  const auto number = leading_number(first);
  // "20 x 25 cm": the unit stands once, at the end.
  const auto behind = leading_number(second);
  if (!number || !behind) absent(name);
  if (number->second.empty() && !behind->second.empty()) first.append(" ").append(behind->second);
  Given parts;
  parts.words.emplace("first", first);
  parts.words.emplace("second", second);
  return {number_in(parts, "first", unit), number_in(parts, "second", unit)};
}

std::string_view remark(const Given& given) {
  return given.words.contains("note") ? given.word("note") : std::string_view();
}

ThermalGrowth<> stock_in(const Given& given) {
  const double exponent = plain_number(given, "exponent", 1.0 / 3.0);
  if (given.has("tgc_x1000")) return ThermalGrowth<>::from_thousandfold(plain_number(given, "tgc_x1000"), exponent);
  if (given.has("tgc_x100")) return {plain_number(given, "tgc_x100") / 100.0, exponent};
  return {plain_number(given, "tgc"), exponent};
}

const Species& species_in(const Given& given) {
  for (std::string_view text = text_of(given, "species"); !text.empty();) {
    if (const Species* found = find_species(text)) return *found;
    const std::size_t space = text.rfind(' ');
    text = space == std::string_view::npos ? std::string_view() : trim(text.substr(0, space));
  }
  absent("species");
}

const Crop& crop_in(const Given& given) {
  for (std::string_view text = text_of(given, "crop"); !text.empty();) {
    if (const Crop* found = find_crop(text)) return *found;
    const std::size_t space = text.rfind(' ');
    text = space == std::string_view::npos ? std::string_view() : trim(text.substr(0, space));
  }
  absent("crop");
}

std::string_view species_figure(const Given& given, std::string_view key) {
  const Datum* row = find_datum(species_data(), species_in(given).name, key);
  if (!row) absent("species");
  return row->value;
}

}  // namespace leat::science
