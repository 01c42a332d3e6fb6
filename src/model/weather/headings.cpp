#include "model/weather/headings.h"

#include <algorithm>
#include <cctype>
#include <utility>

namespace leat::model {
namespace {

int word_of(std::span<const ColumnWord> words, std::string_view plain) {
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto& also = words[i].also;
    if (words[i].name == plain || std::find(also.begin(), also.end(), plain) != also.end()) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

std::string_view trim(std::string_view s) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!s.empty() && blank(s.front())) s.remove_prefix(1);
  while (!s.empty() && blank(s.back())) s.remove_suffix(1);
  return s;
}

std::string replaced(std::string text, std::string_view what, std::string_view with) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size()))
    text.replace(at, what.size(), with);
  return text;
}

std::string plain_heading(std::string_view text) {
  std::string plain;
  for (const char c : trim(text)) {
    const bool joint = c == ' ' || c == '-' || c == '_' || c == '.';
    if (!joint)
      plain += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    else if (!plain.ends_with('_'))
      plain += '_';
  }
  return plain == "_" ? "-" : plain;
}

std::variant<Unit, Unreadable> read_weather_unit(std::string_view text) {
  constexpr std::pair<std::string_view, double> kSpeeds[] = {
      {"mph", 0.44704},           {"mi/h", 0.44704},  {"kn", 1852.0 / 3600.0}, {"kt", 1852.0 / 3600.0},
      {"knots", 1852.0 / 3600.0}, {"kmh", 1.0 / 3.6}, {"kph", 1.0 / 3.6}};
  for (const auto& [name, scale] : kSpeeds)
    if (name == text) return Unit{dim::velocity, scale, 0.0, {}};
  if (text == "F" || text == "f") return read_unit("degF");
  if (text == "c") return read_unit("degC");
  if (text == "inch" || text == "inches") return read_unit("in");
  std::string spelt = replaced(replaced(std::string(text), "²", "2"), "/hr", "/h");
  spelt = replaced(replaced(std::move(spelt), "⁻¹", "-1"), "·", " ");
  return read_unit(spelt);
}

Heading split_heading(std::span<const ColumnWord> words, std::string_view text) {
  text = trim(text);
  const std::size_t open = text.find_first_of("([");
  if (open != std::string_view::npos && (text.back() == ')' || text.back() == ']')) {
    const std::string_view name = trim(text.substr(0, open));
    return {word_of(words, plain_heading(name)), name, trim(text.substr(open + 1, text.size() - open - 2))};
  }
  for (std::size_t end = text.size(); end != std::string_view::npos && end > 0; end = text.rfind(' ', end - 1)) {
    const std::string_view name = trim(text.substr(0, end));
    if (const int word = word_of(words, plain_heading(name)); word >= 0) return {word, name, trim(text.substr(end))};
  }
  return {-1, text, {}};
}

bool fit_unit(Unit& unit, Dimension wanted, bool per_row, double period_s) {
  if (unit.dimension == wanted) return true;
  if (!per_row) return false;
  if (unit.dimension + Dimension{.time = -1} == wanted)
    unit.scale /= period_s;
  else if (unit.dimension + Dimension{.time = 1} == wanted)
    unit.scale *= period_s;
  else
    return false;
  unit.dimension = wanted;
  return true;
}

}  // namespace leat::model
