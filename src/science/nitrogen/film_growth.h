// Growth of a film of nitrifiers on a surface, towards its full cover.
#pragma once

#include "science/fish/ramp.h"
#include "science/nitrogen/nitrifier_growth.h"

namespace leat::science {

/// Alkalinity at which the first step runs at half its rate: 10 mg/L as CaCO3. It stalls between 20 and 40 (common
/// practice); without this a loop that nobody doses would run on to waters that no film survives.
inline constexpr Concentration<> half_alkalinity{0.2};

/// Share of the first step of nitrification that the alkalinity left allows.
///
///   A / (10 mg/L + A)
///
/// source   common practice
template <class N>
Number<N> nitrification_alkalinity_share(const Concentration<N>& alkalinity) {
  return Number<N>(share_of_plenty(rounded_ramp(N(alkalinity.si()), 0.02), half_alkalinity.si()));
}

/// Growth and loss of both films at 20 °C, slower than those of suspended cells, 0.9 and 0.17 a day: the middle of 0.31
/// to 0.45 (Masic & Eberl 2015; Henze et al. 2008), and common practice.
inline constexpr Frequency<> film_growth = 0.37 * per_day, film_decay = 0.05 * per_day;
/// What is left of a film, or comes with seed from elsewhere, on clean surfaces: a ten-thousandth (common practice, no
/// source).
inline constexpr double seed_of_film = 1e-4;

/// Growth of a film towards its full cover, less decay.
///
///   f (mu theta^(t-20) S/(K+S) O/(KO+O) s (1 - f) - b) + b seed,   b = b20 theta_b^(t-20)
///
/// film     share of a film grown in full     0 to 1
/// food     what it oxidises, as N
/// suits    share of its growth that acidity and alkalinity allow
/// returns  change of the share per time
/// error    start-ups come out within the weeks that keepers know, for one dose; see docs/science/whole-systems.md
/// source   Masic & Eberl 2015; Henze et al. 2008; decay and seed common practice
template <class N>
N film_change(const NitrifierGrowth& kind, const N& film, const Concentration<N>& food, const Concentration<N>& oxygen,
              const N& suits, const Temperature<N>& water) {
  const N wants = share_of_plenty(food.si(), kind.half_nitrogen.si());
  const N breathes = share_of_plenty(oxygen.si(), kind.half_oxygen.si());
  const N grows = temperature_factor(water, kind.growth_theta).si() * film_growth.si() * wants * breathes * suits;
  const N decays = temperature_factor(water, kind.decay_theta).si() * film_decay.si();
  return film * (grows * (1.0 - film) - decays) + decays * seed_of_film;
}

}  // namespace leat::science
