// Lists: words, times of day, points of a curve; and moments.
#include <fmt/core.h>

#include <algorithm>

#include "base/time/civil.h"
#include "model/loop/value.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using words::Form;
using words::Key;

constexpr std::size_t kLongest = 200;

/// The list of a node, or what is wrong with it.
std::variant<const toml::array*, Refused> list_of(const Key& key, const toml::node& node) {
  const toml::array* list = node.as_array();
  if (!list)
    return Refused{node.source(), fmt::format("{} is not a list in square brackets; {}", shown(node), wanted(key))};
  if (list->size() > kLongest)
    return Refused{node.source(), fmt::format("has {} entries; {} are the most", list->size(), kLongest)};
  return list;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// "8:00" or "17:30", as hours.
std::optional<double> hour_of_day(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == 0 || colon > 2 || text.size() != colon + 3) return std::nullopt;
  int hour = 0, minute = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i == colon) continue;
    if (!is_digit(text[i])) return std::nullopt;
    int& part = i < colon ? hour : minute;
    part = 10 * part + (text[i] - '0');
  }
  return hour < 24 && minute < 60 ? std::optional(hour + minute / 60.0) : std::nullopt;
}

std::optional<double> hour_of_node(const toml::node& node) {
  if (const auto text = node.value_exact<std::string>()) return hour_of_day(*text);
  if (const auto time = node.value_exact<toml::time>()) return time->hour + time->minute / 60.0 + time->second / 3600.0;
  return std::nullopt;
}

struct CurvePoint {
  Said flow, head;
};

std::variant<CurvePoint, Refused> point_of(const Key& key, const toml::node& node) {
  static const Key flow{"flow", Form::quantity, dim::flow, 0.0, 0.1, "\"3000 L/h\"", ""};
  static const Key head{"head", Form::quantity, dim::length, 0.0, 100.0, "\"3 m\"", ""};
  const toml::array* pair = node.as_array();
  if (!pair || pair->size() != 2)
    return Refused{node.source(), fmt::format("{} is not a pair of flow and head; {}", shown(node), wanted(key))};
  CurvePoint point;
  for (const auto& [part, wants, at] : {std::tuple{&point.flow, &flow, 0u}, std::tuple{&point.head, &head, 1u}}) {
    auto read = read_measured_value(*wants, *pair->get(at));
    if (auto* bad = std::get_if<Refused>(&read)) return *bad;
    *part = std::get<Said>(std::move(read));
  }
  return point;
}

}  // namespace

ReadValue read_words_value(const Key& key, const toml::node& node) {
  const auto list = list_of(key, node);
  if (const auto* bad = std::get_if<Refused>(&list)) return *bad;
  Said said{.text = "list"};
  for (const toml::node& item : *std::get<const toml::array*>(list)) {
    const auto text = item.value_exact<std::string>();
    if (!text) return Refused{item.source(), fmt::format("{} is not a text in quotes; {}", shown(item), wanted(key))};
    said.words.push_back(*text);
  }
  return said;
}

ReadValue read_times_value(const Key& key, const toml::node& node) {
  const auto list = list_of(key, node);
  if (const auto* bad = std::get_if<Refused>(&list)) return *bad;
  Said said{.text = "list"};
  for (const toml::node& item : *std::get<const toml::array*>(list)) {
    const auto hour = hour_of_node(item);
    if (!hour)
      return Refused{item.source(),
                     fmt::format("{} is not a time of day on a clock of 24 hours; {}", shown(item), wanted(key))};
    if (std::find(said.hours.begin(), said.hours.end(), *hour) != said.hours.end())
      return Refused{item.source(), fmt::format("{} is there twice; leave one of them out", shown(item))};
    said.hours.push_back(*hour);
  }
  if (said.hours.empty()) return Refused{node.source(), fmt::format("is an empty list; {}", wanted(key))};
  std::sort(said.hours.begin(), said.hours.end());
  return said;
}

ReadValue read_moment_value(const Key& key, const toml::node& node) {
  Said said;
  CivilDate date;
  if (const toml::value<toml::date>* day = node.as_date()) {
    date = {day->get().year, day->get().month, day->get().day};
  } else if (const toml::value<toml::date_time>* moment = node.as_date_time()) {
    date = {moment->get().date.year, moment->get().date.month, moment->get().date.day};
    said.hours = {moment->get().time.hour + moment->get().time.minute / 60.0};
  } else {
    const auto text = node.value_exact<std::string>();
    if (!text) return Refused{node.source(), fmt::format("{} is not a day; {}", shown(node), wanted(key))};
    const auto read = read_time(*text);
    const ReadTime* time = std::get_if<ReadTime>(&read);
    if (!time || time->utc_offset_hours)
      return Refused{node.source(),
                     fmt::format("{} is not a day by the clock of the place; {}", quoted(*text), wanted(key))};
    date = time->local.date;
    if (text->find(':') != std::string::npos) said.hours = {time->local.hour};
  }
  if (date.year < 1900 || date.year > 2200)
    return Refused{node.source(),
                   fmt::format("{} is not in a year between 1900 and 2200; {}", shown(node), wanted(key))};
  said.text = date.text();
  return said;
}

ReadValue read_curve_value(const Key& key, const toml::node& node) {
  const auto list = list_of(key, node);
  if (const auto* bad = std::get_if<Refused>(&list)) return *bad;
  Said said{.text = "curve"};
  for (const toml::node& item : *std::get<const toml::array*>(list)) {
    const auto read = point_of(key, item);
    if (const auto* bad = std::get_if<Refused>(&read)) return *bad;
    const auto& [flow, head] = std::get<CurvePoint>(read);
    if (!said.points.empty() && (flow.number <= said.points.back().first || head.number >= said.points.back().second))
      return Refused{item.source(), fmt::format("goes on to {} at {}; from point to point the flow must grow and the "
                                                "head must fall",
                                                quoted(flow.text), quoted(head.text))};
    said.points.emplace_back(flow.number, head.number);
  }
  if (said.points.size() < 2) return Refused{node.source(), fmt::format("has fewer than two points; {}", wanted(key))};
  return said;
}

}  // namespace leat::model
