// Typed days cut into words with their places: one day a line or between two ';'.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "model/weather/headings.h"

namespace leat::model {

struct TypedWord {
  std::string text;  ///< as written, without a closing ',' or ':'
  int column = 1;
  std::string plain() const { return plain_heading(text); }
};

/// One day as typed: the words between two ';' or line ends.
struct TypedDay {
  int line = 1;
  std::vector<TypedWord> words;
};

/// The days of a text. Blank days, '=' and lines that begin with '#' are left out.
std::vector<TypedDay> split_days(std::string_view text);

}  // namespace leat::model
