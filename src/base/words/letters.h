// Letters of the alphabet, for words that are compared whatever their case.
#pragma once

#include <string>
#include <string_view>

namespace leat::words {

inline std::string in_small_letters(std::string_view words) {
  std::string text(words);
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

}  // namespace leat::words
