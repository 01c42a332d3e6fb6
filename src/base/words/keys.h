// The words of a loop's description: every table and key that a loop.toml may hold, with what it takes. The decoder,
// "did you mean", the reference page and the tests all read this one table.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "base/units/quantity.h"

namespace leat::words {

/// What a key takes.
enum class Form {
  quantity,     ///< text with a unit: "1000 L"
  temperature,  ///< text with a unit of a temperature scale: "12.5 degC"
  share,        ///< a number 0 to 1, or text in percent: 0.4, "40 %"
  number,       ///< a plain number
  count,        ///< a whole number, not negative
  flag,         ///< true or false
  word,         ///< one of `choices`
  text,         ///< free text
  reference,    ///< the path of another component: "tank.nursery"
  words,        ///< a list of words, each one of `choices` (or "4 x elbow")
  times,        ///< a list of times of day: ["08:00", "17:00"]
  moment,       ///< a day, with or without a time of day: "2026-04-12 07:00"
  curve,        ///< a list of [flow, head] pairs
};

struct Key {
  std::string_view name;
  Form form;
  Dimension dimension;       ///< of a quantity
  double low, high;          ///< plausible range, SI (degC for a temperature)
  std::string_view example;  ///< as it would stand after "key = "
  std::string_view meaning;
  std::string_view choices =
      {};  ///< blank-separated: of a word; the kinds a reference may name; ways to count a concentration
  std::string_view basis = {};  ///< what a concentration is counted as: "N", "CaCO3", "O2"
};

/// One table of the description. A named kind stands as [kind.name], a single one as [kind].
struct Kind {
  std::string_view name;
  bool single;
  bool vessel;
  std::string_view meaning;
  std::vector<Key> keys;
};

std::span<const Kind> kinds();
const Kind* find_kind(std::string_view name);
const Key* find_key(const Kind& kind, std::string_view name);

/// The words in a blank-separated list.
std::vector<std::string_view> split_words(std::string_view list);

}  // namespace leat::words
