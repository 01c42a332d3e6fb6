#include "science/crops/chemical_formula.h"

#include <array>
#include <cctype>

namespace leat::science {
namespace {

using Atoms = std::map<std::string, double, std::less<>>;

struct Element {
  std::string_view symbol;
  double mass;
};

// Standard atomic weights, IUPAC 2021, abridged.
constexpr std::array kElements{
    Element{"H", 1.008},   Element{"B", 10.81},   Element{"C", 12.011},  Element{"N", 14.007},  Element{"O", 15.999},
    Element{"F", 18.998},  Element{"Na", 22.990}, Element{"Mg", 24.305}, Element{"Al", 26.982}, Element{"Si", 28.085},
    Element{"P", 30.974},  Element{"S", 32.06},   Element{"Cl", 35.45},  Element{"K", 39.098},  Element{"Ca", 40.078},
    Element{"Mn", 54.938}, Element{"Fe", 55.845}, Element{"Co", 58.933}, Element{"Cu", 63.546}, Element{"Zn", 65.38},
    Element{"Mo", 95.95},  Element{"I", 126.90},
};

/// Reads a formula from the left; `at` moves on.
struct Reader {
  std::string_view text;
  std::size_t at = 0;
  bool good = true;

  bool done() const { return at >= text.size(); }
  char here() const { return done() ? '\0' : text[at]; }

  double count() {
    double n = 0.0;
    bool any = false;
    while (std::isdigit(static_cast<unsigned char>(here()))) {
      n = 10.0 * n + (here() - '0');
      any = true;
      ++at;
    }
    return any ? n : 1.0;
  }

  std::string symbol() {
    std::string s(1, here());
    ++at;
    while (std::islower(static_cast<unsigned char>(here()))) s += text[at++];
    return s;
  }

  /// Elements and groups up to the end, a dot or a closing bracket.
  Atoms group() {
    Atoms atoms;
    while (good && !done() && here() != '.' && here() != ')') {
      Atoms part;
      if (here() == '(') {
        ++at;
        part = group();
        if (here() != ')') good = false;
        ++at;
      } else if (std::isupper(static_cast<unsigned char>(here()))) {
        part[symbol()] = 1.0;
      } else {
        good = false;
      }
      const double n = count();
      for (const auto& [element, atoms_of] : part) atoms[element] += n * atoms_of;
    }
    return atoms;
  }
};

}  // namespace

std::optional<double> element_mass(std::string_view symbol) {
  for (const Element& e : kElements)
    if (e.symbol == symbol) return e.mass;
  return std::nullopt;
}

std::optional<Atoms> formula_atoms(std::string_view formula) {
  Reader reader{formula};
  Atoms all;
  while (reader.good && !reader.done()) {
    const double times = reader.count();
    for (const auto& [element, atoms] : reader.group()) all[element] += times * atoms;
    if (reader.done()) break;
    if (reader.here() != '.') reader.good = false;
    ++reader.at;
    if (reader.done()) reader.good = false;
  }
  if (!reader.good || all.empty()) return std::nullopt;
  return all;
}

std::optional<double> molar_mass(std::string_view formula) {
  const auto atoms = formula_atoms(formula);
  if (!atoms) return std::nullopt;
  double mass = 0.0;
  for (const auto& [element, count] : *atoms) {
    const auto of_one = element_mass(element);
    if (!of_one) return std::nullopt;
    mass += count * *of_one;
  }
  return mass;
}

std::optional<Number<>> element_share(std::string_view formula, std::string_view element) {
  const auto mass = molar_mass(formula);
  const auto of_one = element_mass(element);
  if (!mass || !of_one) return std::nullopt;
  const auto atoms = formula_atoms(formula);
  const auto found = atoms->find(element);
  return Number<>(found == atoms->end() ? 0.0 : found->second * *of_one / *mass);
}

}  // namespace leat::science
