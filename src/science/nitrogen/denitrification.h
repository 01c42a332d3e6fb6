// Nitrate to nitrogen gas where oxygen is short: in gravel, sludge, thick film.
#pragma once

#include "science/nitrogen/nitrification.h"
#include "science/nitrogen/nitrifier_growth.h"

namespace leat::science {

/// Switch that closes as oxygen comes: K/(K + O).
template <class N>
Number<N> oxygen_absent(Concentration<N> oxygen, Concentration<> half) {
  return Number<N>(half.si() / (half.si() + oxygen.si()));
}

/// Nitrate that gravel or sludge turns to gas, per area of film.
///
///   R = R20 theta^(t-20) NO3/(0.5 + NO3) 0.2/(0.2 + O)     mg/L as N and as O2
///
/// at_20c   0.05 to 0.5 g/m2/d N for gravel (common practice): never zero, known only from the loop's own balance
/// theta    1.08 on slow carbon, 1.20 on fast, 1.03 on the film's own
/// source   switches and thetas: Henze et al. 2008 (Ekama & Wentzel)
template <class N>
ArealAmountRate<N> denitrification_rate(ArealAmountRate<> at_20c, Concentration<N> nitrate,
                                        Concentration<Same<N>> oxygen, Temperature<Same<N>> water,
                                        Number<> theta = Number<>(1.08)) {
  constexpr Concentration<> half_nitrate = 0.5 * milligram_per_litre / molar_mass::nitrogen;
  constexpr Concentration<> half_oxygen = 0.2 * milligram_per_litre / molar_mass::oxygen;
  const N s = nitrate.si() / (half_nitrate.si() + nitrate.si());
  return temperature_factor(Temperature<N>(water), theta) * Number<N>(s) *
         oxygen_absent(Concentration<N>(oxygen), half_oxygen) * at_20c;
}

}  // namespace leat::science
