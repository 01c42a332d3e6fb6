// The film of nitrifiers on stones, rafts and walls: ammonia to nitrite, nitrite to nitrate.
#pragma once

#include <string_view>

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/fish/ramp.h"
#include "science/nitrogen/nitrification.h"

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

/// Posts both steps of a film that is grown in full.
template <class N>
void post_nitrification(Area<> film, const BodyState<N>& body, const BodySlots& slots, const Accounts& outside,
                        Posting<N>& post) {
  const Number<N> factors =
      science::film_temperature_factor(body.temperature) * science::nitrification_acidity_factor(body.pH);
  const N first = (science::nitrification_rate(science::ammonia_film, body.ammonia, body.oxygen, factors) * film).si() *
                  alkalinity_share(body.alkalinity);
  const N second = (science::nitrification_rate(science::nitrite_film, body.nitrite, body.oxygen, factors) * film).si();
  post.move(slots.ammonia, slots.nitrite, first);
  post.move(slots.nitrite, slots.nitrate, second);
  post.move(slots.oxygen, outside.film_oxygen,
            N(-ammonia_oxidation.oxygen * first - nitrite_oxidation.oxygen * second));
}

}  // namespace leat::model
