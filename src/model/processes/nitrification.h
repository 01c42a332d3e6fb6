// The film of nitrifiers on stones, rafts and walls: ammonia to nitrite, nitrite to nitrate.
#pragma once

#include <string_view>

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/fish/ramp.h"
#include "science/nitrogen/film_growth.h"
#include "science/nitrogen/nitrification.h"

namespace leat::model {

/// One step of a conversion written out, so that its charge and elements can be checked.
struct Stoichiometry {
  std::string_view name;
  double ammonium = 0, nitrite = 0, nitrate = 0, oxygen = 0, protons = 0, water = 0;  ///< mol per mol of nitrogen
};
inline constexpr Stoichiometry ammonia_oxidation{"NH4+ + 1.5 O2 -> NO2- + 2 H+ + H2O", -1.0, 1.0, 0.0, -1.5, 2.0, 1.0};
inline constexpr Stoichiometry nitrite_oxidation{"NO2- + 0.5 O2 -> NO3-", 0.0, -1.0, 1.0, -0.5, 0.0, 0.0};

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
  const N has_alkalinity = science::nitrification_alkalinity_share<N>(body.alkalinity).si();
  const N first = (science::nitrification_rate(science::ammonia_film, ammonia, oxygen, factors) * area).si() *
                  has_alkalinity * first_film;
  const N second =
      (science::nitrification_rate(science::nitrite_film, nitrite, oxygen, factors) * area).si() * second_film;
  post.move(slots.ammonia(), slots.nitrite(), first);
  post.move(slots.nitrite(), slots.nitrate(), second);
  post.move(slots.oxygen(), outside.film_oxygen,
            N(-ammonia_oxidation.oxygen * first - nitrite_oxidation.oxygen * second));
  post.add(slots.ammonia_film, science::film_change(science::ammonia_oxidisers, first_film, ammonia, oxygen,
                                                    N(acidity.si() * has_alkalinity), body.temperature));
  post.add(slots.nitrite_film, science::film_change(science::nitrite_oxidisers, second_film, nitrite, oxygen,
                                                    N(acidity.si()), body.temperature));
}

}  // namespace leat::model
