// Molar masses, and the one place where "mg/L as something", equivalents and degrees of hardness become moles.
#pragma once

#include <optional>
#include <string_view>

#include "base/units/quantity.h"

namespace leat::science {

/// Mass per amount.
template <class N = double>
using MolarMass = Quantity<dim::mass - dim::amount, N>;

inline constexpr MolarMass<> gram_per_mole{1e-3};
inline constexpr Density<> milligram_per_litre{1e-3};
inline constexpr Density<> microgram_per_litre{1e-6};
/// Also 1 meq/L: equivalents are counted as moles of charge.
inline constexpr Concentration<> millimole_per_litre{1.0};

/// IUPAC abridged standard atomic weights 2021, and sums of them.
namespace molar_mass {
inline constexpr MolarMass<> hydrogen = 1.008 * gram_per_mole;
inline constexpr MolarMass<> carbon = 12.011 * gram_per_mole;
inline constexpr MolarMass<> nitrogen = 14.007 * gram_per_mole;
inline constexpr MolarMass<> oxygen_atom = 15.999 * gram_per_mole;
inline constexpr MolarMass<> sodium = 22.98977 * gram_per_mole;
inline constexpr MolarMass<> magnesium = 24.305 * gram_per_mole;
inline constexpr MolarMass<> phosphorus = 30.973762 * gram_per_mole;
inline constexpr MolarMass<> sulphur = 32.06 * gram_per_mole;
inline constexpr MolarMass<> chlorine_atom = 35.45 * gram_per_mole;
inline constexpr MolarMass<> potassium = 39.0983 * gram_per_mole;
inline constexpr MolarMass<> calcium = 40.078 * gram_per_mole;
inline constexpr MolarMass<> iron = 55.845 * gram_per_mole;

inline constexpr MolarMass<> water = 2.0 * hydrogen + oxygen_atom;
inline constexpr MolarMass<> oxygen = 2.0 * oxygen_atom;
inline constexpr MolarMass<> nitrogen_gas = 2.0 * nitrogen;
inline constexpr MolarMass<> carbon_dioxide = carbon + oxygen;
inline constexpr MolarMass<> hydroxide = oxygen_atom + hydrogen;
inline constexpr MolarMass<> ammonia = nitrogen + 3.0 * hydrogen;
inline constexpr MolarMass<> ammonium = nitrogen + 4.0 * hydrogen;
inline constexpr MolarMass<> nitrite = nitrogen + oxygen;
inline constexpr MolarMass<> nitrate = nitrogen + 3.0 * oxygen_atom;
inline constexpr MolarMass<> phosphate = phosphorus + 4.0 * oxygen_atom;
inline constexpr MolarMass<> sulphate = sulphur + 4.0 * oxygen_atom;
inline constexpr MolarMass<> carbonate = carbon + 3.0 * oxygen_atom;
inline constexpr MolarMass<> bicarbonate = carbonate + hydrogen;
inline constexpr MolarMass<> calcium_carbonate = calcium + carbonate;
/// Mass of CaCO3 that neutralises one mole of acid: 50.04 g.
inline constexpr MolarMass<> calcium_carbonate_equivalent = 0.5 * calcium_carbonate;
inline constexpr MolarMass<> calcium_oxide = calcium + oxygen_atom;
inline constexpr MolarMass<> chlorine = 2.0 * chlorine_atom;
inline constexpr MolarMass<> sodium_chloride = sodium + chlorine_atom;
}  // namespace molar_mass

/// One German degree: 10 mg/L CaO, in equivalents.
inline constexpr Concentration<> german_degree{10.0 * 1e-3 / (0.5 * molar_mass::calcium_oxide.si())};
/// One French degree: 10 mg/L CaCO3, in equivalents.
inline constexpr Concentration<> french_degree{10.0 * 1e-3 / molar_mass::calcium_carbonate_equivalent.si()};
/// One Clark degree: one grain of CaCO3 in an imperial gallon, in equivalents.
inline constexpr Concentration<> clark_degree{64.79891e-6 / 4.54609e-3 / molar_mass::calcium_carbonate_equivalent.si()};
/// One grain of CaCO3 in a US gallon, in equivalents.
inline constexpr Concentration<> grain_per_us_gallon{64.79891e-6 / 3.785411784e-3 /
                                                     molar_mass::calcium_carbonate_equivalent.si()};

/// Mass that one mole weighs when a reading is counted "as" a substance: "N" 14.007 g, "NO3" 62.004 g, "P", "PO4",
/// "O2", "CO2", "Ca" ... One mole of what the substance holds one of (N, P, C, K): P2O5 and K2O count per P and per K.
/// "CaCO3", "CaO" and "HCO3" are per equivalent (50.04, 28.04, 61.02 g): alkalinity and hardness are counted so.
/// returns nothing for a basis that is not known
std::optional<MolarMass<>> mass_per_mole_of_basis(std::string_view basis);

}  // namespace leat::science
