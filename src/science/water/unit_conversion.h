// What a reading in one unit is in another: test kits, degrees of hardness, "as CaCO3".
#pragma once

#include <optional>
#include <string_view>

#include "base/units/quantity.h"

namespace leat::science {

/// Factor that turns a number counted in one unit into the other.
///
/// Units may be substances ("NH3", "NO3-N", "TAN", "P2O5"), with "mg/L" before or after, or measures of hardness and
/// alkalinity: "meq/L", degrees (German, French, Clark or English), "grain per US gallon", dH, dKH, dGH, fH, gpg.
/// Bases and hardness (CaCO3, HCO3, CaO, Ca, Mg ...) are compared by equivalents, others by the element that both hold.
///
/// returns nothing when a unit is not known or the two have nothing in common
std::optional<Number<>> conversion_factor(std::string_view from, std::string_view to);

/// Hardness from calcium and magnesium, in equivalents; mg/L as CaCO3 are 2.497 Ca + 4.118 Mg.
/// source   APHA 2340 B
template <class N>
Concentration<N> hardness(Concentration<N> calcium, Concentration<N> magnesium) {
  return 2.0 * (calcium + magnesium);
}

}  // namespace leat::science
