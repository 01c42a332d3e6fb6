// Nitrification by the film on gravel, rafts and walls, per area of film.
#pragma once

#include <cmath>

#include "science/heat/smooth.h"
#include "science/water/blend.h"
#include "science/water/substances.h"

namespace leat::science {

/// Nitrogen per area of film and day.
inline constexpr ArealAmountRate<> gram_nitrogen_per_square_metre_day{1.0 / 14.007 / 86400.0};

/// Rate of a fixed film against that at 20 °C.
///
///   d ln f / dt = ln 1.043 above 10 °C, ln 1.09 below, blended over about 2 K; f(20 °C) = 1
///
/// water    temperature               0 to 35 °C
/// error    films measured near 1 °C keep 0.13 to 0.23 of their rate at 20 °C, this gives 0.30; 1.011 when oxygen
///          limits. A wide prior belongs to it.
/// source   Zhu & Chen 2002 (4.3 % per K at 20 °C); Hoang et al. 2014 (1.094 over 1 to 20 °C); the joint is our choice
template <class N>
Number<N> film_temperature_factor(Temperature<N> water) {
  return Number<N>(of_one(water.kelvin(), [](const auto& kelvin) {
    using std::exp;
    using M = std::decay_t<decltype(kelvin)>;
    constexpr double warm = 0.042101176, cold_extra = 0.044076519;  // ln 1.043, ln 1.09 - ln 1.043
    constexpr double width = 1.0, at_20 = 0.024937811;              // rounded positive part of -10 K
    const M t_c = Temperature<M>::from_kelvin(kelvin).celsius();
    const M below = smooth_positive_part(M(10.0 - t_c), width) - at_20;
    return exp(M(warm * (t_c - 20.0) - cold_extra * below));
  }));
}

/// Rate of nitrifiers against that at their best pH.
///
///   2.35^(pH - 7.2) below 7.2;  1.13 (9.5 - pH) / (9.8 - pH) above, zero from 9.5; the corners rounded
///
/// acidity  pH                        5 to 10
/// returns  0.36 at 6.0, 0.55 at 6.5, 0.98 at 7.2, 0.94 at 8.0
/// error    short exposure; a film used to acid water does better
/// source   Henze et al. 2008, ch. 5 (Ekama & Wentzel)
template <class N>
Number<N> nitrification_acidity_factor(Number<N> acidity) {
  return Number<N>(of_one(acidity.si(), [](const auto& pH) {
    using std::exp;
    using M = std::decay_t<decltype(pH)>;
    const M low = exp(M(0.85441533 * (pH - 7.2)));  // ln 2.35
    const M room = smooth_positive_part(M(9.5 - pH), 0.02);
    return rounded_minimum(low, M(1.13 * room / (0.3 + room)), 0.002);
  }));
}

/// Loss of film rate by organic matter that feeds other bacteria: exp(-0.35 COD/N).
///
/// demand_per_nitrogen  biodegradable COD over TAN, g/g   0 to 3
/// source   fit to Ling & Chen 2005 (60 to 70 % loss at 3, at 10 mg/L N)
template <class N>
Number<N> nitrification_organic_factor(Number<N> demand_per_nitrogen) {
  using std::exp;
  return Number<N>(exp(N(-0.35 * demand_per_nitrogen.si())));
}

/// What a film does at 20 °C with plenty of everything, and where it has half of that.
struct FilmKinetics {
  ArealAmountRate<> at_20c;
  Concentration<> half_nitrogen, half_oxygen;
};
/// Ammonia to nitrite, by a grown film at 20 °C well fed with ammonia and oxygen. The one prior of the program.
///
/// at_20c   0.6 g/m2/d of N; log-SD 0.6, so a factor of two either way, three at the outside. Our choice: the geometric
///          middle of 0.4 (a common default, 0.1 to 1.0) and 0.9 (list for sizing warm filters, `stocking.h`); warm
///          beads gave 0.06 to 0.58 as their load rose tenfold (Harwanto 2011). A loop's own readings must correct it.
/// halves   0.5 mg/L N, 1.0 mg/L O2 (common practice)
inline constexpr FilmKinetics ammonia_film{0.6 * gram_nitrogen_per_square_metre_day,
                                           0.5 * milligram_per_litre / molar_mass::nitrogen,
                                           1.0 * milligram_per_litre / molar_mass::oxygen};
/// Nitrite to nitrate: 0.75 g/m2/d, a quarter faster (models of films have 13 to 30 % faster); 0.3 mg/L N, 1.3 mg/L O2
/// (0.4 to 1.3). Common practice.
inline constexpr FilmKinetics nitrite_film{0.75 * gram_nitrogen_per_square_metre_day,
                                           0.3 * milligram_per_litre / molar_mass::nitrogen,
                                           1.3 * milligram_per_litre / molar_mass::oxygen};

/// Share of a film's best rate that its water allows: the smaller of S/(K + S) and O/(KO + O), corner rounded.
///
/// nitrogen total ammonia N (or nitrite N) at the film
/// oxygen   dissolved, at the film
template <class N>
Number<N> film_saturation(const FilmKinetics& film, Concentration<N> nitrogen, Concentration<Same<N>> oxygen) {
  return Number<N>(of_two(nitrogen.si(), oxygen.si(), [&film](const auto& n, const auto& breath) {
    using M = std::decay_t<decltype(n)>;
    const M s = n / (film.half_nitrogen.si() + n);
    const M o = breath / (film.half_oxygen.si() + breath);
    return rounded_minimum(s, o, 0.001);
  }));
}

/// Nitrogen turned over per area of film.
///
///   R = R20 min(S/(K + S), O/(KO + O)) f_temperature f_acidity f_organic
///
/// factors  product of the temperature, pH and organic factors
/// error    that of the film's rate at 20 °C, a factor of two before it is calibrated
/// source   form: Malone & Pfeiffer 2006; Ling & Chen 2005
template <class N>
ArealAmountRate<N> nitrification_rate(const FilmKinetics& film, Concentration<N> nitrogen,
                                      Concentration<Same<N>> oxygen, Number<Same<N>> factors) {
  return film_saturation(film, nitrogen, oxygen) * Number<N>(factors) * film.at_20c;
}

/// Moles per mole of nitrogen in the two steps, without growth of cells.
///   NH4 + 1.5 O2 -> NO2 + 2 H + H2O        NO2 + 0.5 O2 -> NO3
inline constexpr double oxygen_per_ammonia_step = 1.5, oxygen_per_nitrite_step = 0.5;
/// Equivalents of alkalinity that the first step takes; the second takes none.
inline constexpr double alkalinity_per_ammonia_step = 2.0;

}  // namespace leat::science
