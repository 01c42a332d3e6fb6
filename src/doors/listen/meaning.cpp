#include "doors/listen/meaning.h"

#include <fmt/core.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "record/amounts.h"

namespace leat::doors {
namespace {

/// A kind of reading and the kinds of unit that it may have (record::kind_of_unit); "" for one without a unit.
struct Measured {
  std::string_view what, kinds, example;
};
constexpr std::array kMeasured = {Measured{"temperature", "t", "degC"},
                                  Measured{"air_temperature", "t", "degC"},
                                  Measured{"pH", "", ""},
                                  Measured{"dissolved_oxygen", "c%", "mg/L"},
                                  Measured{"ammonia", "c", "mg/L"},
                                  Measured{"nitrite", "c", "mg/L"},
                                  Measured{"nitrate", "c", "mg/L"},
                                  Measured{"alkalinity", "ck", "mg/L"},
                                  Measured{"hardness", "ck", "mg/L"},
                                  Measured{"phosphorus", "c", "mg/L"},
                                  Measured{"iron", "c", "mg/L"},
                                  Measured{"potassium", "c", "mg/L"},
                                  Measured{"calcium", "c", "mg/L"},
                                  Measured{"magnesium", "c", "mg/L"},
                                  Measured{"chloride", "c", "mg/L"},
                                  Measured{"chlorine", "c", "mg/L"},
                                  Measured{"carbon_dioxide", "c", "mg/L"},
                                  Measured{"conductivity", "e", "uS/cm"},
                                  Measured{"flow", "f", "L/min"},
                                  Measured{"level", "l", "cm"},
                                  Measured{"lid_depth", "l", "cm"}};

const Measured* measured_named(std::string_view what) {
  const auto found =
      std::find_if(kMeasured.begin(), kMeasured.end(), [&](const Measured& m) { return m.what == what; });
  return found == kMeasured.end() ? nullptr : &*found;
}

struct Mapped {
  std::string_view senml, unit;
  double scale, offset;
};
/// Units of SenML whose numbers the record can hold (RFC 8428, 12.1; RFC 8798, 3).
constexpr std::array kUnits = {
    Mapped{"Cel", "degC", 1.0, 0.0},     Mapped{"K", "degC", 1.0, -273.15}, Mapped{"pH", "", 1.0, 0.0},
    Mapped{"m", "m", 1.0, 0.0},          Mapped{"cm", "cm", 1.0, 0.0},      Mapped{"mm", "mm", 1.0, 0.0},
    Mapped{"m3/s", "m3/h", 3600.0, 0.0}, Mapped{"l/s", "L/s", 1.0, 0.0},    Mapped{"S/m", "mS/cm", 10.0, 0.0},
    Mapped{"kg/m3", "g/L", 1.0, 0.0},    Mapped{"g/l", "g/L", 1.0, 0.0},    Mapped{"/", "%", 100.0, 0.0},
    Mapped{"%", "%", 1.0, 0.0},          Mapped{"/100", "%", 1.0, 0.0}};
/// Units as the record writes them, which sensors without SenML send.
constexpr std::array<std::string_view, 20> kOwn = {"degC", "degF", "mg/L",  "ug/L",  "g/L",  "meq/L", "mmol/L",
                                                   "dKH",  "dGH",  "uS/cm", "mS/cm", "cm",   "mm",    "m",
                                                   "in",   "L/h",  "L/min", "L/s",   "m3/h", "%"};

/// "yard/tank/nursery/temperature" as {"yard", "tank", "nursery", "temperature"}.
std::vector<std::string> parts_of(std::string_view name) {
  std::vector<std::string> parts(1);
  for (const char c : name)
    if (c == '/' || c == ':' || c == '.')
      parts.emplace_back();
    else
      parts.back() += c;
  return parts;
}

/// What a name says by itself.
std::optional<NameMeaning> meaning_of(const std::string& name, const record::Context& context) {
  const auto parts = parts_of(name);
  if (!measured_named(parts.back())) return std::nullopt;
  NameMeaning found{name, parts.back(), ""};
  if (parts.size() >= 3) {
    const std::string path = parts[parts.size() - 3] + "." + parts[parts.size() - 2];
    for (const record::Spot& s : context.spots)
      if (s.path == path) found.where = path;
  }
  return found;
}

std::string trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return std::string(text);
}

}  // namespace

std::optional<SensorUnit> sensor_unit(std::string_view text) {
  for (const Mapped& m : kUnits)
    if (m.senml == text) return SensorUnit{std::string(m.unit), m.scale, m.offset};
  if (std::find(kOwn.begin(), kOwn.end(), text) != kOwn.end()) return SensorUnit{std::string(text)};
  return std::nullopt;
}

std::vector<std::string_view> sensor_kinds() {
  std::vector<std::string_view> all;
  for (const Measured& m : kMeasured) all.push_back(m.what);
  return all;
}

std::optional<std::string> fault_of_unit(std::string_view what, const std::string& unit) {
  const Measured* m = measured_named(what);
  if (!m)
    return fmt::format("\"{}\" is nothing that a sensor may send{}; write such as temperature", what,
                       did_you_mean(what, sensor_kinds()));
  if (m->kinds.empty() && unit.empty()) return std::nullopt;
  const char kind = unit.empty() ? 0 : record::kind_of_unit(unit);
  if (kind != 0 && m->kinds.find(kind) != std::string_view::npos) return std::nullopt;
  return fmt::format("{} cannot be in \"{}\"; {}", what, unit,
                     m->kinds.empty() ? "it has no unit" : fmt::format("write such as {}", m->example));
}

std::vector<NameMeaning> read_name_meanings(std::string_view text, const record::Context& context, Problems& problems) {
  std::vector<NameMeaning> all;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(','), text.size());
    const std::string one = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    const std::size_t equals = one.rfind('=');
    const std::string meant = equals == std::string::npos ? "" : trimmed(std::string_view(one).substr(equals + 1));
    const std::size_t blank = meant.find(' ');
    NameMeaning m{trimmed(std::string_view(one).substr(0, equals)), meant.substr(0, blank),
                  blank == std::string::npos ? "" : trimmed(std::string_view(meant).substr(blank))};
    const bool known = m.where.empty() || std::any_of(context.spots.begin(), context.spots.end(),
                                                      [&](const record::Spot& s) { return s.path == m.where; });
    if (m.name.empty() || !measured_named(m.what) || !known)
      problems.add({"--map", 0, 0, "",
                    fmt::format("\"{}\" is no sensor with its meaning; write such as "
                                "\"urn:dev:ow:10e2073a=temperature tank.nursery\"",
                                one)});
    else
      all.push_back(std::move(m));
  }
  return all;
}

std::vector<record::Batch> batches_of(const Senml& pack, const std::vector<NameMeaning>& meanings,
                                      const record::Context& context, std::string_view file, Problems& problems) {
  std::vector<record::Batch> all;
  std::vector<std::string> told;  // of each name and unit once
  const auto wrong = [&](const SenmlRecord& r, std::string said) {
    if (std::find(told.begin(), told.end(), r.name + " " + r.unit) != told.end()) return;
    told.push_back(r.name + " " + r.unit);
    problems.add({std::string(file), 0, 0, r.name, std::move(said)});
  };
  for (const SenmlRecord& r : pack.records) {
    const auto said =
        std::find_if(meanings.begin(), meanings.end(), [&](const NameMeaning& m) { return m.name == r.name; });
    const auto meant = said != meanings.end() ? std::optional(*said) : meaning_of(r.name, context);
    const auto unit = sensor_unit(r.unit);
    if (!meant) {
      wrong(r, fmt::format("what it reads is not known; say it with --map \"{}=temperature tank.nursery\"", r.name));
      continue;
    }
    if (!unit && !(r.unit.empty() && meant->what == "pH")) {
      wrong(r, r.unit.empty() ? fmt::format("has no unit; SenML says it as \"u\", such as \"Cel\" for a temperature")
                              : fmt::format("its unit \"{}\" is not known; write one of SenML, such as \"Cel\" or "
                                            "\"S/m\", or one of the record, such as \"mg/L\"",
                                            r.unit));
      continue;
    }
    const SensorUnit own = unit.value_or(SensorUnit{});
    if (const auto fault = fault_of_unit(meant->what, own.unit)) {
      wrong(r, *fault);
      continue;
    }
    const record::SeriesName name{meant->what, meant->where, r.name, own.unit, ""};
    auto found = std::find_if(all.begin(), all.end(), [&](const record::Batch& b) { return b.name == name; });
    if (found == all.end()) found = all.insert(all.end(), record::Batch{name, {}});
    found->samples.push_back({r.at, own.of(r.value)});
  }
  return all;
}

}  // namespace leat::doors
