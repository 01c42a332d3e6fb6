#include "science/water/substances.h"

#include <array>

namespace leat::science {
namespace {

struct Basis {
  std::string_view name;
  MolarMass<> per_mole;
};

constexpr std::array kBases = {
    Basis{"N", molar_mass::nitrogen},
    Basis{"NH3", molar_mass::ammonia},
    Basis{"NH4", molar_mass::ammonium},
    Basis{"NO2", molar_mass::nitrite},
    Basis{"NO3", molar_mass::nitrate},
    Basis{"P", molar_mass::phosphorus},
    Basis{"PO4", molar_mass::phosphate},
    Basis{"P2O5", molar_mass::phosphorus + 2.5 * molar_mass::oxygen_atom},
    Basis{"K", molar_mass::potassium},
    Basis{"K2O", molar_mass::potassium + 0.5 * molar_mass::oxygen_atom},
    Basis{"C", molar_mass::carbon},
    Basis{"CO2", molar_mass::carbon_dioxide},
    Basis{"HCO3", molar_mass::bicarbonate},
    Basis{"CO3", molar_mass::carbonate},
    Basis{"CaCO3", molar_mass::calcium_carbonate_equivalent},
    Basis{"CaO", 0.5 * molar_mass::calcium_oxide},
    Basis{"O2", molar_mass::oxygen},
    Basis{"Ca", molar_mass::calcium},
    Basis{"Mg", molar_mass::magnesium},
    Basis{"Na", molar_mass::sodium},
    Basis{"Cl", molar_mass::chlorine_atom},
    Basis{"Cl2", molar_mass::chlorine},
    Basis{"NaCl", molar_mass::sodium_chloride},
    Basis{"S", molar_mass::sulphur},
    Basis{"SO4", molar_mass::sulphate},
    Basis{"Fe", molar_mass::iron},
};

}  // namespace

std::optional<MolarMass<>> mass_per_mole_of_basis(std::string_view basis) {
  for (const Basis& known : kBases)
    if (known.name == basis) return known.per_mole;
  return std::nullopt;
}

}  // namespace leat::science
