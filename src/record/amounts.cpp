#include "record/amounts.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "base/units/parse.h"

namespace leat::record {
namespace {

struct Written {
  std::string_view said, unit;
  char kind;
};
constexpr std::array kUnits = {Written{"g", "g", 'm'},
                               Written{"gr", "g", 'm'},
                               Written{"gram", "g", 'm'},
                               Written{"grams", "g", 'm'},
                               Written{"kg", "kg", 'm'},
                               Written{"kilo", "kg", 'm'},
                               Written{"kilos", "kg", 'm'},
                               Written{"mg", "mg", 'm'},
                               Written{"lb", "lb", 'm'},
                               Written{"lbs", "lb", 'm'},
                               Written{"oz", "oz", 'm'},
                               Written{"ounces", "oz", 'm'},
                               Written{"l", "L", 'v'},
                               Written{"litre", "L", 'v'},
                               Written{"litres", "L", 'v'},
                               Written{"liter", "L", 'v'},
                               Written{"liters", "L", 'v'},
                               Written{"lt", "L", 'v'},
                               Written{"ltr", "L", 'v'},
                               Written{"ml", "mL", 'v'},
                               Written{"m3", "m3", 'v'},
                               Written{"usgal", "USgal", 'v'},
                               Written{"impgal", "impgal", 'v'},
                               Written{"c", "degC", 't'},
                               Written{"°c", "degC", 't'},
                               Written{"degc", "degC", 't'},
                               Written{"celsius", "degC", 't'},
                               Written{"f", "degF", 't'},
                               Written{"°f", "degF", 't'},
                               Written{"degf", "degF", 't'},
                               Written{"fahrenheit", "degF", 't'},
                               Written{"mg/l", "mg/L", 'c'},
                               Written{"ppm", "mg/L", 'c'},
                               Written{"ug/l", "ug/L", 'c'},
                               Written{"g/l", "g/L", 'c'},
                               Written{"mmol/l", "mmol/L", 'c'},
                               Written{"meq/l", "meq/L", 'c'},
                               Written{"%", "%", '%'},
                               Written{"percent", "%", '%'},
                               Written{"cm", "cm", 'l'},
                               Written{"mm", "mm", 'l'},
                               Written{"m", "m", 'l'},
                               Written{"inch", "in", 'l'},
                               Written{"inches", "in", 'l'},
                               Written{"l/h", "L/h", 'f'},
                               Written{"lph", "L/h", 'f'},
                               Written{"l/min", "L/min", 'f'},
                               Written{"lpm", "L/min", 'f'},
                               Written{"l/s", "L/s", 'f'},
                               Written{"m3/h", "m3/h", 'f'},
                               Written{"us/cm", "uS/cm", 'e'},
                               Written{"µs/cm", "uS/cm", 'e'},
                               Written{"ms/cm", "mS/cm", 'e'},
                               Written{"us", "uS/cm", 'e'},
                               Written{"dkh", "dKH", 'k'},
                               Written{"°dkh", "dKH", 'k'},
                               Written{"dgh", "dGH", 'k'},
                               Written{"°dgh", "dGH", 'k'},
                               Written{"degrees", "degrees", 'k'},
                               Written{"degree", "degrees", 'k'},
                               Written{"deg", "degrees", 'k'},
                               Written{"dh", "degrees", 'k'},
                               Written{"°dh", "degrees", 'k'},
                               Written{"drops", "drops", 'k'},
                               Written{"drop", "drops", 'k'},
                               Written{"s", "s", 's'},
                               Written{"sec", "s", 's'},
                               Written{"seconds", "s", 's'}};
constexpr std::array<std::pair<std::string_view, std::string_view>, 12> kBases = {{{"n", "N"},
                                                                                   {"nh3", "NH3"},
                                                                                   {"nh4", "NH4"},
                                                                                   {"no2", "NO2"},
                                                                                   {"no3", "NO3"},
                                                                                   {"caco3", "CaCO3"},
                                                                                   {"p", "P"},
                                                                                   {"po4", "PO4"},
                                                                                   {"cao", "CaO"},
                                                                                   {"hco3", "HCO3"},
                                                                                   {"so4", "SO4"},
                                                                                   {"fe", "Fe"}}};

std::string_view plain_at(const Tokens& tokens, std::size_t at, std::size_t end) {
  return at < end ? std::string_view(tokens[at].plain) : std::string_view();
}

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::optional<std::string> take_basis(const Tokens& tokens, std::size_t& at, std::size_t end) {
  if (plain_at(tokens, at, end) != "as") return std::nullopt;
  for (const auto& [said, basis] : kBases)
    if (plain_at(tokens, at + 1, end) == said) {
      at += 2;
      return std::string(basis);
    }
  return std::nullopt;
}

constexpr const char* kGallons = "\"gal\" may be 3.785 L or 4.546 L: write USgal or impgal";

/// Units of two words: "deg C", "US gal".
UnitSaid take_double_unit(const Tokens& tokens, std::size_t& at, std::size_t end) {
  const std::string_view one = plain_at(tokens, at, end), two = plain_at(tokens, at + 1, end);
  const bool gallon = is_one_of(two, {"gal", "gallon", "gallons"});
  UnitSaid said;
  if (gallon && is_one_of(one, {"us"})) said.unit = "USgal";
  if (gallon && is_one_of(one, {"imp", "imperial", "uk"})) said.unit = "impgal";
  if (is_one_of(one, {"deg", "degrees", "degree", "°"}) && is_one_of(two, {"c", "celsius"})) said.unit = "degC";
  if (is_one_of(one, {"deg", "degrees", "degree", "°"}) && is_one_of(two, {"f", "fahrenheit"})) said.unit = "degF";
  if (is_one_of(one, {"deg", "degrees", "degree", "°"}) && is_one_of(two, {"kh", "dkh"})) said.unit = "dKH";
  if (!said.unit.empty()) at += 2;
  return said;
}

/// "<", "below" and the like.
char take_side(const Tokens& tokens, std::size_t& at, std::size_t end) {
  const std::string_view one = plain_at(tokens, at, end), two = plain_at(tokens, at + 1, end);
  if (is_one_of(one, {"<", "below", "under"})) return ++at, '<';
  if (is_one_of(one, {">", "above", "over"})) return ++at, '>';
  if (two == "than" && is_one_of(one, {"less", "more"})) return at += 2, one == "less" ? '<' : '>';
  return 0;
}

/// A kit that turns at its n-th drop says: more than n - 1, at most n.
void spread_drops(Amount& a) {
  if (a.unit != "drops" || !a.high) return;
  if (a.low == a.high) a.low = std::max(0.0, *a.high - 1.0);
}

/// The other end of an interval, if one follows: "to 0.5", "- 0.5", "and 0.5" after "between".
void take_second(const Tokens& tokens, std::size_t& i, std::size_t end, char side, bool between, AmountSaid& said,
                 UnitSaid& unit) {
  Amount& a = said.amount;
  const std::string_view link = plain_at(tokens, i, end);
  const bool linked = (between && link == "and") || (!side && is_one_of(link, {"to", "-", "–", "or"}));
  if (!linked || i + 1 >= end || !tokens[i + 1].number) {
    if (between) said.doubt = "between which two?";
    return;
  }
  a.high = *tokens[i + 1].number;
  i += 2;
  const UnitSaid second = take_unit(tokens, i, end);
  if (!unit.unit.empty() && !second.unit.empty() && unit.unit != second.unit) said.doubt = "two units in one";
  if (unit.unit.empty()) unit = second;
  if (*a.high < *a.low) said.doubt = fmt::format("{} is above {}", *a.low, *a.high);
}

/// "6,8" as "6.8"; "1,200", which may be both, as "1.200 or 1200".
std::string without_comma(const std::string& text) {
  const std::size_t comma = text.rfind(',');
  std::string point = text, none = text;
  point[comma] = '.';
  std::erase(none, ',');
  if (point.find(',') != std::string::npos) return none;
  return text.size() - comma == 4 ? point + " or " + none : point;
}

}  // namespace

char kind_of_unit(const std::string& unit) {
  for (const Written& u : kUnits)
    if (u.unit == unit) return u.kind;
  return 0;
}

UnitSaid take_unit(const Tokens& tokens, std::size_t& at, std::size_t end) {
  UnitSaid said = take_double_unit(tokens, at, end);
  const std::string_view word = plain_at(tokens, at, end);
  if (said.unit.empty() && is_one_of(word, {"gal", "gallon", "gallons"})) {
    ++at;
    said.doubt = kGallons;
    return said;
  }
  for (const Written& u : kUnits)
    if (said.unit.empty() && word == u.said) {
      said.unit = u.unit;
      ++at;
    }
  if (auto basis = take_basis(tokens, at, end)) said.basis = *basis;
  return said;
}

std::optional<AmountSaid> take_amount(const Tokens& tokens, std::size_t& at, std::size_t end) {
  std::size_t i = at;
  AmountSaid said;
  Amount& a = said.amount;
  if (is_one_of(plain_at(tokens, i, end),
                {"about", "approx", "approximately", "roughly", "around", "~", "circa", "ca"})) {
    a.about = true;
    ++i;
  }
  const char side = take_side(tokens, i, end);
  const bool between = !side && plain_at(tokens, i, end) == "between";
  if (between) ++i;
  if (i >= end || (!tokens[i].number && !tokens[i].comma_number)) return std::nullopt;
  const Token& first = tokens[i++];
  if (first.comma_number) {
    at = i;
    said.doubt = fmt::format("\"{}\" may be a decimal or thousands: write {}", first.text, without_comma(first.text));
    return said;
  }
  UnitSaid unit = take_unit(tokens, i, end);
  a.low = a.high = *first.number;
  take_second(tokens, i, end, side, between, said, unit);
  if (side == '<') a.low.reset();
  if (side == '>') a.high.reset();
  a.unit = unit.unit;
  a.basis = unit.basis;
  if (said.doubt.empty()) said.doubt = unit.doubt;
  spread_drops(a);
  at = i;
  return said;
}

std::string amount_text(const Amount& a) {
  std::string text = a.about ? "about " : "";
  if (a.low && a.high)
    text += *a.low == *a.high ? shortest(*a.low) : fmt::format("{} to {}", shortest(*a.low), shortest(*a.high));
  else if (a.high)
    text += "below " + shortest(*a.high);
  else if (a.low)
    text += "above " + shortest(*a.low);
  else
    return "";
  if (!a.unit.empty()) text += a.unit == "%" ? " %" : " " + a.unit;
  if (a.basis == "each" || a.basis == "together")
    text += " " + a.basis;
  else if (!a.basis.empty())
    text += " as " + a.basis;
  return text;
}

}  // namespace leat::record
