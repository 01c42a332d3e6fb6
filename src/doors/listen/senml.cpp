#include "doors/listen/senml.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>

namespace leat::doors {
namespace {

using nlohmann::json;

constexpr double kAbsolute = 268'435'456.0;  // 2^28: less is a time from now (RFC 8428, 4.5.3)
constexpr double kLatest = 4'102'444'800.0;  // 2100; beyond it a time is most likely in milliseconds
constexpr int kVersion = 10;

/// A pack is an array of flat objects; anything deeper costs nothing.
bool is_flat(int depth, json::parse_event_t, json&) {
  return depth <= 2;
}

bool is_name(std::string_view name) {
  const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9'); };
  const auto fits = [&](char c) { return plain(c) || std::string_view("-:./_").find(c) != std::string_view::npos; };
  return !name.empty() && plain(name.front()) && std::all_of(name.begin(), name.end(), fits);
}

struct Pack {
  std::string_view file;
  record::Moment now;
  Problems& problems;
  Senml read{};
  std::string name{}, unit{};
  double time = 0.0, value = 0.0;
  std::optional<double> version{};

  void wrong(std::size_t at, std::string said) {
    problems.add({std::string(file), 0, 0, fmt::format("record {}", at + 1), std::move(said)});
  }

  /// A field that must hold a number; nothing when it is not there.
  std::optional<double> number(const json& record, const char* field, std::size_t at) {
    const auto found = record.find(field);
    if (found == record.end()) return std::nullopt;
    if (found->is_number() && std::isfinite(found->get<double>())) return found->get<double>();
    wrong(at, fmt::format("\"{}\" holds no number; write such as \"{}\": 9.5", field, field));
    return std::nullopt;
  }

  std::optional<std::string> words(const json& record, const char* field, std::size_t at) {
    const auto found = record.find(field);
    if (found == record.end()) return std::nullopt;
    if (found->is_string()) return found->get<std::string>();
    wrong(at, fmt::format("\"{}\" holds no text; write it in quotes", field));
    return std::nullopt;
  }

  void take_bases(const json& record, std::size_t at) {
    if (auto text = words(record, "bn", at)) name = std::move(*text);
    if (auto text = words(record, "bu", at)) unit = std::move(*text);
    if (const auto n = number(record, "bt", at)) time = *n;
    if (const auto n = number(record, "bv", at)) value = *n;
    const auto n = number(record, "bver", at);
    if (!n) return;
    if (*n > kVersion || *n < 1.0)
      wrong(at, fmt::format("\"bver\" is {}, and this program knows versions up to {}", *n, kVersion));
    else if (version && *version != *n)
      wrong(at, fmt::format("\"bver\" is {} and was {} before; a pack has one version", *n, *version));
    version = *n;
  }

  /// A label that ends with _ must be understood (RFC 8428, 4.4), and none is.
  bool understood(const json& record, std::size_t at) {
    for (const auto& item : record.items())
      if (item.key().ends_with('_')) {
        wrong(at, fmt::format("\"{}\" must be understood, as its _ says, and is not known here", item.key()));
        return false;
      }
    return true;
  }

  std::optional<record::Moment> moment(double own, std::size_t at) {
    double seconds = time + own;
    if (seconds < kAbsolute) seconds += 1e-3 * static_cast<double>(now);
    if (seconds >= 0.0 && seconds < kLatest) return static_cast<record::Moment>(std::llround(1e3 * seconds));
    wrong(at, fmt::format("its time is {} s, which is before 1970 or after 2100; SenML counts seconds since 1970",
                          seconds));
    return std::nullopt;
  }

  void take(const json& record, std::size_t at) {
    const std::size_t before = problems.size();
    take_bases(record, at);
    if (!understood(record, at)) return;
    const auto n = number(record, "v", at);
    const double own_time = number(record, "t", at).value_or(0.0);
    const std::string full = name + words(record, "n", at).value_or("");
    const std::string own_unit = words(record, "u", at).value_or(unit);
    if (problems.size() != before) return;
    if (!n) return without_number(record, at);
    if (!is_name(full))
      return wrong(at, fmt::format("\"{}\" is no name of a sensor; a name has letters, digits and - : . / _ and starts "
                                   "with a letter or digit",
                                   full));
    const auto when = moment(own_time, at);
    if (!when) return;
    if (!std::isfinite(value + *n)) return wrong(at, "\"bv\" and \"v\" together are no number that can be held");
    read.records.push_back({full, own_unit, *when, value + *n});
  }

  void without_number(const json& record, std::size_t at) {
    constexpr std::array others = {"vs", "vb", "vd", "s"};
    const bool other = std::any_of(others.begin(), others.end(), [&](const char* f) { return record.contains(f); });
    const bool only_bases = std::all_of(record.items().begin(), record.items().end(),
                                        [](const auto& item) { return item.key().starts_with('b'); });
    if (other)
      ++read.no_number;
    else if (!only_bases || record.empty())
      wrong(at, "has no value; write such as {\"n\": \"tank.nursery.temperature\", \"u\": \"Cel\", \"v\": 9.5}");
  }
};

}  // namespace

Senml read_senml(std::string_view text, std::string_view file, record::Moment now, Problems& problems) {
  const json pack = json::parse(text.begin(), text.end(), is_flat, false);
  if (!pack.is_array()) {
    problems.add({std::string(file), 0, 0, "",
                  "is no SenML pack, which is a JSON array of flat records, such as [{\"n\": "
                  "\"tank.nursery.temperature\", \"u\": \"Cel\", \"v\": 9.5}]"});
    return {};
  }
  Pack reader{file, now, problems};
  for (std::size_t i = 0; i < pack.size(); ++i) {
    if (pack[i].is_object())
      reader.take(pack[i], i);
    else
      reader.wrong(i, "is no record; each stands in { }");
  }
  return std::move(reader.read);
}

}  // namespace leat::doors
