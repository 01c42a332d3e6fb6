// What conversions of nitrogen and carbon take and give, by mass.
#pragma once

#include "science/water/substances.h"

namespace leat::science {

/// Oxygen over nitrogen: 3.43 for ammonia to nitrite, 1.14 for nitrite to nitrate, 4.57 for both, 2.86 saved by
/// nitrate that becomes nitrogen gas. Growth of cells takes off about 7 %.
inline constexpr Number<> oxygen_for_ammonia_step = 1.5 * molar_mass::oxygen / molar_mass::nitrogen;
inline constexpr Number<> oxygen_for_nitrite_step = 0.5 * molar_mass::oxygen / molar_mass::nitrogen;
inline constexpr Number<> oxygen_for_nitrification = oxygen_for_ammonia_step + oxygen_for_nitrite_step;
inline constexpr Number<> oxygen_spared_by_denitrification = 1.25 * molar_mass::oxygen / molar_mass::nitrogen;

/// Alkalinity as CaCO3 over nitrogen, one equivalent per mole: 3.573.
///   fish give off ammonia +1 | ammonia to nitrite -2 | nitrite to nitrate 0 | nitrate to nitrogen gas +1
///   protein to nitrate -1 | plants take nitrate +1, ammonium -1
inline constexpr Number<> alkalinity_per_nitrogen = molar_mass::calcium_carbonate_equivalent / molar_mass::nitrogen;

/// Oxygen over carbon burnt: 2.664.
inline constexpr Number<> oxygen_for_carbon = molar_mass::oxygen / molar_mass::carbon;

/// Carbon dioxide over oxygen breathed, by mass, at a respiratory quotient of 1: 1.375.
inline constexpr Number<> carbon_dioxide_per_oxygen = molar_mass::carbon_dioxide / molar_mass::oxygen;

/// Greatest fall of ammonia nitrogen in one pass through a flooded bed: its oxygen over 4.57. 8 mg/L carry 1.75.
template <class N>
Concentration<N> ammonia_removal_within_oxygen(Concentration<N> oxygen) {
  return 0.5 * oxygen;
}

}  // namespace leat::science
