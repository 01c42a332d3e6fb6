#include "tell/drawing/layout/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace leat::tell::drawing {
namespace {

/// Bytes of the character that starts here; 1 where it is broken.
std::size_t character(std::string_view text, std::size_t from) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u; };
  const unsigned lead = byte(from);
  const std::size_t n = lead < 0x80 ? 1 : lead >> 5 == 6 ? 2 : lead >> 4 == 14 ? 3 : lead >> 3 == 30 ? 4 : 1;
  for (std::size_t i = 1; i < n; ++i)
    if (byte(from + i) >> 6 != 2) return 1;
  return n;
}

/// Halves of surrogates and the two that are no characters: XML takes neither.
bool is_barred(std::string_view letter) {
  return (letter[0] == '\xED' && static_cast<unsigned char>(letter[1]) >= 0xA0) ||
         (letter.starts_with("\xEF\xBF") && static_cast<unsigned char>(letter[2]) >= 0xBE);
}

double em_of(unsigned char c) {
  struct Row {
    std::string_view letters;
    double em;
  };
  static constexpr Row kRows[] = {{"'ijlIJ", 0.30},          {" ,./:;\\|-f", 0.36}, {"()[]t!r\"", 0.47},
                                  {"*_`sz?cLFkvxy", 0.60},   {"w#+<=>^~", 0.84},    {"M%mW@", 1.0},
                                  {"ABRXZCUHNDG&OQVK", 0.79}};
  for (const Row& row : kRows)
    if (row.letters.find(static_cast<char>(c)) != std::string_view::npos) return row.em;
  return c < 0x80 ? 0.64 : 1.0;
}

/// Runs of a text between blanks.
std::vector<std::string> words_in(std::string_view text) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t end = std::min(text.find(' ', i), text.size());
    if (end > i) words.emplace_back(text.substr(i, end - i));
    i = end + 1;
  }
  return words;
}

/// As many whole characters as fit, at least one.
std::size_t fitting(std::string_view text, double width, double size, bool bold) {
  std::size_t end = character(text, 0);
  while (end < text.size()) {
    const std::size_t next = end + character(text, end);
    if (text_width(text.substr(0, next), size, bold) > width) break;
    end = next;
  }
  return end;
}

}  // namespace

double text_width(std::string_view text, double size, bool bold) {
  double em = 0.0;
  for (std::size_t i = 0; i < text.size(); i += character(text, i)) em += em_of(static_cast<unsigned char>(text[i]));
  return em * size * (bold ? 1.15 : 1.0);
}

std::vector<std::string> broken(std::string_view text, double width, double size, bool bold) {
  std::vector<std::string> lines;
  for (std::string word : words_in(text)) {
    if (!lines.empty() && text_width(lines.back() + " " + word, size, bold) <= width) {
      lines.back() += " " + word;
      continue;
    }
    while (text_width(word, size, bold) > width && word.size() > 1) {
      const std::size_t n = fitting(word, width, size, bold);
      if (n >= word.size()) break;
      lines.push_back(word.substr(0, n));
      word.erase(0, n);
    }
    lines.push_back(std::move(word));
  }
  return lines;
}

std::string cut(std::string_view text, double width, double size, bool bold) {
  if (text.empty() || text_width(text, size, bold) <= width) return std::string(text);
  return std::string(text.substr(0, fitting(text, width - size, size, bold))) + "\u2026";
}

std::string escaped(std::string_view text) {
  std::string out;
  for (std::size_t i = 0, n = 0; i < text.size(); i += n) {
    n = character(text, i);
    const char c = text[i];
    const auto byte = static_cast<unsigned char>(c);
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else if (byte < 0x20 || byte == 0x7f)
      out += ' ';
    else if ((n == 1 && byte >= 0x80) || (n == 3 && is_barred(text.substr(i, n))))
      out += "\uFFFD";
    else
      out += text.substr(i, n);
  }
  return out;
}

std::string number(double x) {
  const double rounded = std::round(x * 10.0) / 10.0;
  if (rounded == 0.0) return "0";
  return rounded == std::round(rounded) ? fmt::format("{:.0f}", rounded) : fmt::format("{:.1f}", rounded);
}

std::string name_of(std::string_view path) {
  const std::size_t dot = path.find('.');
  return std::string(dot == std::string_view::npos ? path : path.substr(dot + 1));
}

std::string kind_of(std::string_view path) {
  std::string kind(path.substr(0, path.find('.')));
  std::replace(kind.begin(), kind.end(), '_', ' ');
  return kind;
}

}  // namespace leat::tell::drawing
