// Nitrate that beds and sludge turn to gas, from what lies in them.
#pragma once

#include "science/nitrogen/nitrifier_growth.h"

namespace leat::science {

/// Nitrate that a gravel bed turns to gas, per area of the bed as seen from above, at 20 °C: 0.05 to 0.5 g/m2/d as N
/// (common practice). Known only from a loop's own balance.
inline constexpr ArealAmountRate<> gravel_denitrification{0.16e-3 / 14.007e-3 / 86400.0};
/// Carbon of solids that one nitrogen burns on its way to gas: 5 CH2O for 4 NO3.
inline constexpr double carbon_per_denitrified = 1.25;
/// Solids, as carbon, at which they hold it back by half, mol/m2 (common practice, no source).
inline constexpr double some_solids = 0.1;

/// Nitrate nitrogen that a gravel bed turns to gas, mol/s.
///
///   R20 A 1.08^(t-20) NO3/(0.5 + NO3) X/(X + 0.1 A)          NO3 in mg/L as N
///
/// gravel   area of the bed as seen from above
/// nitrate  as N, mol/m3, not below nothing
/// solids   carbon that lies in the bed, mol
/// source   form: Henze et al. 2008; R20 common practice
template <class N>
N gravel_nitrate_to_gas(const Area<N>& gravel, const N& nitrate, const N& solids, const Temperature<N>& water) {
  constexpr double half_nitrate = 0.5 / 14.007;  // mol/m3
  return gravel_denitrification.si() * gravel.si() * temperature_factor(water, Number<>(1.08)).si() * nitrate /
         (nitrate + half_nitrate) * solids / (solids + some_solids * gravel.si());
}

/// Velocity at which sludge takes nitrate out of the water over it, at 20 °C, and its temperature factor.
inline constexpr Velocity<> sludge_uptake{0.045 / 86400.0};
inline constexpr Number<> sludge_theta{1.09};

/// Nitrate nitrogen that sludge at rest turns to gas, mol/s: it reaches the sludge by the area, and is used up there.
///
///   v20 A 1.09^(t-20) NO3 X/(X + 0.1 A)
///
/// sludge   floor on which it lies undisturbed
/// nitrate  as N, mol/m3, not below nothing              0.1 to 10 mg/L; above, the carbon of the solids limits
/// solids   carbon that lies there, mol
/// error    4.1 and 4.9 cm/d, theta 1.09 and 1.15, were found over two soils under water
/// source   Messer, Burchell & Birgand 2017 (wetland mesocosms); that sludge of fish does as their soils did is ours
template <class N>
N sludge_nitrate_to_gas(const Area<N>& sludge, const N& nitrate, const N& solids, const Temperature<N>& water) {
  return sludge_uptake.si() * sludge.si() * temperature_factor(water, sludge_theta).si() * nitrate * solids /
         (solids + some_solids * sludge.si());
}

/// Iron that settles out, at any temperature: what 2 mg/L every three weeks makes good (common practice).
inline constexpr Frequency<> iron_settles = 0.05 * per_day;

}  // namespace leat::science
