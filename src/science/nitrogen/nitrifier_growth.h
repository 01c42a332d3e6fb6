// Growth of nitrifiers: how long a new filter takes. Not for the rate of a grown film.
#pragma once

#include <cmath>

#include "science/heat/smooth.h"
#include "science/water/substances.h"

namespace leat::science {

inline constexpr Frequency<> per_day{1.0 / 86400.0};

/// value theta^(t - 20): how most rates in water follow temperature.
template <class N>
Number<N> temperature_factor(Temperature<N> water, Number<> theta) {
  const double per_kelvin = std::log(theta.si());
  return Number<N>(of_one(water.kelvin(), [per_kelvin](const auto& kelvin) {
    using std::exp;
    using M = std::decay_t<decltype(kelvin)>;
    return exp(M(per_kelvin * (Temperature<M>::from_kelvin(kelvin).celsius() - 20.0)));
  }));
}

/// Growth at 20 °C with plenty, half values, decay, and their temperature factors; cells made per nitrogen, g/g.
struct NitrifierGrowth {
  Frequency<> growth;
  Number<> growth_theta;
  Concentration<> half_nitrogen, half_oxygen;
  Frequency<> decay;
  Number<> decay_theta;
  Number<> yield;
};
/// source   Tchobanoglous et al. 2014 (Metcalf & Eddy, 5th ed.), table 8-14
inline constexpr NitrifierGrowth ammonia_oxidisers{0.90 * per_day,
                                                   Number<>(1.072),
                                                   0.50 * milligram_per_litre / molar_mass::nitrogen,
                                                   0.50 * milligram_per_litre / molar_mass::oxygen,
                                                   0.17 * per_day,
                                                   Number<>(1.029),
                                                   Number<>(0.15)};
/// source   as above, from memory. Others give them 13 to 30 % faster growth and less need of oxygen than ammonia
///          oxidisers: sample half_oxygen from 0.4 to 1.3 mg/L.
inline constexpr NitrifierGrowth nitrite_oxidisers{1.0 * per_day,
                                                   Number<>(1.063),
                                                   0.20 * milligram_per_litre / molar_mass::nitrogen,
                                                   0.90 * milligram_per_litre / molar_mass::oxygen,
                                                   0.17 * per_day,
                                                   Number<>(1.029),
                                                   Number<>(0.05)};

/// Growth less decay.
///
///   mu = mu20 theta^(t-20) S/(K + S) O/(KO + O) - b theta_b^(t-20)
///
/// nitrogen what they oxidise, as N
/// error    suspended cells: films grow and shrink more slowly in the cold
template <class N>
Frequency<N> nitrifier_net_growth(const NitrifierGrowth& kind, Concentration<N> nitrogen, Concentration<Same<N>> oxygen,
                                  Temperature<Same<N>> water) {
  const Temperature<N> t(water);
  const N s = nitrogen.si() / (kind.half_nitrogen.si() + nitrogen.si());
  const N o = oxygen.si() / (kind.half_oxygen.si() + oxygen.si());
  return temperature_factor(t, kind.growth_theta) * Number<N>(s * o) * kind.growth -
         temperature_factor(t, kind.decay_theta) * kind.decay;
}

}  // namespace leat::science
