// Explains a line that could not be read: which kind of line it is, and headings.
#include <fmt/core.h>

#include <algorithm>

#include "base/units/parse.h"
#include "model/loop/syntax.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

constexpr std::string_view kGoodLine =
    R"(a line is a heading such as [tank.main], or a name, "=" and a value, such as depth = "1.0 m")";

std::string_view without_comment(std::string_view line) {
  return trimmed(line.substr(0, line.find('#')));
}

/// The name in "[tank.main]", or nothing.
std::string_view heading_in(std::string_view line) {
  line = without_comment(line);
  if (line.size() < 3 || line.front() != '[' || line.back() != ']') return {};
  line = line.substr(1, line.size() - 2);
  const auto fits = [](char c) { return c == '.' || is_bare({&c, 1}); };
  return std::all_of(line.begin(), line.end(), fits) ? line : std::string_view();
}

std::string_view section_above(const std::vector<std::string>& lines, int line) {
  for (int i = line - 2; i >= 0; --i)
    if (const auto name = heading_in(lines[static_cast<std::size_t>(i)]); !name.empty()) return name;
  return {};
}

std::string_view name_before_equals(std::string_view line) {
  const std::size_t equals = line.find('=');
  return equals == std::string_view::npos ? std::string_view() : trimmed(line.substr(0, equals));
}

/// The line in which a list starts that is still open where the library stopped.
int start_of_list(const std::vector<std::string>& lines, int line) {
  for (int i = line; i >= 1; --i) {
    const std::string_view text = lines[static_cast<std::size_t>(i - 1)];
    const std::size_t equals = text.find('=');
    if (equals != std::string_view::npos && trimmed(text.substr(equals + 1)).starts_with('[')) return i;
  }
  return 0;
}

std::string path_of(std::string_view section, std::string_view name) {
  const std::string key = one_line(name, 40);
  return section.empty() || key.empty() ? std::string(section) + key : fmt::format("{}.{}", section, key);
}

SyntaxMistake open_list(const std::vector<std::string>& lines, int line, int column) {
  SyntaxMistake m{line, column, {}, {}, {}};
  const int start = start_of_list(lines, line);
  const std::string_view first = start > 0 ? std::string_view(lines[static_cast<std::size_t>(start - 1)]) : "";
  m.path = path_of(section_above(lines, start), name_before_equals(first));
  m.said = "a comma, or the bracket ] that ends the list, is missing before this";
  if (start > 0 && start < line) m.said += fmt::format("; the list starts in line {}", start);
  if (start == line && trimmed(first).ends_with(']')) m.instead = "";
  return m;
}

SyntaxMistake said_twice(const std::vector<std::string>& lines, int line, bool is_heading) {
  // The library may stop below the heading that it means.
  while (is_heading && line > 1 && heading_in(lines[static_cast<std::size_t>(line - 1)]).empty()) --line;
  const std::string& text = lines[static_cast<std::size_t>(line - 1)];
  SyntaxMistake m{line, column_at(text, text.find_first_not_of(" \t")), {}, {}, {}};
  if (const auto heading = heading_in(text); !heading.empty()) {
    m.path = heading;
    for (int i = line - 1; i >= 1; --i)
      if (heading_in(lines[static_cast<std::size_t>(i - 1)]) == heading)
        m.said = fmt::format("stands in line {} already; give one of the two another name", i);
    if (m.said.empty()) m.said = "is said already, in another way; keep one of the two";
    return m;
  }
  const std::string_view section = section_above(lines, line), name = name_before_equals(text);
  m.path = path_of(section, name);
  m.said = "is there twice; keep one of the two";
  for (int i = line - 1; i >= 1; --i) {
    const std::string_view earlier = lines[static_cast<std::size_t>(i - 1)];
    if (!heading_in(earlier).empty()) break;
    if (name_before_equals(earlier) == name) m.said = fmt::format("stands in line {} already; keep one of the two", i);
  }
  const std::string_view value = trimmed(std::string_view(text).substr(text.find('=') + 1));
  if (!value.starts_with('[') || value.ends_with(']')) m.instead = "";
  return m;
}

SyntaxMistake no_equals(std::string_view line, std::string_view section) {
  SyntaxMistake m{0, column_at(line, line.find_first_not_of(" \t")), std::string(section), {}, ""};
  const std::string_view text = trimmed(line);
  const std::size_t end = std::min(text.find_first_of(" \t:"), text.size());
  const std::string_view name = text.substr(0, end);
  for (const std::string_view other : {"//", ";", "--", "/*", "!", "%"})
    if (text.starts_with(other)) {
      m.said = fmt::format("a comment starts with #, not with {}", other);
      return m;
    }
  if (is_bare(name) && end < text.size() && end > 0) {
    m.path = path_of(section, name);
    m.said =
        text.substr(end).starts_with(':') ? "has a colon where a \"=\" belongs" : "has no \"=\" between name and value";
    std::string_view value = trimmed(text.substr(end));
    if (value.starts_with(':')) value = trimmed(value.substr(1));
    const bool bare = value.starts_with('"') || std::holds_alternative<double>(read_number(value));
    m.said += fmt::format("; write {} = {}", name, bare ? one_line(value) : quoted(value));
    return m;
  }
  m.said = fmt::format("{} cannot be read; {}", quoted(text), kGoodLine);
  return m;
}

}  // namespace

SyntaxMistake explain_heading(std::string_view line) {
  SyntaxMistake m{0, column_at(line, line.find_first_not_of(" \t")), {}, {}, {}};
  const std::string_view text = trimmed(line);
  const std::size_t close = text.find(']');
  const auto underscored = [](std::string name) {
    std::replace(name.begin(), name.end(), ' ', '_');
    return name;
  };
  if (text.starts_with("[[")) {
    m.said = "a heading has one pair of brackets, such as [tank.main]";
  } else if (close == std::string_view::npos) {
    const std::string name = underscored(std::string(trimmed(without_comment(text).substr(1))));
    const std::string repaired = '[' + name + ']';
    m.said = fmt::format("{} has no closing bracket; write {}", quoted(text),
                         heading_in(repaired).empty() ? "it like [tank.main]" : one_line(repaired));
    if (!heading_in(repaired).empty()) m.instead = repaired;
  } else if (const auto rest = trimmed(text.substr(close + 1)); !rest.empty() && rest.front() != '#') {
    m.said = fmt::format("{} stands behind a heading; put it on the next line", quoted(rest));
    m.instead = std::string(text.substr(0, close + 1));
  } else {
    const std::string name(trimmed(text.substr(1, close - 1)));
    const std::string repaired = '[' + underscored(name) + ']';
    const bool complete =
        !name.empty() && name.front() != '.' && name.back() != '.' && name.find("..") == std::string::npos;
    if (complete && name.find(' ') != std::string::npos && !heading_in(repaired).empty()) {
      m.said = fmt::format("{} has a blank in its name; write {}", quoted(text), one_line(repaired));
      m.instead = repaired;
    } else if (complete) {
      m.said =
          fmt::format("{} has a letter that names cannot have; they are made of a to z, 0 to 9, _ and -", quoted(text));
    } else {
      m.said = fmt::format("{} is no whole heading; it has a kind and a name, such as [tank.main]", quoted(text));
    }
  }
  return m;
}

SyntaxMistake explain_syntax(const std::vector<std::string>& lines, int line, int column,
                             std::string_view library_says) {
  const auto says = [&](std::string_view part) { return library_says.find(part) != std::string_view::npos; };
  line = std::clamp(line, 1, static_cast<int>(lines.size()));
  const std::string& text = lines[static_cast<std::size_t>(line - 1)];
  if (says("nested")) return {line, column, {}, "has brackets nested deeper than any description needs", {}};
  if (says("redefine")) return said_twice(lines, line, says("table header"));
  if (says("parsing array") && !says("value type")) return open_list(lines, line, column);
  SyntaxMistake m;
  const std::string_view section = section_above(lines, line);
  if (trimmed(text).starts_with('['))
    m = explain_heading(text);
  else if (text.find('=') == std::string::npos)
    m = no_equals(text, section);
  else
    m = explain_entry(text, section, library_says);
  m.line = line;
  return m;
}

}  // namespace leat::model
