#include "science/water/unit_conversion.h"

#include <array>
#include <string>

#include "science/water/formula.h"

namespace leat::science {
namespace {

/// One unit of a measure: its size in equivalents per volume, or the substance whose mass it counts (per mg/L).
struct Measure {
  std::optional<double> equivalents;  // mol/m3 of charge per unit
  std::optional<Formula> substance;   // counted by mass
};

struct Spelled {
  std::string_view text;
  Concentration<> size;
};

constexpr std::array kDegrees = {
    Spelled{"German", german_degree},      Spelled{"dKH", german_degree},         Spelled{"dGH", german_degree},
    Spelled{"dH", german_degree},          Spelled{"KH", german_degree},          Spelled{"GH", german_degree},
    Spelled{"French", french_degree},      Spelled{"fH", french_degree},          Spelled{"Clark", clark_degree},
    Spelled{"English", clark_degree},      Spelled{"grain", grain_per_us_gallon}, Spelled{"gpg", grain_per_us_gallon},
    Spelled{"meq/L", millimole_per_litre},
};

/// Charge per formula of what hardness and alkalinity are counted as.
struct Valence {
  std::string_view formula;
  int charge;
};
constexpr std::array kValences = {Valence{"CaCO3", 2},  Valence{"CaO", 2},     Valence{"Ca", 2},   Valence{"Mg", 2},
                                  Valence{"MgO", 2},    Valence{"MgCO3", 2},   Valence{"HCO3", 1}, Valence{"CO3", 2},
                                  Valence{"NaHCO3", 1}, Valence{"KHCO3", 1},   Valence{"OH", 1},   Valence{"Na2CO3", 2},
                                  Valence{"K2CO3", 2},  Valence{"Ca(OH)2", 2}, Valence{"KOH", 1},  Valence{"NaOH", 1},
                                  Valence{"Mg(OH)2", 2}};

/// "NO3-N" and "TAN" are nitrogen, "PO4-P" is phosphorus.
std::string_view counted_element(std::string_view word) {
  if (word == "TAN" || word == "TN") return "N";
  if (word == "TP") return "P";
  const std::size_t dash = word.rfind('-');
  if (dash != std::string_view::npos && dash > 0 && dash + 1 < word.size()) {
    const auto before = read_formula(word.substr(0, dash));
    const std::string_view element = word.substr(dash + 1);
    if (before && before->count(element) > 0) return element;
  }
  return word;
}

Measure of_substance(std::string_view word) {
  const std::string_view counted = counted_element(word);
  Measure measure{std::nullopt, read_formula(counted)};
  for (const Valence& v : kValences)
    if (v.formula == counted && measure.substance)
      measure.equivalents = v.charge * (milligram_per_litre / measure.substance->mass).si();
  return measure;
}

/// The measure that a text names; its last readable word wins ("mg/L alkalinity as CaCO3").
std::optional<Measure> read_measure(std::string_view text) {
  std::optional<Measure> found;
  while (!text.empty()) {
    const std::size_t end = text.find(' ');
    const std::string_view word = text.substr(0, end);
    for (const Spelled& degree : kDegrees)
      if (degree.text == word) return Measure{degree.size.si(), std::nullopt};
    if (Measure substance = of_substance(word); substance.substance) found = std::move(substance);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return found;
}

std::optional<double> by_shared_element(const Formula& from, const Formula& to) {
  for (const std::string_view element : {"N", "P", "S", "K", "Ca", "Mg", "Fe", "Na", "Cl", "Si", "B", "C"})
    if (from.count(element) > 0 && to.count(element) > 0)
      return (to.mass / from.mass).si() * from.count(element) / to.count(element);
  return std::nullopt;
}

}  // namespace

std::optional<Number<>> conversion_factor(std::string_view from, std::string_view to) {
  const auto a = read_measure(from), b = read_measure(to);
  if (!a || !b) return std::nullopt;
  if (a->equivalents && b->equivalents) return Number<>(*a->equivalents / *b->equivalents);
  if (!a->substance || !b->substance) return std::nullopt;
  const auto factor = by_shared_element(*a->substance, *b->substance);
  return factor ? std::optional(Number<>(*factor)) : std::nullopt;
}

}  // namespace leat::science
