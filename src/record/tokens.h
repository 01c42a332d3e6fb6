// A typed phrase as words and numbers: "fed 60g, 2 dead" is fed | 60 | g | , | 2 | dead.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leat::record {

struct Token {
  std::string text;              ///< as typed
  std::string plain;             ///< in small letters
  std::optional<double> number;  ///< of a plain number
  std::size_t from = 0, to = 0;  ///< where it stands in the phrase
  bool comma_number = false;     ///< "6,8" or "1,000": which is meant cannot be told
};
using Tokens = std::vector<Token>;

/// Numbers come apart from what is glued to them, but dates and clock times stay whole. A comma, a semicolon and a line
/// end (as ";") are words of their own.
Tokens tokens_of(std::string_view phrase);

/// "two" is 2, "a dozen" is one word less easy and is not read.
std::optional<double> number_word(std::string_view plain);

}  // namespace leat::record
