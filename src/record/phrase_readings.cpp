#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/units/parse.h"
#include "record/phrase_parts.h"

namespace leat::record {
namespace {

/// A quantity by the names that kits and people use. `kinds` are the kinds of unit that fit (see kind_of_unit).
struct Measure {
  std::string_view name, what, kinds;
  std::string_view unit;   ///< taken when none is said; empty: none is needed; "?": it must be said
  std::string_view basis;  ///< that the name itself says
  double low, high;        ///< likely numbers in `unit`
};
constexpr double kAny = 1e9;
constexpr std::array kMeasures = {Measure{"ph", "pH", "", "", "", 2, 12},
                                  Measure{"temp", "temperature", "t", "degC", "", -5, 45},
                                  Measure{"temperature", "temperature", "t", "degC", "", -5, 45},
                                  Measure{"water temp", "temperature", "t", "degC", "", -5, 45},
                                  Measure{"water temperature", "temperature", "t", "degC", "", -5, 45},
                                  Measure{"t", "temperature", "t", "degC", "", -5, 45},
                                  Measure{"air", "air_temperature", "t", "degC", "", -45, 50},
                                  Measure{"air temp", "air_temperature", "t", "degC", "", -45, 50},
                                  Measure{"air temperature", "air_temperature", "t", "degC", "", -45, 50},
                                  Measure{"do", "dissolved_oxygen", "c%", "mg/L", "", 0, 25},
                                  Measure{"o2", "dissolved_oxygen", "c%", "mg/L", "", 0, 25},
                                  Measure{"oxygen", "dissolved_oxygen", "c%", "mg/L", "", 0, 25},
                                  Measure{"nh3", "ammonia", "c", "mg/L", "", 0, 50},
                                  Measure{"nh4", "ammonia", "c", "mg/L", "", 0, 50},
                                  Measure{"nh3/nh4", "ammonia", "c", "mg/L", "", 0, 50},
                                  Measure{"ammonia", "ammonia", "c", "mg/L", "", 0, 50},
                                  Measure{"ammonium", "ammonia", "c", "mg/L", "", 0, 50},
                                  Measure{"tan", "ammonia", "c", "mg/L", "N", 0, 50},
                                  Measure{"nh3-n", "ammonia", "c", "mg/L", "N", 0, 50},
                                  Measure{"nh4-n", "ammonia", "c", "mg/L", "N", 0, 50},
                                  Measure{"no2", "nitrite", "c", "mg/L", "", 0, 100},
                                  Measure{"nitrite", "nitrite", "c", "mg/L", "", 0, 100},
                                  Measure{"no2-n", "nitrite", "c", "mg/L", "N", 0, 100},
                                  Measure{"no3", "nitrate", "c", "mg/L", "", 0, 2000},
                                  Measure{"nitrate", "nitrate", "c", "mg/L", "", 0, 2000},
                                  Measure{"no3-n", "nitrate", "c", "mg/L", "N", 0, 2000},
                                  Measure{"kh", "alkalinity", "ck", "?", "", 0, 1000},
                                  Measure{"alkalinity", "alkalinity", "ck", "?", "", 0, 1000},
                                  Measure{"gh", "hardness", "ck", "?", "", 0, 2000},
                                  Measure{"hardness", "hardness", "ck", "?", "", 0, 2000},
                                  Measure{"po4", "phosphorus", "c", "mg/L", "", 0, 200},
                                  Measure{"phosphate", "phosphorus", "c", "mg/L", "", 0, 200},
                                  Measure{"iron", "iron", "c", "mg/L", "", 0, 50},
                                  Measure{"fe", "iron", "c", "mg/L", "", 0, 50},
                                  Measure{"potassium", "potassium", "c", "mg/L", "", 0, 1000},
                                  Measure{"calcium", "calcium", "c", "mg/L", "", 0, 1000},
                                  Measure{"magnesium", "magnesium", "c", "mg/L", "", 0, 1000},
                                  Measure{"chloride", "chloride", "c", "mg/L", "", 0, 40000},
                                  Measure{"chlorine", "chlorine", "c", "mg/L", "", 0, 20},
                                  Measure{"co2", "carbon_dioxide", "c", "mg/L", "", 0, 500},
                                  Measure{"ec", "conductivity", "e", "?", "", 0, 1e6},
                                  Measure{"conductivity", "conductivity", "e", "?", "", 0, 1e6},
                                  Measure{"flow", "flow", "fv", "?", "", 0, kAny},
                                  Measure{"level", "level", "l", "?", "", 0, kAny},
                                  Measure{"lid", "lid_depth", "l", "?", "", 0, kAny},
                                  Measure{"lid depth", "lid_depth", "l", "?", "", 0, kAny},
                                  Measure{"secchi", "lid_depth", "l", "?", "", 0, kAny}};

const Measure* measure_at(const Cursor& c, std::size_t& words) {
  const std::string one(c.plain()), two = one + " " + std::string(c.plain(1));
  const Measure* found = nullptr;
  for (const Measure& m : kMeasures)
    if (m.name == two || (m.name == one && !found)) {
      found = &m;
      words = m.name == two ? 2 : 1;
      if (m.name == two) break;
    }
  return found;
}

const Measure& measure_named(std::string_view name) {
  return *std::find_if(kMeasures.begin(), kMeasures.end(), [&](const Measure& m) { return m.name == name; });
}

std::string example_unit(const Measure& m) {
  if (m.what == "alkalinity") return "dKH";
  if (m.what == "hardness") return "dGH";
  if (m.what == "conductivity") return "uS/cm";
  if (m.what == "flow") return "L/h";
  return m.kinds == "l" ? "cm" : std::string(m.unit);
}

std::string number_said(const Amount& a) {
  return amount_text({a.low, a.high, "", "", false});
}

/// Degrees of hardness are German ones unless a unit says otherwise; milligrams are as CaCO3 on every kit for these.
void take_hardness(Amount& a, const Measure& m, Clause& clause) {
  const bool alkalinity = m.what == "alkalinity";
  if (m.what != "hardness" && !alkalinity) return;
  if (a.unit == "degrees") {
    a.unit = alkalinity ? "dKH" : "dGH";
    clause.taken.push_back("German degrees");
  }
  if (a.basis.empty() && kind_of_unit(a.unit) == 'c' && a.unit != "meq/L" && a.unit != "mmol/L") {
    a.basis = "CaCO3";
    clause.taken.push_back("as CaCO3");
  }
}

void check_unit(Amount& a, const Measure& m, Clause& clause) {
  const std::string name(m.name), number = number_said(a);
  if (a.unit.empty() && m.unit == "?") {
    const std::string doubt = m.what == "alkalinity" || m.what == "hardness" ? "degrees or mg/L?" : "in what unit?";
    return clause.doubted(doubt, fmt::format("{} {} {}", name, number, example_unit(m)));
  }
  if (a.unit.empty() && !m.unit.empty()) {
    a.unit = m.unit;
    clause.taken.push_back(a.unit);
  }
  const char kind = kind_of_unit(a.unit);
  if (!a.unit.empty() && m.kinds.find(kind) == std::string_view::npos)
    return clause.doubted(
        fmt::format("{} is not measured in {}", name, a.unit),
        m.unit.empty() ? fmt::format("{} {}", name, number) : fmt::format("{} {} {}", name, number, example_unit(m)));
  take_hardness(a, m, clause);
}

void check_range(const Amount& a, const Measure& m, Clause& clause) {
  const bool fahrenheit = a.unit == "degF";
  if (!fahrenheit && a.unit != m.unit && !m.unit.empty()) return;
  for (const auto& side : {a.low, a.high}) {
    if (!side) continue;
    const double n = fahrenheit ? (*side - 32.0) / 1.8 : *side;
    if (n >= m.low && n <= m.high) continue;
    const bool maybe_f = m.kinds == "t" && !fahrenheit && *side <= 120.0 && *side > 0.0;
    clause.doubted(fmt::format("{} {} is beyond anything likely", m.name, amount_text(a)),
                   maybe_f ? fmt::format("{} {} degF", m.name, number_said(a)) : "");
    return;
  }
}

Entry reading_of(const Measure& m, Amount amount) {
  Entry e;
  e.kind = Kind::reading;
  e.what = m.what;
  if (m.what == "air_temperature") e.where = "outside";
  e.amount = std::move(amount);
  if (e.amount.basis.empty()) e.amount.basis = m.basis;
  return e;
}

bool is_nitrogen(const Measure& m) {
  return m.what == "ammonia" || m.what == "nitrite" || m.what == "nitrate";
}

/// One number under a measure; false when no number stands there.
bool take_number(Cursor& c, const Measure& m, Clause& clause, std::string_view extreme) {
  auto said = take_amount(c.tokens, c.at, c.end);
  if (!said) {
    clause.doubted("no number that can be read",
                   fmt::format("{} {}", m.name, m.what == "pH" ? "6.8" : "9.1 " + example_unit(m)));
    return false;
  }
  Amount& a = said->amount;
  if (!said->doubt.empty()) clause.doubted(said->doubt, "");
  if (m.what == "flow" && kind_of_unit(a.unit) == 'v') {
    // A bucket and a watch.
    std::size_t i = c.at;
    const bool in = i < c.end && (c.tokens[i].plain == "in" || c.tokens[i].plain == "per");
    const auto time = in ? take_amount(c.tokens, ++i, c.end) : std::nullopt;
    if (time && time->amount.unit == "s" && time->amount.low.value_or(0.0) > 0.0 && a.low && a.unit == "L") {
      c.at = i;
      a = {3600.0 * *a.low / *time->amount.low, 3600.0 * *a.high / *time->amount.low, "L/h", "", a.about};
    } else {
      clause.doubted("in how many seconds?", fmt::format("flow {} in 18 s", amount_text(a)));
    }
  }
  if (a.high.value_or(0.0) > kAny) {
    clause.doubted(fmt::format("{} is beyond anything likely", number_said(a)), "");
    return false;
  }
  check_unit(a, m, clause);
  check_range(a, m, clause);
  Entry e = reading_of(m, a);
  e.extreme = extreme;
  if (is_nitrogen(m) && e.amount.basis.empty() && kind_of_unit(a.unit) == 'c')
    clause.taken.push_back(fmt::format("as nitrogen or as the ion was not said: add \"as N\" or \"as {}\"",
                                       m.what == "ammonia"   ? "NH3"
                                       : m.what == "nitrite" ? "NO2"
                                                             : "NO3"));
  clause.entries.push_back(std::move(e));
  return true;
}

std::string_view extreme_at(const Cursor& c, std::size_t ahead = 0) {
  const std::string_view word = c.plain(ahead);
  if (word == "min" || word == "minimum" || word == "low" || word == "lowest") return "min";
  if (word == "max" || word == "maximum" || word == "high" || word == "highest") return "max";
  if (word == "now" && c.is_number(ahead + 1)) return "now";
  return "";
}

/// "min 9.1 max 11.4 now 10.2"
void take_extremes(Cursor& c, const Measure& m, Clause& clause) {
  std::optional<double> low, high;
  while (!extreme_at(c).empty()) {
    const std::string_view extreme = extreme_at(c);
    ++c.at;
    c.take_any({"was", "is", "="});
    if (!take_number(c, m, clause, extreme == "now" ? "" : extreme)) return;
    (extreme == "min" ? low : high) = clause.entries.back().amount.low;
    std::size_t past = c.at;
    if (c.take_any({",", "and"}) && extreme_at(c).empty()) c.at = past;
  }
  if (low && high && *low > *high)
    clause.doubted("the min is above the max", fmt::format("min {} max {}", shortest(*high), shortest(*low)));
  std::sort(clause.taken.begin(), clause.taken.end());
  clause.taken.erase(std::unique(clause.taken.begin(), clause.taken.end()), clause.taken.end());
}

/// A number that says by its unit what it is: "9.5 C", "12 cm".
const Measure* measure_by_unit(const Cursor& c) {
  if (!c.is_number()) return nullptr;
  std::size_t at = c.at;
  const auto said = take_amount(c.tokens, at, c.end);
  const char kind = said ? kind_of_unit(said->amount.unit) : '\0';
  if (kind == 't') return &measure_named("temp");
  if (kind == 'l') return &measure_named("level");
  return nullptr;
}

}  // namespace

bool starts_reading(const Cursor& c) {
  std::size_t words = 0;
  return !extreme_at(c).empty() || measure_at(c, words) || measure_by_unit(c);
}

bool read_reading(Cursor& c, Clause& clause) {
  std::size_t words = 0;
  if (const Measure* m = measure_at(c, words)) {
    c.at += words;
    c.take_any({"is", "was", "=", ":", "of"});
    if (!extreme_at(c).empty())
      take_extremes(c, *m, clause);
    else
      take_number(c, *m, clause, "");
    return true;
  }
  if (!extreme_at(c).empty()) {
    take_extremes(c, measure_named("temp"), clause);
    return true;
  }
  const Measure* m = measure_by_unit(c);
  if (!m) return false;
  take_number(c, *m, clause, "");
  return true;
}

}  // namespace leat::record
