#include "science/water/dosing.h"

#include <array>
#include <cmath>

#include "science/water/formula.h"

namespace leat::science {
namespace {

constexpr std::array kReagents = {
    Reagent{"NaHCO3", 1, 1},     Reagent{"KHCO3", 1, 1}, Reagent{"Na2CO3", 2, 1},  Reagent{"K2CO3", 2, 1},
    Reagent{"CaCO3", 2, 1},      Reagent{"MgCO3", 2, 1}, Reagent{"Ca(OH)2", 2, 0}, Reagent{"CaO", 2, 0},
    Reagent{"Mg(OH)2", 2, 0},    Reagent{"MgO", 2, 0},   Reagent{"KOH", 1, 0},     Reagent{"NaOH", 1, 0},
    Reagent{"CaMg(CO3)2", 4, 2}, Reagent{"HCl", -1, 0},  Reagent{"HNO3", -1, 0},   Reagent{"H3PO4", -1, 0},
    Reagent{"H2SO4", -2, 0},
};

MolarMass<> known_mass(std::string_view formula) {
  const auto read = read_formula(formula);
  return read ? read->mass : MolarMass<>(0.0);
}

}  // namespace

std::span<const Reagent> reagents() {
  return kReagents;
}

std::optional<Reagent> find_reagent(std::string_view formula) {
  for (const Reagent& r : kReagents)
    if (r.formula == formula) return r;
  return std::nullopt;
}

MolarMass<> molar_mass_of(const Reagent& reagent) {
  return known_mass(reagent.formula);
}

Mass<> mass_for_alkalinity(const Reagent& reagent, Volume<> volume, Concentration<> change) {
  return volume * change * molar_mass_of(reagent) / std::abs(reagent.equivalents);
}

Concentration<> carbon_with_alkalinity(const Reagent& reagent, Concentration<> change) {
  return change * (reagent.carbon / reagent.equivalents);
}

ChlorineNeed chlorine_need() {
  const MolarMass<> thiosulphate = known_mass("Na2S2O3.5H2O");
  return {thiosulphate / (4.0 * molar_mass::chlorine), 2.0 * thiosulphate / molar_mass::chlorine,
          known_mass("C6H8O6") / molar_mass::chlorine, molar_mass::nitrogen / molar_mass::chlorine};
}

}  // namespace leat::science
