// Explains a `name = value` that could not be read.
#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "model/loop/meant.h"
#include "model/loop/syntax.h"
#include "model/loop/value.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using words::Form;
using words::Key;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

bool holds_any(std::string_view text, std::initializer_list<std::string_view> parts) {
  return std::any_of(parts.begin(), parts.end(), [&](auto p) { return text.find(p) != std::string_view::npos; });
}

const Key* key_of(std::string_view section, std::string_view name) {
  const words::Kind* kind = words::find_kind(section.substr(0, section.find('.')));
  return kind ? meant_key(*kind, name) : nullptr;
}

std::string cure(const Key* key) {
  return key ? wanted(*key) : "a number, or a text in quotes, is wanted";
}

bool takes_text(const Key* key) {
  return !key || (key->form != Form::number && key->form != Form::count && key->form != Form::flag);
}

/// End of the text that starts with a quote at 0, past its closing quote; npos if it does not end.
std::size_t end_of_quoted(std::string_view value) {
  for (std::size_t i = 1; i < value.size(); ++i) {
    if (value[i] == '\\' && value[0] == '"')
      ++i;
    else if (value[i] == value[0])
      return i + 1;
  }
  return std::string_view::npos;
}

std::string wrong_quoted(std::string_view value, std::string_view library_says, const Key* key) {
  const std::size_t end = end_of_quoted(value);
  if (library_says.find("escape sequence") != std::string_view::npos)
    return "has a backslash in its text; write / or two backslashes";
  if (end == std::string_view::npos) {
    std::string_view inside = trimmed(value.substr(1));
    while (!inside.empty() && (inside.back() == '"' || inside.back() == '\'')) inside.remove_suffix(1);
    return fmt::format("{} has no closing quote; write {}", one_line(value), quoted(inside));
  }
  const std::string_view rest = trimmed(value.substr(end));
  if (rest.empty() || rest.front() == '#') return "holds a letter that cannot be printed; " + cure(key);
  return fmt::format("{} stands behind the value; one line holds one value", quoted(rest));
}

std::string wrong_word(std::string_view value, const Key* key) {
  std::string low(value);
  for (char& c : low) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (!key || key->form == Form::flag) {
    for (const std::string_view yes : {"true", "yes", "on"})
      if (low == yes) return fmt::format("{} cannot be read; write true", value);
    for (const std::string_view no : {"false", "no", "off"})
      if (low == no) return fmt::format("{} cannot be read; write false", value);
  }
  if (takes_text(key)) return fmt::format("{} stands without quotes; write {}", one_line(value), quoted(value));
  return fmt::format("{} cannot be read; {}", one_line(value), cure(key));
}

std::string wrong_number(std::string_view value, const Key* key) {
  const std::string said = one_line(value);
  std::string_view digits = value.substr(value.find_first_not_of("+-") == 1 ? 1 : 0);
  const std::string sign(value.front() == '-' ? "-" : "");
  const bool has_letters =
      std::any_of(value.begin(), value.end(), [](char c) { return is_letter(c) || c < 0 || c == '%'; });
  if (digits.size() >= 10 && digits[4] == '-' && digits[7] == '-')
    return fmt::format("{} looks like a date, but {}", said, cure(key));
  if (digits.find(':') != std::string_view::npos && takes_text(key))
    return fmt::format("{} stands without quotes; write {}", said, quoted(value));
  if (has_letters && takes_text(key)) return fmt::format("{} stands without quotes; write {}", said, quoted(value));
  if (digits.find_first_not_of("0123456789,.") != std::string_view::npos)
    return fmt::format("{} cannot be read; {}", said, cure(key));
  if (digits.find(',') != std::string_view::npos) {
    std::string clause = comma_cure(value);
    std::erase(clause, '"');
    return fmt::format("{} {}", said, clause);
  }
  if (digits.front() == '.') return fmt::format("{} has no digit before its point; write {}0{}", said, sign, digits);
  if (digits.back() == '.') return fmt::format("{} has no digit behind its point; write {}0", said, said);
  if (digits.size() > 1 && digits[0] == '0' && is_digit(digits[1]))
    return fmt::format("{} starts with a nought; write {}{}", said, sign,
                       digits.substr(std::min(digits.find_first_not_of('0'), digits.size() - 1)));
  if (digits.size() > 18) return fmt::format("{} is too large a number; {}", said, cure(key));
  return fmt::format("{} cannot be read; {}", said, cure(key));
}

std::string wrong_value(std::string_view value, std::string_view library_says, const Key* key) {
  if (value.empty() || value.front() == '#') return "has no value; " + cure(key);
  if (holds_any(value, {"\u201c", "\u201d", "\u201e", "\u2018", "\u2019", "\u00ab", "\u00bb"}))
    return "has curly quotes; write straight ones (\") around a text";
  if (value.front() == '=') return "has more than one \"=\"; write one";
  if (value.front() == '"' || value.front() == '\'') return wrong_quoted(value, library_says, key);
  if (value.front() == '[')
    return "has an entry in its list that cannot be read; " +
           (key ? wanted(*key) : "each is a number or a text in quotes");
  value = trimmed(value.substr(0, value.find(" #")));
  if (is_digit(value.front()) || std::string_view("+-.").find(value.front()) != std::string_view::npos)
    return wrong_number(value, key);
  if (is_letter(value.front())) return wrong_word(value, key);
  return fmt::format("{} cannot be read; {}", quoted(value), cure(key));
}

std::string wrong_name(std::string_view name) {
  if (name.empty()) return "has no name before its \"=\"";
  if (name.back() == ':')
    return fmt::format("has a colon before its \"=\"; write {} = ...",
                       one_line(trimmed(name.substr(0, name.size() - 1))));
  std::string whole(name);
  std::replace(whole.begin(), whole.end(), ' ', '_');
  if (is_bare(whole)) return fmt::format("has a blank in its name; write {}", one_line(whole));
  return "has a letter that names cannot have; they are made of a to z, 0 to 9, _ and -";
}

}  // namespace

SyntaxMistake explain_entry(std::string_view line, std::string_view section, std::string_view library_says) {
  const std::size_t equals = line.find('=');
  const std::string_view name = trimmed(line.substr(0, equals)), value = trimmed(line.substr(equals + 1));
  const bool good_name = is_bare(name) || name.starts_with('"');
  SyntaxMistake m;
  const std::size_t at =
      good_name && !value.empty() ? line.find_first_not_of(" \t", equals + 1) : line.find_first_not_of(" \t");
  m.column = column_at(line, at);
  const std::string_view word = trimmed(name.substr(0, name.find(':')));
  m.path = std::string(section) + (section.empty() || word.empty() ? "" : ".") + one_line(word, 40);
  m.said = good_name ? wrong_value(value, library_says, key_of(section, name)) : wrong_name(name);
  const bool may_go_on = value.starts_with("\"\"\"") || value.starts_with("'''") ||
                         (value.starts_with('[') && !value.ends_with(']')) || value.starts_with('{');
  if (!may_go_on) m.instead = "";
  return m;
}

}  // namespace leat::model
