// Molar masses from formulas as they stand on a bag: "KHCO3", "MgSO4.7H2O", "Ca(NO3)2".
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/units/quantity.h"

namespace leat::science {

/// Molar mass of an element (IUPAC), g/mol; nothing for one that no fertiliser, feed or salt holds.
std::optional<double> element_mass(std::string_view symbol);

/// Atoms of each element in a formula: groups in brackets and water of crystallisation after a dot are understood.
/// Nothing if it cannot be read.
std::optional<std::map<std::string, double, std::less<>>> formula_atoms(std::string_view formula);

/// Molar mass in g/mol.
std::optional<double> molar_mass(std::string_view formula);

/// Share of the mass of a pure compound that is one element.
std::optional<Number<>> element_share(std::string_view formula, std::string_view element);

}  // namespace leat::science
