#include "model/loop/wording.h"

#include <fmt/core.h>

#include "base/result/problem.h"
#include "base/units/parse.h"

namespace leat::model {
namespace {

using words::Form;
using words::Key;

bool continues_letter(char c) {
  return (static_cast<unsigned char>(c) & 0xC0) == 0x80;
}

bool is_control(std::string_view letter) {
  const auto first = static_cast<unsigned char>(letter[0]);
  if (letter.size() == 1) return first < 0x20 || first == 0x7F;
  return letter.size() == 2 && first == 0xC2 && static_cast<unsigned char>(letter[1]) < 0xA0;
}

/// The unit in an example such as `"1000 L"`; empty if it has none.
std::string example_unit(std::string_view example) {
  if (example.size() < 2 || example.front() != '"') return {};
  const auto read = read_measured(example.substr(1, example.size() - 2));
  return std::holds_alternative<Measured>(read) ? std::get<Measured>(read).unit : std::string();
}

}  // namespace

std::string one_line(std::string_view text, std::size_t limit) {
  std::string line;
  std::size_t letters = 0;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t end = i + 1;
    while (end < text.size() && continues_letter(text[end])) ++end;
    if (++letters > limit) return line + "...";
    const std::string_view letter = text.substr(i, end - i);
    if (letter == "\n" || letter == "\t")
      line += ' ';
    else
      line += is_control(letter) ? "?" : letter;
    i = end;
  }
  return line;
}

std::string quoted(std::string_view text) {
  return text.find('"') == std::string_view::npos ? '"' + one_line(text) + '"' : one_line(text);
}

std::string_view noun_of(Dimension d) {
  struct Noun {
    Dimension dimension;
    std::string_view noun;
  };
  static constexpr Noun nouns[] = {{dim::length, "a length"},
                                   {dim::area, "an area"},
                                   {dim::volume, "a volume"},
                                   {dim::mass, "a mass"},
                                   {dim::time, "a time"},
                                   {dim::flow, "a flow"},
                                   {dim::density, "a mass in a volume"},
                                   {dim::concentration, "an amount in moles or equivalents"},
                                   {dim::power, "a power"},
                                   {dim::energy, "an energy"},
                                   {dim::temperature, "a temperature"},
                                   {dim::mass_rate, "a mass per time"},
                                   {dim::frequency, "a number per time"},
                                   {dim::none, "a plain number or share"},
                                   {dim::pressure, "a pressure"},
                                   {dim::velocity, "a speed"},
                                   {dim::acceleration, "an acceleration"},
                                   {dim::kinematic_viscosity, "a kinematic viscosity"}};
  for (const Noun& n : nouns)
    if (n.dimension == d) return n.noun;
  return {};
}

std::string wanted(const Key& key) {
  switch (key.form) {
    case Form::quantity:
    case Form::temperature:
      return fmt::format("{} is wanted, such as {}", noun_of(key.dimension), key.example);
    case Form::share:
      return fmt::format("a share is wanted, such as {}", key.example);
    case Form::number:
      return fmt::format("a plain number is wanted, such as {}", key.example);
    case Form::count:
      return fmt::format("a whole number is wanted, such as {}", key.example);
    case Form::flag:
      return "true or false is wanted, without quotes";
    case Form::word:
      return fmt::format("one of these is wanted: {}", listed(words::split_words(key.choices), "or"));
    case Form::text:
      return fmt::format("a text in quotes is wanted, such as {}", key.example);
    case Form::reference:
      return fmt::format("the heading of another part is wanted, such as {}", key.example);
    case Form::words:
      return fmt::format("a list of words in quotes is wanted, such as {}", key.example);
    case Form::times:
      return fmt::format("a list of times of day is wanted, such as {}", key.example);
    case Form::moment:
      return fmt::format("a day is wanted, with or without a time of day, such as {}", key.example);
    case Form::curve:
      return fmt::format("a list of points, each a flow and a head, is wanted, such as {}", key.example);
  }
  return {};
}

std::string plausible_range(const Key& key) {
  const std::string unit = example_unit(key.example);
  double scale = 1.0, offset = 0.0;
  if (const auto read = read_unit(unit); !unit.empty() && std::holds_alternative<Unit>(read)) {
    scale = std::get<Unit>(read).scale;
    if (key.form == Form::temperature) offset = 273.15 - std::get<Unit>(read).offset;
  }
  const auto shown = [&](double si) { return fmt::format("{:.7g}", (si + offset) / scale); };
  return fmt::format("beyond what is plausible here, {} to {}{}", shown(key.low), shown(key.high),
                     unit.empty() ? "" : " " + unit);
}

std::string metres(Length<> height) {
  std::string text = fmt::format("{:.3f}", height.si());
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return (text == "-0" ? "0" : text) + " m";
}

std::string listed(const std::vector<std::string_view>& words, std::string_view last_join) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? fmt::format(" {} ", last_join) : ", ";
    text += words[i];
  }
  return text;
}

std::string near_or_all(std::string_view word, const std::vector<std::string_view>& known) {
  const std::string near = did_you_mean(word, known);
  return near.empty() ? fmt::format("; what is known: {}", listed(known, "and")) : near;
}

}  // namespace leat::model
