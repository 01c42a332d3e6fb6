#include "base/units/parse.h"

#include <fmt/core.h>

#include <array>
#include <charconv>
#include <cmath>
#include <optional>

namespace leat {
namespace {

struct Symbol {
  std::string_view text;
  Dimension dimension;
  double scale;
  double offset = 0.0;
};

constexpr Dimension kWatt = dim::power;
constexpr Dimension kMolPerVolume{.length = -3, .amount = 1};
constexpr double kFoot = 0.3048;
constexpr double kPound = 0.45359237;
constexpr double kUsGallon = 3.785411784e-3;

// Every symbol that a unit may be built from. Symbols that people confuse are left out on purpose and explained in
// `why_not` below: a bare "gal" is 3.785 or 4.546 L, "ton" is three different masses.
constexpr std::array kSymbols = {
    Symbol{"-", dim::none, 1.0},
    Symbol{"1", dim::none, 1.0},
    Symbol{"%", dim::none, 0.01},
    Symbol{"ppm", dim::none, 1e-6},
    Symbol{"deg", dim::none, 1.0},
    Symbol{"rad", dim::none, 180.0 / 3.14159265358979323846},
    Symbol{"count", dim::none, 1.0},
    Symbol{"m", dim::length, 1.0},
    Symbol{"km", dim::length, 1e3},
    Symbol{"cm", dim::length, 1e-2},
    Symbol{"mm", dim::length, 1e-3},
    Symbol{"um", dim::length, 1e-6},
    Symbol{"in", dim::length, 0.0254},
    Symbol{"ft", dim::length, kFoot},
    Symbol{"ha", dim::area, 1e4},
    Symbol{"acre", dim::area, 4046.8564224},
    Symbol{"L", dim::volume, 1e-3},
    Symbol{"l", dim::volume, 1e-3},
    Symbol{"mL", dim::volume, 1e-6},
    Symbol{"ml", dim::volume, 1e-6},
    Symbol{"USgal", dim::volume, kUsGallon},
    Symbol{"impgal", dim::volume, 4.54609e-3},
    Symbol{"gpm", dim::flow, kUsGallon / 60.0},
    Symbol{"cfs", dim::flow, kFoot* kFoot* kFoot},
    Symbol{"kg", dim::mass, 1.0},
    Symbol{"g", dim::mass, 1e-3},
    Symbol{"mg", dim::mass, 1e-6},
    Symbol{"ug", dim::mass, 1e-9},
    Symbol{"t", dim::mass, 1e3},
    Symbol{"lb", dim::mass, kPound},
    Symbol{"oz", dim::mass, kPound / 16.0},
    Symbol{"s", dim::time, 1.0},
    Symbol{"min", dim::time, 60.0},
    Symbol{"h", dim::time, 3600.0},
    Symbol{"d", dim::time, 86400.0},
    Symbol{"day", dim::time, 86400.0},
    Symbol{"days", dim::time, 86400.0},
    Symbol{"week", dim::time, 604800.0},
    Symbol{"weeks", dim::time, 604800.0},
    Symbol{"y", dim::time, 365.25 * 86400.0},
    Symbol{"yr", dim::time, 365.25 * 86400.0},
    Symbol{"rpm", dim::frequency, 1.0 / 60.0},
    Symbol{"degC", dim::temperature, 1.0, 273.15},
    Symbol{"°C", dim::temperature, 1.0, 273.15},
    Symbol{"C", dim::temperature, 1.0, 273.15},
    Symbol{"degF", dim::temperature, 5.0 / 9.0, 273.15 - 32.0 * 5.0 / 9.0},
    Symbol{"°F", dim::temperature, 5.0 / 9.0, 273.15 - 32.0 * 5.0 / 9.0},
    Symbol{"K", dim::temperature, 1.0},
    Symbol{"mol", dim::amount, 1.0},
    Symbol{"mmol", dim::amount, 1e-3},
    Symbol{"umol", dim::amount, 1e-6},
    Symbol{"eq", dim::amount, 1.0},
    Symbol{"meq", dim::amount, 1e-3},
    Symbol{"M", kMolPerVolume, 1e3},
    Symbol{"Pa", dim::pressure, 1.0},
    Symbol{"hPa", dim::pressure, 1e2},
    Symbol{"kPa", dim::pressure, 1e3},
    Symbol{"mbar", dim::pressure, 1e2},
    Symbol{"bar", dim::pressure, 1e5},
    Symbol{"atm", dim::pressure, 101325.0},
    Symbol{"mmHg", dim::pressure, 133.322387415},
    Symbol{"J", dim::energy, 1.0},
    Symbol{"kJ", dim::energy, 1e3},
    Symbol{"MJ", dim::energy, 1e6},
    Symbol{"Wh", dim::energy, 3600.0},
    Symbol{"kWh", dim::energy, 3.6e6},
    Symbol{"cal", dim::energy, 4.184},
    Symbol{"kcal", dim::energy, 4184.0},
    Symbol{"W", kWatt, 1.0},
    Symbol{"kW", kWatt, 1e3},
    Symbol{"hp", kWatt, 745.69987158227},
    Symbol{"A", dim::current, 1.0},
    Symbol{"S", Dimension{.length = -2, .mass = -1, .time = 3, .current = 2}, 1.0},
    Symbol{"mS", Dimension{.length = -2, .mass = -1, .time = 3, .current = 2}, 1e-3},
    Symbol{"uS", Dimension{.length = -2, .mass = -1, .time = 3, .current = 2}, 1e-6},
    Symbol{"cP", Dimension{.length = -1, .mass = 1, .time = -1}, 1e-3},
    Symbol{"mPa", dim::pressure, 1e-3},
};

const Symbol* find_symbol(std::string_view text) {
  for (const Symbol& s : kSymbols)
    if (s.text == text) return &s;
  return nullptr;
}

std::string why_not(std::string_view symbol) {
  if (symbol == "gal" || symbol == "gallon" || symbol == "gallons")
    return R"(has the unit "gal", which may be 3.785 L or 4.546 L; write "USgal" or "impgal")";
  if (symbol == "F") return R"(has the unit "F"; write "degF" for a temperature)";
  if (symbol == "lt" || symbol == "Lt" || symbol == "ltr" || symbol == "litre" || symbol == "litres" ||
      symbol == "liter" || symbol == "liters")
    return fmt::format(R"(has an unknown unit "{}"; write "L")", symbol);
  if (symbol == "lph" || symbol == "LPH" || symbol == "lpm" || symbol == "LPM")
    return fmt::format(R"(has an unknown unit "{}"; write "L/h" or "L/min")", symbol);
  return fmt::format(R"(has an unknown unit "{}")", symbol);
}

bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

std::string_view trim(std::string_view s) {
  while (!s.empty() && is_blank(s.front())) s.remove_prefix(1);
  while (!s.empty() && is_blank(s.back())) s.remove_suffix(1);
  return s;
}

/// Splits "m-2", "m^2", "ft3" into symbol and power; a symbol without digits has the power 1.
std::optional<std::pair<std::string_view, int>> symbol_and_power(std::string_view token) {
  std::size_t end = token.size();
  while (end > 0 && token[end - 1] >= '0' && token[end - 1] <= '9') --end;
  if (end == 0 && token == "1") return std::pair{token, 1};
  if (end == token.size() || end == 0) return std::pair{token, 1};
  const std::size_t digits = end;
  if (token[end - 1] == '-' && end > 1) --end;
  int power = 0;
  const char* first = token.data() + (end < digits ? end : digits);
  const auto read = std::from_chars(first, token.data() + token.size(), power);
  if (read.ec != std::errc{} || power > 9 || power < -9) return std::nullopt;
  std::string_view symbol = token.substr(0, end);
  if (symbol.ends_with('^')) symbol.remove_suffix(1);
  return std::pair{symbol, power};
}

struct UnitBuilder {
  Unit unit;
  int factors = 0;

  std::optional<Unreadable> take(std::string_view token, bool divide) {
    const auto split = symbol_and_power(token);
    if (!split) return Unreadable{fmt::format(R"(has an unreadable unit part "{}")", token)};
    const Symbol* symbol = find_symbol(split->first);
    if (!symbol) return Unreadable{why_not(token)};
    const int power = divide ? -split->second : split->second;
    unit.dimension = unit.dimension + symbol->dimension * power;
    unit.scale *= std::pow(symbol->scale, power);
    unit.offset = symbol->offset;
    if (++factors > 1 || power != 1) unit.offset = 0.0;
    return std::nullopt;
  }
};

}  // namespace

std::variant<Unit, Unreadable> read_unit(std::string_view text) {
  text = trim(text);
  UnitBuilder builder;
  if (const std::size_t as = text.find(" as "); as != std::string_view::npos) {
    builder.unit.basis = std::string(trim(text.substr(as + 4)));
    text = trim(text.substr(0, as));
  }
  bool divide = false;
  while (!text.empty()) {
    const std::size_t end = text.find_first_of(" \t.*/");
    const std::string_view token = text.substr(0, end);
    if (!token.empty()) {
      if (auto bad = builder.take(token, divide)) return *bad;
      divide = false;
    }
    if (end == std::string_view::npos) break;
    if (text[end] == '/') {
      if (divide) return Unreadable{"has two '/' in a row in its unit"};
      divide = true;
    }
    text.remove_prefix(end + 1);
  }
  if (divide) return Unreadable{"has a unit that ends in '/'"};
  return builder.unit;
}

std::variant<double, Unreadable> read_number(std::string_view text) {
  text = trim(text);
  if (text.empty()) return Unreadable{"is empty"};
  std::string_view digits = text;
  if (digits.front() == '+') digits.remove_prefix(1);
  const std::string_view start = digits.starts_with('-') ? digits.substr(1) : digits;
  if (start.empty() || !((start.front() >= '0' && start.front() <= '9') || start.front() == '.'))
    return Unreadable{"is not a number"};
  double value = 0.0;
  const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (read.ec == std::errc::result_out_of_range) return Unreadable{"is too large or too small a number"};
  if (read.ec != std::errc{}) return Unreadable{"is not a number"};
  if (read.ptr != digits.data() + digits.size()) {
    if (*read.ptr == ',') return Unreadable{"has a decimal comma; write a point"};
    return Unreadable{"is not a number"};
  }
  return value;
}

std::variant<Measured, Unreadable> read_measured(std::string_view text, bool allow_bare) {
  text = trim(text);
  if (text.empty()) return Unreadable{"is empty"};
  std::size_t end = 0;
  const auto in_number = [&](std::size_t i) {
    const char c = text[i];
    if ((c >= '0' && c <= '9') || c == '.' || c == ',') return true;
    if (c == '+' || c == '-') return i == 0 || text[i - 1] == 'e' || text[i - 1] == 'E';
    if (c == 'e' || c == 'E')
      return i > 0 && i + 1 < text.size() &&
             ((text[i + 1] >= '0' && text[i + 1] <= '9') || text[i + 1] == '-' || text[i + 1] == '+');
    return false;
  };
  while (end < text.size() && in_number(end)) ++end;
  if (end == 0) return Unreadable{"does not start with a number"};
  auto number = read_number(text.substr(0, end));
  if (auto* bad = std::get_if<Unreadable>(&number)) return *bad;
  const std::string_view unit_text = trim(text.substr(end));
  if (unit_text.empty() && !allow_bare) return Unreadable{"has no unit"};
  auto unit = read_unit(unit_text);
  if (auto* bad = std::get_if<Unreadable>(&unit)) return *bad;
  const Unit& u = std::get<Unit>(unit);
  const double si = std::get<double>(number) * u.scale + u.offset;
  if (!std::isfinite(si)) return Unreadable{"is too large a number"};
  if (u.offset != 0.0 && si < 0.0) return Unreadable{"is below absolute zero"};
  return Measured{si, u.dimension, u.offset != 0.0, u.basis, std::string(unit_text)};
}

std::string shortest(double number) {
  std::array<char, 32> buffer;
  const auto written = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number);
  return {buffer.data(), written.ptr};
}

}  // namespace leat
