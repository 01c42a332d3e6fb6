#include "science/water/formula.h"

#include <array>

namespace leat::science {
namespace {

struct Element {
  std::string_view symbol;
  MolarMass<> mass;
};

constexpr std::array kElements = {
    Element{"H", molar_mass::hydrogen},       Element{"C", molar_mass::carbon},
    Element{"N", molar_mass::nitrogen},       Element{"O", molar_mass::oxygen_atom},
    Element{"Na", molar_mass::sodium},        Element{"Mg", molar_mass::magnesium},
    Element{"P", molar_mass::phosphorus},     Element{"S", molar_mass::sulphur},
    Element{"Cl", molar_mass::chlorine_atom}, Element{"K", molar_mass::potassium},
    Element{"Ca", molar_mass::calcium},       Element{"Fe", molar_mass::iron},
    Element{"B", 10.81 * gram_per_mole},      Element{"Si", 28.085 * gram_per_mole},
    Element{"Mn", 54.938 * gram_per_mole},    Element{"Cu", 63.546 * gram_per_mole},
    Element{"Zn", 65.38 * gram_per_mole},     Element{"Mo", 95.95 * gram_per_mole},
    Element{"F", 18.998 * gram_per_mole},     Element{"I", 126.904 * gram_per_mole},
};

const Element* find_element(std::string_view symbol) {
  for (const Element& e : kElements)
    if (e.symbol == symbol) return &e;
  return nullptr;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Reads a count at the front, 1 when there is none.
int take_count(std::string_view& text) {
  int n = 0;
  while (!text.empty() && is_digit(text.front()) && n < 10000) {
    n = 10 * n + (text.front() - '0');
    text.remove_prefix(1);
  }
  return n == 0 ? 1 : n;
}

void add(Formula& to, const Formula& part, int times) {
  to.mass += part.mass * times;
  for (const auto& [symbol, count] : part.atoms) to.atoms[symbol] += count * times;
}

std::optional<Formula> take_element(std::string_view& text) {
  for (const std::size_t letters : {std::size_t{2}, std::size_t{1}}) {
    const Element* element = text.size() >= letters ? find_element(text.substr(0, letters)) : nullptr;
    if (!element) continue;
    text.remove_prefix(letters);
    return Formula{element->mass, {{std::string(element->symbol), 1}}};
  }
  return std::nullopt;
}

/// A run of elements and brackets up to ')' or the end.
std::optional<Formula> take_group(std::string_view& text, int depth) {
  Formula group{};
  while (!text.empty() && text.front() != ')') {
    std::optional<Formula> part;
    if (text.front() == '(' && depth < 8) {
      text.remove_prefix(1);
      part = take_group(text, depth + 1);
      if (!part || !text.starts_with(')')) return std::nullopt;
      text.remove_prefix(1);
    } else {
      part = take_element(text);
    }
    if (!part) return std::nullopt;
    add(group, *part, take_count(text));
  }
  return group;
}

}  // namespace

Number<> Formula::share_of(std::string_view element) const {
  const Element* known = find_element(element);
  return known ? known->mass * count(element) / mass : Number<>(0.0);
}

std::optional<Formula> read_formula(std::string_view text) {
  Formula whole{};
  if (text.empty()) return std::nullopt;
  while (true) {
    const std::size_t end = text.find_first_of(".*");
    std::string_view part = text.substr(0, end);
    const int times = take_count(part);
    const auto group = take_group(part, 0);
    if (!group || !part.empty() || group->atoms.empty()) return std::nullopt;
    add(whole, *group, times);
    if (end == std::string_view::npos) return whole;
    text.remove_prefix(end + 1);
  }
}

}  // namespace leat::science
