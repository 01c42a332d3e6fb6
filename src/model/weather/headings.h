// The headings of a weather table: which quantity a column holds, and in which unit.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/units/parse.h"

namespace leat::model {

/// One thing that a column may hold.
struct ColumnWord {
  std::string_view name;               ///< "rain"
  std::vector<std::string_view> also;  ///< other headings, small letters, words joined by '_'
  std::string_view unit;               ///< taken when the heading says none; empty for text
  double low = 0.0, high = 0.0;        ///< possible, in that unit
  std::string_view above;              ///< cure for a value above `high`; "{}" stands for the heading
  bool per_row = false;  ///< may be a sum of the row's period where a rate is wanted, or the other way round
};

/// Small letters, words joined by '_', without a wrapping of blanks: "Wind Speed" becomes "wind_speed".
std::string plain_heading(std::string_view text);

/// Reads a unit as weather files write it: those of base/units, and "mph", "kn", "W/m²", "mm/hr".
std::variant<Unit, Unreadable> read_weather_unit(std::string_view text);

/// A heading taken apart: "wind (m/s)", "wind [m/s]", "wind m/s", "wind". `word` is -1 when nothing is known of that
/// name.
struct Heading {
  int word = -1;
  std::string_view name, unit;
};
Heading split_heading(std::span<const ColumnWord> words, std::string_view text);

/// Makes a unit fit a dimension: a depth or an energy per row becomes a rate, or a rate a depth.
bool fit_unit(Unit& unit, Dimension wanted, bool per_row, double period_s);

/// Without blanks around it.
std::string_view trim(std::string_view text);
/// With every `what` turned into `with`.
std::string replaced(std::string text, std::string_view what, std::string_view with);

}  // namespace leat::model
