#include "record/tokens.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "base/units/parse.h"
#include "base/words/letters.h"

namespace leat::record {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\r';
}

/// How long a shape of digits is at the front: '9' stands for a digit, '*' for one or no digit, others for themselves.
std::size_t shape(std::string_view text, std::string_view form) {
  std::size_t at = 0;
  for (const char f : form) {
    const bool digit = at < text.size() && is_digit(text[at]);
    if (f == '9' ? !digit : f == '*' ? false : at >= text.size() || text[at] != f) return 0;
    if (f == '9' || f != '*' || digit) ++at;
  }
  return at < text.size() && is_digit(text[at]) ? 0 : at;
}

/// A date or a time of day, which are one word.
std::size_t clock_length(std::string_view text) {
  for (const std::string_view form : {"9999-9*-9*T9*:99", "9999-9*-9*", "9999/9*/9*", "9*:99"})
    if (const std::size_t n = shape(text, form)) return n;
  return 0;
}

/// Digits with at most one point or with commas.
std::size_t number_length(std::string_view text) {
  std::size_t n = text.starts_with('-') ? 1 : 0;
  const std::size_t start = n;
  bool point = false;
  while (n < text.size()) {
    const bool inner = n + 1 < text.size() && is_digit(text[n + 1]);
    if (!is_digit(text[n]) && !((text[n] == '.' && !point && inner) || (text[n] == ',' && inner && n > start))) break;
    point = point || text[n] == '.';
    ++n;
  }
  return n == start ? 0 : n;
}

struct Cutter {
  std::string_view phrase;
  Tokens tokens;
  std::size_t at = 0;

  void add(std::size_t length) {
    const std::string_view text = phrase.substr(at, length);
    tokens.push_back({std::string(text), words::in_small_letters(text), std::nullopt, at, at + length});
    at += length;
  }
  bool take_number() {
    // A minus belongs to the number only where no number stands right before: "0.25-0.5" is a range.
    const bool after_number = !tokens.empty() && tokens.back().to == at && tokens.back().number;
    if (phrase[at] == '-' && after_number) return false;
    const std::size_t n = number_length(phrase.substr(at));
    if (n == 0) return false;
    add(n);
    Token& t = tokens.back();
    t.comma_number = t.text.find(',') != std::string::npos;
    const auto read = read_number(t.text);
    if (const double* number = std::get_if<double>(&read)) t.number = *number;
    return true;
  }
  bool is_mark(std::size_t i) const {
    const char c = phrase[i];
    return c == ',' || c == ';' || c == '<' || c == '>' || c == '~' || c == ':' || c == '?' || c == '!' || c == '=';
  }
  void take_word() {
    std::size_t n = 0;
    while (at + n < phrase.size() && !is_blank(phrase[at + n]) && phrase[at + n] != '\n' && !is_mark(at + n)) ++n;
    while (n > 1 && phrase[at + n - 1] == '.') --n;
    add(std::max<std::size_t>(n, 1));
  }
};

}  // namespace

Tokens tokens_of(std::string_view phrase) {
  Cutter cut{phrase, {}};
  while (cut.at < phrase.size()) {
    const char c = phrase[cut.at];
    if (is_blank(c) || (c == '.' && (cut.at + 1 == phrase.size() || is_blank(phrase[cut.at + 1])))) {
      ++cut.at;
    } else if (c == '\n') {
      cut.add(1);
      cut.tokens.back().plain = ";";
    } else if (const std::size_t n = clock_length(phrase.substr(cut.at))) {
      cut.add(n);
    } else if (!cut.take_number()) {
      if (cut.is_mark(cut.at) || (c == '-' && !cut.tokens.empty() && cut.tokens.back().number))
        cut.add(1);
      else
        cut.take_word();
    }
  }
  return std::move(cut.tokens);
}

std::optional<double> number_word(std::string_view plain) {
  constexpr std::array<std::string_view, 13> kWords = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                                       "seven", "eight", "nine", "ten",   "eleven", "twelve"};
  for (std::size_t i = 0; i < kWords.size(); ++i)
    if (kWords[i] == plain) return static_cast<double>(i);
  if (plain == "a" || plain == "an") return 1.0;
  return std::nullopt;
}

}  // namespace leat::record
