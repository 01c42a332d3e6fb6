// What a group of fish does with its feed: breathe, grow, excrete.
#pragma once

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/fish/diel_pulse.h"
#include "science/fish/rationed_growth.h"

namespace leat::model {

template <class C = double>
struct FishPlan {
  double count = 0.0;  ///< of a group that nobody moves
  Mass<> usual{};      ///< of one fish, for a group that may be empty
  FishMatter matter{};
  const science::Species* species = nullptr;                        ///< whose growth potential holds
  C growth = 1.0, respiration = 1.0;                                ///< over those of the species
  Quantity<science::energy_density_dimension> feed_energy{17.5e6};  ///< digestible
};

/// Energy freed by burning with oxygen (Elliott & Davison 1975).
inline constexpr double joules_per_kg_oxygen = 13.56e6;
/// What fish give off dissolved of the minerals of the feed they use.
template <class N>
void post_minerals(const FishMatter& matter, const N& used, const BodySlots& water, const Accounts& outside,
                   Posting<N>& post) {
  const std::array into = {water.phosphorus(), water.potassium(), water.calcium(), water.magnesium(),
                           water.sodium(),     water.chloride(),  water.sulphate()};
  for (std::size_t i = 0; i < into.size(); ++i)
    post.move(outside.feed_minerals + static_cast<int>(i), into[i], N(used * matter.dissolved_minerals[i]));
}

/// How many fish share in a group's mass and feed. A group that is moved may be empty: a ten-thousandth of a fish of
/// its usual mass stands in for it, so that what each fish weighs and eats stays a number.
template <class N>
struct FishShares {
  N count;    ///< of the fish that are there
  N by;       ///< what is shared is divided by
  N biomass;  ///< kg, shared by so many
};
template <class N>
FishShares<N> fish_shares(const FishPlan<Plain<N>>& plan, std::span<const N> y, const FishSlots& fish) {
  constexpr double stand_in = 1e-4;
  const N& biomass = y[static_cast<std::size_t>(fish.biomass)];
  if (fish.count < 0) return {N(plan.count), N(plan.count), biomass};
  const N& count = y[static_cast<std::size_t>(fish.count)];
  return {count, N(count + stand_in), N(biomass + stand_in * plan.usual.si())};
}

/// Feed passes the gut in three stages, so that its ammonia comes out as the measured pulse. Everything digested is
/// first counted as burnt; growth then takes back what becomes flesh, or a loss gives back what was. Each is balanced
/// by itself, so any mix of them is.
template <class N>
void post_fish(const FishPlan<Plain<N>>& plan, const BodyState<N>& body, std::span<const N> y, const FishSlots& fish,
               const BodySlots& water, const Accounts& outside, Posting<N>& post) {
  const auto slot = [&](int i) -> const N& { return y[static_cast<std::size_t>(i)]; };
  const N stage = science::meal_stage_rate(science::ammonia_peak_time(body.temperature)).si();
  for (std::size_t i = 0; i + 1 < fish.gut.size(); ++i)
    post.move(fish.gut[i], fish.gut[i + 1], N(stage * slot(fish.gut[i])));
  const N used = stage * slot(fish.gut.back());  // kg of feed per second

  const FishShares<N> shares = fish_shares(plan, y, fish);
  const Mass<N> one(shares.biomass / shares.by);
  const Power<N> digested(used * plan.feed_energy.si() / shares.by);
  const FishMatter& m = plan.matter;
  const Frequency<N> by_nitrogen(science::most_nitrogen_kept * m.feed_nitrogen * m.digestible_nitrogen /
                                 m.body_nitrogen * used / (shares.biomass + 1e-9));
  const Frequency<N> potential(plan.growth * science::growth_potential(*plan.species, body.temperature, one).si());
  const auto growth = science::held_by_nitrogen(science::growth_on_ration(digested, body.temperature, one, potential),
                                                by_nitrogen, one);
  const N gain = growth.gain.si() * slot(fish.biomass);  // kg per second; fish that eat too little waste away

  post.add(fish.gut.back(), N(-used));
  post.add(water.solids_nitrogen(), N(used * m.feed_nitrogen * (1.0 - m.digestible_nitrogen)));
  post.add(water.solids_carbon(), N(used * m.feed_carbon * (1.0 - m.digestible_carbon)));
  post.move(outside.feed_minerals, water.solids_phosphorus(), N(used * m.solid_phosphorus));
  post_minerals(m, used, water, outside, post);
  post.add(water.ammonia(), N(used * m.feed_nitrogen * m.digestible_nitrogen - gain * m.body_nitrogen));
  post.add(water.carbon(), N(used * m.feed_carbon * m.digestible_carbon - gain * m.body_carbon));
  post.add(fish.biomass, gain);
  const N burnt = growth.heat.si() * (shares.count * plan.respiration);
  post.move(water.oxygen(), outside.fish_oxygen,
            N(burnt / (joules_per_kg_oxygen * oxygen_molar_kg) * share_of_breath(body.oxygen)));
}

}  // namespace leat::model
