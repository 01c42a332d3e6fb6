// The film of nitrifiers on stones, rafts and walls: ammonia to nitrite, nitrite to nitrate.
#pragma once

#include <string_view>

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/fish/ramp.h"
#include "science/nitrogen/nitrification.h"
#include "science/nitrogen/nitrifier_growth.h"

namespace leat::model {

/// One step of a conversion written out, so that its charge and elements can be checked.
struct Stoichiometry {
  std::string_view name;
  double ammonium = 0, nitrite = 0, nitrate = 0, oxygen = 0, protons = 0, water = 0;  ///< mol per mol of nitrogen
};
inline constexpr Stoichiometry ammonia_oxidation{"NH4+ + 1.5 O2 -> NO2- + 2 H+ + H2O", -1.0, 1.0, 0.0, -1.5, 2.0, 1.0};
inline constexpr Stoichiometry nitrite_oxidation{"NO2- + 0.5 O2 -> NO3-", 0.0, -1.0, 1.0, -0.5, 0.0, 0.0};

/// Alkalinity at which the first step runs at half its rate: 10 mg/L as CaCO3. It stalls between 20 and 40 (common
/// practice); without this a loop that nobody doses would run on to waters that no film survives.
inline constexpr Concentration<> half_alkalinity{0.2};

/// Share of the first step that the alkalinity left allows.
template <class N>
N alkalinity_share(const Concentration<N>& alkalinity) {
  const N left = science::rounded_ramp(N(alkalinity.si()), 0.02);
  return left / (left + half_alkalinity.si());
}

/// Growth and loss of both films at 20 °C, slower than those of suspended cells, 0.9 and 0.17 a day: the middle of 0.31
/// to 0.45 (Masic & Eberl 2015; Henze et al. 2008), and common practice.
inline constexpr Frequency<> film_growth = 0.37 * science::per_day, film_decay = 0.05 * science::per_day;
/// What is left of a film, or comes with seed from elsewhere, on clean surfaces: a ten-thousandth (common practice, no
/// source).
inline constexpr double seed_of_film = 1e-4;

/// Growth of a film towards its full cover, less decay.
///
/// suits    share of its growth that acidity and alkalinity allow
template <class N>
N film_change(const science::NitrifierGrowth& kind, const N& film, const Concentration<N>& food,
              const Concentration<N>& oxygen, const N& suits, const Temperature<N>& water) {
  const N wants = food.si() / (kind.half_nitrogen.si() + food.si());
  const N breathes = oxygen.si() / (kind.half_oxygen.si() + oxygen.si());
  const N grows =
      science::temperature_factor(water, kind.growth_theta).si() * film_growth.si() * wants * breathes * suits;
  const N decays = science::temperature_factor(water, kind.decay_theta).si() * film_decay.si();
  return film * (grows * (1.0 - film) - decays) + decays * seed_of_film;
}

/// Posts both steps of a body's film and what the film gains.
///
/// area     of its surfaces that are wet
template <class N>
void post_nitrification(const Area<N>& area, const BodyState<N>& body, std::span<const N> y, const BodySlots& slots,
                        const Accounts& outside, Posting<N>& post) {
  const N &first_film = y[static_cast<std::size_t>(slots.ammonia_film)],
          &second_film = y[static_cast<std::size_t>(slots.nitrite_film)];
  const auto left = [](const Concentration<N>& c) { return Concentration<N>(science::rounded_ramp(N(c.si()), 1e-5)); };
  const Concentration<N> oxygen = left(body.oxygen), ammonia = left(body.ammonia), nitrite = left(body.nitrite);
  const Number<N> acidity = science::nitrification_acidity_factor(body.pH);
  const Number<N> factors = science::film_temperature_factor(body.temperature) * acidity;
  const N has_alkalinity = alkalinity_share(body.alkalinity);
  const N first = (science::nitrification_rate(science::ammonia_film, ammonia, oxygen, factors) * area).si() *
                  has_alkalinity * first_film;
  const N second =
      (science::nitrification_rate(science::nitrite_film, nitrite, oxygen, factors) * area).si() * second_film;
  post.move(slots.ammonia(), slots.nitrite(), first);
  post.move(slots.nitrite(), slots.nitrate(), second);
  post.move(slots.oxygen(), outside.film_oxygen,
            N(-ammonia_oxidation.oxygen * first - nitrite_oxidation.oxygen * second));
  post.add(slots.ammonia_film, film_change(science::ammonia_oxidisers, first_film, ammonia, oxygen,
                                           N(acidity.si() * has_alkalinity), body.temperature));
  post.add(slots.nitrite_film,
           film_change(science::nitrite_oxidisers, second_film, nitrite, oxygen, N(acidity.si()), body.temperature));
}

}  // namespace leat::model
