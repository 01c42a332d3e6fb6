// Short ways to write the rows of the vocabulary; for the files that hold its rows only.
#pragma once

#include <initializer_list>

#include "base/words/keys.h"

namespace leat::words {

inline constexpr double kHour = 3600.0;
inline constexpr std::string_view kVessels = "tank sump raft_bed gravel_bed";

inline Key quantity(std::string_view name, Dimension d, double low, double high, std::string_view example,
                    std::string_view meaning, std::string_view basis = {}, std::string_view ways_to_count = {}) {
  return {name, Form::quantity, d, low, high, example, meaning, ways_to_count.empty() ? basis : ways_to_count, basis};
}
inline Key length(std::string_view name, double low, double high, std::string_view example, std::string_view meaning) {
  return quantity(name, dim::length, low, high, example, meaning);
}
inline Key temperature(std::string_view name, double low, double high, std::string_view example,
                       std::string_view meaning) {
  return {name, Form::temperature, dim::temperature, low, high, example, meaning};
}
inline Key share(std::string_view name, std::string_view example, std::string_view meaning, double low = 0.0,
                 double high = 1.0) {
  return {name, Form::share, dim::none, low, high, example, meaning};
}
inline Key number(std::string_view name, double low, double high, std::string_view example, std::string_view meaning) {
  return {name, Form::number, dim::none, low, high, example, meaning};
}
inline Key count(std::string_view name, double high, std::string_view example, std::string_view meaning) {
  return {name, Form::count, dim::none, 1.0, high, example, meaning};
}
inline Key flag(std::string_view name, std::string_view example, std::string_view meaning) {
  return {name, Form::flag, dim::none, 0, 0, example, meaning};
}
inline Key word(std::string_view name, std::string_view choices, std::string_view example, std::string_view meaning) {
  return {name, Form::word, dim::none, 0, 0, example, meaning, choices};
}
inline Key text(std::string_view name, std::string_view example, std::string_view meaning) {
  return {name, Form::text, dim::none, 0, 0, example, meaning};
}
inline Key moment(std::string_view name, std::string_view example, std::string_view meaning) {
  return {name, Form::moment, dim::none, 0, 0, example, meaning};
}
inline Key reference(std::string_view name, std::string_view to, std::string_view example, std::string_view meaning) {
  return {name, Form::reference, dim::none, 0, 0, example, meaning, to};
}

inline std::vector<Key> joined(std::initializer_list<std::vector<Key>> lists) {
  std::vector<Key> all;
  for (const auto& list : lists) all.insert(all.end(), list.begin(), list.end());
  return all;
}

/// Bore, length, losses and roughness of a run of pipe.
std::vector<Key> pipe_run(std::string_view bore_meaning);
/// Everything that moves water by itself: pumps, pipes, valves, overflows, siphons, holes, weirs, returns.
std::vector<Kind> plumbing_kinds();
/// What is done on a day within a run.
std::vector<Kind> deed_kinds();

}  // namespace leat::words
