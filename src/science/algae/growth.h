// Growth of algae, their ceiling, and their make-up.
#pragma once

#include <cmath>

#include "science/fish/ramp.h"
#include "science/nitrogen/nitrifier_growth.h"
#include "science/nitrogen/stoichiometry.h"
#include "science/water/blend.h"

namespace leat::science {

/// Fastest growth of the algae of a place: 0.81 exp(0.0631 t) per day.
///
/// water    temperature               0 to 35 °C
/// source   Bissinger et al. 2008
template <class N>
Frequency<N> algae_growth_ceiling(Temperature<N> water) {
  using std::exp;
  return Number<N>(0.81 * exp(N(0.0631 * water.celsius()))) * per_day;
}

/// The older ceiling, 26 to 36 % lower: 0.851 1.066^t doublings a day.
/// source   Eppley 1972
template <class N>
Frequency<N> algae_growth_ceiling_eppley(Temperature<N> water) {
  using std::exp;
  constexpr double ln2 = 0.6931471805599453, ln_1_066 = 0.0639133257;
  return Number<N>(0.851 * ln2 * exp(N(ln_1_066 * water.celsius()))) * per_day;
}

/// Rates of algae at 20 °C with their temperature factors, and the nitrogen they halve at.
struct AlgaeRates {
  Frequency<> growth, respiration, death;
  Number<> growth_theta, loss_theta;
  Concentration<> half_nitrogen, half_phosphorus;
};
/// source   Zhang & Johnson 2016 (growth 2 to 2.5 per day for summer greens, from memory). In a loop light limits.
inline constexpr AlgaeRates algae_rates{2.0 * per_day,
                                        0.2 * per_day,
                                        0.15 * per_day,
                                        Number<>(1.066),
                                        Number<>(1.047),
                                        0.04 * milligram_per_litre / molar_mass::nitrogen,
                                        0.0012 * milligram_per_litre / molar_mass::phosphorus};

/// Growth per day of life: rate times temperature, light, and the scarcer nutrient.
template <class N>
Frequency<N> algae_growth(const AlgaeRates& rates, Temperature<N> water, Number<Same<N>> light_limitation,
                          Concentration<Same<N>> nitrogen, Concentration<Same<N>> phosphorus) {
  const N n = share_of_plenty(nitrogen.si(), rates.half_nitrogen.si());
  const N p = share_of_plenty(phosphorus.si(), rates.half_phosphorus.si());
  return temperature_factor(water, rates.growth_theta) *
         Number<N>(light_limitation.si() * rounded_minimum(n, p, 0.001)) * rates.growth;
}

/// Where algae take their nitrogen from.
enum class NitrogenSource { nitrate, ammonium };

/// Moles of oxygen given off per mole of carbon taken: 138/106 on nitrate, 107/106 on ammonium.
/// source   Redfield composition C106 N16 P1, Stumm & Morgan 1996
constexpr double photosynthesis_oxygen_per_carbon(NitrogenSource source) {
  return (source == NitrogenSource::nitrate ? 138.0 : 107.0) / 106.0;
}

/// Moles of acid taken up per mole of nitrogen: 18/16 on nitrate, -14/16 on ammonium.
/// source   Stumm & Morgan 1996
constexpr double photosynthesis_acid_per_nitrogen(NitrogenSource source) {
  return (source == NitrogenSource::nitrate ? 18.0 : -14.0) / 16.0;
}

/// Equivalents of alkalinity gained by taking up nitrogen and phosphate, where alkalinity counts HPO4.
///
///   nitrate: N + P;  ammonium: P - N
///
/// source   charge balance; Brewer & Goldman 1976
constexpr double photosynthesis_alkalinity(NitrogenSource source, double nitrogen, double phosphorus) {
  return (source == NitrogenSource::nitrate ? nitrogen : -nitrogen) + phosphorus;
}

/// Oxygen that algae hold as demand: what their carbon and nitrogen take when they die.
///
/// chlorophyll        as mass per volume
/// carbon, nitrogen   over chlorophyll, by mass: 40 (20 to 100) and 7.2
/// source   Chapra & Pelletier, QUAL2K (100 : 40 : 7.2 : 1 : 1 of dry mass, C, N, P, chlorophyll)
inline Density<> collapse_oxygen_demand(Density<> chlorophyll, Number<> carbon, Number<> nitrogen) {
  return (carbon * oxygen_for_carbon + nitrogen * oxygen_for_nitrification) * chlorophyll;
}

/// Mean over the day of a rate that follows a half sine while the sun is up: 2 f P / pi.
template <class Q>
Q half_sine_daily_mean(Q peak, Duration<> photoperiod) {
  return peak * (2.0 / 3.14159265358979323846 * photoperiod.si() / 86400.0);
}

}  // namespace leat::science
