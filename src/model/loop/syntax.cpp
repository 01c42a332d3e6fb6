#include "model/loop/syntax.h"

#include <fmt/core.h>

#include <algorithm>

namespace leat::model {
namespace {

constexpr std::size_t kLargest = 4u << 20;  // bytes
constexpr int kMostMistakes = 20;
constexpr int kMostParts = 16;

/// Length of the UTF-8 letter that starts at `i`, or 0 if the bytes are none.
std::size_t utf8_length(std::string_view text, std::size_t i) {
  const auto byte = [&](std::size_t k) { return k < text.size() ? static_cast<unsigned char>(text[k]) : 0u; };
  const unsigned first = byte(i);
  const std::size_t length = first < 0x80                     ? 1
                             : first >= 0xC2 && first < 0xE0  ? 2
                             : first >= 0xE0 && first < 0xF0  ? 3
                             : first >= 0xF0 && first <= 0xF4 ? 4
                                                              : 0;
  for (std::size_t k = 1; k < length; ++k)
    if ((byte(i + k) & 0xC0) != 0x80) return 0;
  const unsigned second = byte(i + 1);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool beyond = (first == 0xED && second > 0x9F) || (first == 0xF4 && second > 0x8F);
  return overlong || beyond ? 0 : length;
}

/// Puts kUnreadable for every byte that is no UTF-8, and says where the first was.
std::string only_utf8(std::string_view text, std::string_view file, Problems& problems) {
  std::string clean;
  int wrong = 0, line = 1, column = 1;
  Problem first;
  for (std::size_t i = 0; i < text.size(); ++column) {
    const std::size_t length = utf8_length(text, i);
    if (length == 0 && wrong++ == 0) first = {std::string(file), line, column, "", ""};
    clean += length > 0 ? text.substr(i, length) : kUnreadable;
    if (text[i] == '\n') ++line, column = 0;
    i += std::max<std::size_t>(length, 1);
  }
  if (wrong == 0) return clean;
  first.said = fmt::format("holds {} that {} not saved as UTF-8; save the file as UTF-8 text",
                           wrong == 1 ? "a letter" : fmt::format("{} letters", wrong), wrong == 1 ? "is" : "are");
  problems.add(first);
  return clean;
}

/// The line of a name of too many parts, "a.b.c. ...", or 0. Such names make tables so deep that taking them apart
/// again would exhaust the stack.
int line_of_too_many_parts(std::string_view text) {
  int line = 1, parts = 1;
  char quote = 0;  // the kind of quote that is open; '#' for a comment
  bool triple = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\n') {
      ++line, parts = 1;
      if (!triple) quote = 0;
    } else if (quote == '#') {
      continue;
    } else if (quote != 0) {
      if (c == '\\' && quote == '"' && text.substr(i + 1, 1) != "\n")
        ++i;
      else if (c == quote && (!triple || text.substr(i, 3) == std::string(3, quote)))
        i += triple ? 2 : 0, quote = 0, triple = false;
    } else if (c == '"' || c == '\'') {
      quote = c;
      triple = text.substr(i, 3) == std::string(3, c);
      i += triple ? 2 : 0;
    } else if (c == '#') {
      quote = '#';
    } else if (c == '.') {
      if (++parts > kMostParts) return line;
    } else if (std::string_view("=,[]{}").find(c) != std::string_view::npos) {
      parts = 1;
    }
  }
  return 0;
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines(1);
  for (const char c : text) {
    if (c == '\n')
      lines.emplace_back();
    else
      lines.back() += c;
  }
  return lines;
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + '\n';
  return text;
}

/// Whether the text can be handed to the library at all.
bool can_be_parsed(std::string_view text, std::string_view file, Problems& problems) {
  const auto refuse = [&](int line, std::string said) {
    problems.add({std::string(file), line, line > 0 ? 1 : 0, "", std::move(said)});
    return false;
  };
  if (text.size() > kLargest) return refuse(0, "is larger than 4 MB, which no description is");
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
    return refuse(0, "is saved as UTF-16; save it as UTF-8 text");
  if (const int line = line_of_too_many_parts(text); line > 0)
    return refuse(line, "has a name with more than 16 parts; a heading has a kind and a name, such as [tank.main]");
  return true;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

int column_at(std::string_view line, std::size_t byte) {
  const auto starts_letter = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; };
  const auto end = line.begin() + static_cast<std::ptrdiff_t>(std::min(byte, line.size()));
  return 1 + static_cast<int>(std::count_if(line.begin(), end, starts_letter));
}

bool is_bare(std::string_view name) {
  const auto fits = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
  };
  return !name.empty() && std::all_of(name.begin(), name.end(), fits);
}

Tables read_tables(std::string_view text, std::string_view file, Problems& problems) {
  if (!can_be_parsed(text, file, problems)) return {{}, false};
  const std::size_t before = problems.size();
  std::vector<std::string> lines = lines_of(only_utf8(text, file, problems));
  for (int mistakes = 0; mistakes < kMostMistakes; ++mistakes) {
    const std::string now = joined(lines);
    try {
      return {toml::parse(std::string_view(now), std::string_view("")), problems.size() == before};
    } catch (const toml::parse_error& error) {
      const auto at = error.source().begin;
      const SyntaxMistake m =
          explain_syntax(lines, static_cast<int>(at.line), static_cast<int>(at.column), error.description());
      problems.add({std::string(file), m.line, m.column, m.path, m.said});
      std::string& line = lines[static_cast<std::size_t>(m.line - 1)];
      if (!m.instead || *m.instead == line) break;
      line = *m.instead;
    }
  }
  return {{}, false};
}

}  // namespace leat::model
