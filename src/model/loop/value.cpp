#include "model/loop/value.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "model/loop/wording.h"

namespace leat::model {
namespace {

using words::Form;
using words::Key;

Refused refuse(const toml::node& node, std::string why) {
  return {node.source(), std::move(why)};
}

/// `; a length is wanted, such as "1.0 m"`, unless the clause holds its own cure already.
std::string with_cure(std::string why, const Key& key) {
  if (why.find("; write") != std::string::npos) return why;
  return why + "; " + wanted(key);
}

bool has_comma_in_number(std::string_view text) {
  const std::size_t comma = text.find(',');
  return comma != std::string_view::npos && comma > 0 && text.find_first_not_of("+-0123456789., ") > comma;
}

std::string unreadable(std::string_view text, const Unreadable& bad, const Key& key) {
  if (has_comma_in_number(text)) return quoted(text) + " " + comma_cure(text);
  if (bad.wrong == "has no unit")
    return fmt::format("{} has no unit; write the unit behind the number, such as {}", quoted(text), key.example);
  if (bad.wrong == "is empty") return with_cure("is empty", key);
  std::string why = fmt::format("{} {}", quoted(text), one_line(bad.wrong, 200));
  if (key.name == "alkalinity" && why.find("unknown unit") != std::string::npos)
    why += ", and one degree of KH is 17.8 mg/L as CaCO3";
  return with_cure(std::move(why), key);
}

/// What a mass in water may be counted as, as choices to write: `"20 mg/L as N" or "20 mg/L as NO3"`.
std::string ways_to_count(const Key& key, std::string_view amount) {
  std::vector<std::string> ways;
  for (const std::string_view basis : words::split_words(key.choices))
    ways.push_back(fmt::format("\"{} as {}\"", amount, basis));
  return listed({ways.begin(), ways.end()}, "or");
}

std::string_view without_basis(std::string_view text) {
  text = text.substr(0, text.find(" as "));
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

std::optional<std::string> wrong_basis(const Key& key, const Measured& m, std::string_view text) {
  const auto bases = words::split_words(key.choices);
  if (key.basis.empty())
    return m.basis.empty() ? std::nullopt
                           : std::optional(fmt::format("{} is counted as {}, which has no meaning here; write {}",
                                                       quoted(text), quoted(m.basis), quoted(without_basis(text))));
  if (m.basis.empty()) {
    if (bases.size() < 2 || m.si == 0.0) return std::nullopt;
    return fmt::format("{} does not say what it counts, and the kits differ; write {}", quoted(text),
                       ways_to_count(key, one_line(text)));
  }
  if (std::find(bases.begin(), bases.end(), m.basis) != bases.end()) return std::nullopt;
  return fmt::format("{} is counted as {}, which does not fit here; write {}", quoted(text), quoted(m.basis),
                     ways_to_count(key, one_line(without_basis(text))));
}

std::optional<std::string> wrong_measure(const Key& key, const Measured& m, std::string_view text) {
  if (!(m.dimension == key.dimension)) {
    const std::string_view noun = noun_of(m.dimension);
    if (m.dimension == dim::none && m.unit == "ppm")
      return fmt::format("{} has the unit \"ppm\"; in water that is as good as mg/L, so write {}", quoted(text),
                         key.example);
    if (noun.empty()) return with_cure(quoted(text) + " has a unit that does not fit here", key);
    return fmt::format("{} is {}, but {}", quoted(text), noun, wanted(key));
  }
  if (key.form == Form::temperature && !m.temperature_point)
    return fmt::format("{} is a difference between temperatures; {}", quoted(text), wanted(key));
  const double compared = key.form == Form::temperature ? m.si - 273.15 : m.si;
  const double slack = 1e-9 * std::max(std::abs(key.low), std::abs(key.high));
  if (compared < key.low - slack || compared > key.high + slack)
    return fmt::format("{} is {}; write for example {}", quoted(text), plausible_range(key), key.example);
  return wrong_basis(key, m, text);
}

ReadValue read_word(const Key& key, const toml::node& node) {
  const auto text = node.value_exact<std::string>();
  if (!text) return refuse(node, fmt::format("{} is not a text in quotes; {}", shown(node), wanted(key)));
  if (text->find_first_not_of(" \t") == std::string::npos) return refuse(node, "is empty; " + wanted(key));
  if (text->size() > 200) return refuse(node, fmt::format("is longer than 200 letters; {}", wanted(key)));
  if (one_line(*text, 200) != *text)
    return refuse(node, fmt::format("{} holds a line break or an unprintable letter; {}", quoted(*text), wanted(key)));
  if (key.form == Form::word) {
    const auto choices = words::split_words(key.choices);
    if (std::find(choices.begin(), choices.end(), *text) == choices.end())
      return refuse(node, fmt::format("{} is none of the words known here; {}{}", quoted(*text), wanted(key),
                                      did_you_mean(*text, choices)));
  }
  return Said{.text = *text};
}

ReadValue read_flag(const Key& key, const toml::node& node) {
  if (const auto flag = node.value_exact<bool>())
    return Said{.number = *flag ? 1.0 : 0.0, .text = *flag ? "true" : "false"};
  return refuse(node, fmt::format("{} is neither true nor false; {}", shown(node), wanted(key)));
}

/// The number of a plain key from text: only a share may have a unit, and only degrees of latitude and longitude "deg".
std::variant<double, Refused> number_from_text(const Key& key, const toml::node& node, const std::string& text) {
  const auto read = read_measured(text, true);
  if (const auto* bad = std::get_if<Unreadable>(&read)) return refuse(node, unreadable(text, *bad, key));
  const Measured& m = std::get<Measured>(read);
  const bool percent = key.form == Form::share && m.unit == "%";
  const bool degrees = key.form == Form::number && m.unit == "deg";
  if (!m.unit.empty() && !percent && !degrees)
    return refuse(node, fmt::format("{} has a unit, but {}", quoted(text), wanted(key)));
  return m.si;
}

}  // namespace

std::string shown(const toml::node& node) {
  if (const auto text = node.value_exact<std::string>()) return quoted(*text);
  if (const auto whole = node.value_exact<std::int64_t>()) return fmt::format("{}", *whole);
  if (const auto number = node.value_exact<double>()) return shortest(*number);
  if (const auto flag = node.value_exact<bool>()) return *flag ? "true" : "false";
  if (node.is_array()) return "a list";
  if (node.is_table()) return "a table in braces";
  if (const toml::date* date = node.is_date() ? &node.as_date()->get() : nullptr)
    return fmt::format("{}-{:02}-{:02}", date->year, date->month, date->day);
  return "a date or time without quotes";
}

std::string comma_cure(std::string_view text) {
  std::string joined(text), pointed(text);
  std::erase(joined, ',');
  const std::size_t comma = text.find(','), last = text.rfind(',');
  const bool has_point = text.find('.') < text.find_first_not_of("+-0123456789., ");
  pointed[comma] = '.';
  const std::size_t digits = std::min(text.find_first_not_of("0123456789", last + 1), text.size()) - last - 1;
  const bool thousands = digits == 3 && text.find_first_not_of("+-") != text.find('0');
  if (comma != last || (has_point && thousands))
    return fmt::format("has commas in its number; write {}", quoted(joined));
  if (has_point) return "has a comma and a point in its number; write it with a point only";
  if (thousands)
    return fmt::format("has a comma in its number, which may mean two things; write {} or {}", quoted(joined),
                       quoted(pointed));
  return fmt::format("has a comma in its number; write {}", quoted(pointed));
}

ReadValue read_measured_value(const Key& key, const toml::node& node) {
  const auto text = node.value_exact<std::string>();
  if (!text && node.is_number())
    return refuse(
        node, fmt::format("{} has no unit; write it in quotes with its unit, such as {}", shown(node), key.example));
  if (!text) return refuse(node, fmt::format("{} is not a number with a unit; {}", shown(node), wanted(key)));
  const auto read = read_measured(*text);
  if (const auto* bad = std::get_if<Unreadable>(&read)) return refuse(node, unreadable(*text, *bad, key));
  const Measured& m = std::get<Measured>(read);
  if (const auto wrong = wrong_measure(key, m, *text)) return refuse(node, *wrong);
  return Said{.number = m.si, .text = *text, .basis = m.basis};
}

ReadValue read_number_value(const Key& key, const toml::node& node) {
  double number = 0.0;
  const std::string text = shown(node);
  if (node.is_number()) {
    number = *node.value<double>();
  } else if (const auto written = node.value_exact<std::string>()) {
    const auto read = number_from_text(key, node, *written);
    if (const auto* bad = std::get_if<Refused>(&read)) return *bad;
    number = std::get<double>(read);
  } else {
    return refuse(node, fmt::format("{} is not a number; {}", text, wanted(key)));
  }
  if (!std::isfinite(number)) return refuse(node, fmt::format("{} is not a number; {}", text, wanted(key)));
  if (key.form == Form::share && number > 1.0 && number <= 100.0 && node.is_number())
    return refuse(node,
                  fmt::format("{} is more than the whole; write \"{} %\" or {}", text, text, shortest(number / 100.0)));
  if (number < key.low || number > key.high)
    return refuse(node, fmt::format("{} is {}; write for example {}", text, plausible_range(key), key.example));
  if (key.form == Form::count && number != std::floor(number))
    return refuse(node, fmt::format("{} is not a whole number; write for example {}", text, key.example));
  return Said{.number = number, .text = text};
}

ReadValue read_value(const Key& key, const toml::node& node) {
  switch (key.form) {
    case Form::quantity:
    case Form::temperature:
      return read_measured_value(key, node);
    case Form::share:
    case Form::number:
    case Form::count:
      return read_number_value(key, node);
    case Form::flag:
      return read_flag(key, node);
    case Form::word:
    case Form::text:
    case Form::reference:
      return read_word(key, node);
    case Form::words:
      return read_words_value(key, node);
    case Form::times:
      return read_times_value(key, node);
    case Form::moment:
      return read_moment_value(key, node);
    case Form::curve:
      return read_curve_value(key, node);
  }
  return refuse(node, "cannot be read");
}

}  // namespace leat::model
