// Chemical formulas read from text: "CaMg(CO3)2", "CaCl2.2H2O".
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "science/water/substances.h"

namespace leat::science {

struct Formula {
  MolarMass<> mass;
  std::map<std::string, int, std::less<>> atoms;

  int count(std::string_view element) const {
    const auto found = atoms.find(element);
    return found == atoms.end() ? 0 : found->second;
  }
  /// Mass of an element over the mass of all.
  Number<> share_of(std::string_view element) const;
};

/// Reads elements with counts, brackets, and waters of crystallisation after '.' or '*' ("MgSO4.7H2O").
/// returns nothing when a part is not understood
std::optional<Formula> read_formula(std::string_view text);

}  // namespace leat::science
