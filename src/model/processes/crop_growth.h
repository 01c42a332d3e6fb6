// A planting: grows by light and warmth, takes nitrate and water out of its bed.
#pragma once

#include "model/books/layout.h"
#include "model/equations/forcing.h"
#include "model/processes/body_state.h"
#include "science/crops/crop.h"
#include "science/crops/growth.h"
#include "science/crops/uptake.h"
#include "science/light/plant_light.h"
#include "science/water/substances.h"

namespace leat::model {

struct CropPlan {
  Area<> area;
  science::CropTemperatures temperatures;
  science::CropCoefficients coefficients{0.7, 1.0, 0.95};
  science::ThermalTime<> to_harvest;
  science::ThermalTime<> to_pick{};  ///< from one picking to the next
  double pick_share = 0.0;           ///< of what stands; 0: it is cut whole
  int picks = 0;                     ///< the last of them takes all
  double dry_share = 0.05;
  double nitrogen = 0.0025;          ///< of the fresh mass
  std::array<double, 5> minerals{};  ///< mol per kg fresh: phosphorus, potassium, calcium, magnesium, iron
  double light_share = 1.0;          ///< what shade leaves
};

inline constexpr double nitrogen_molar_kg = science::molar_mass::nitrogen.si();
/// Nitrate at which uptake is halved: 0.5 mg/L as N (common practice).
inline constexpr Density<> half_uptake{0.5e-3};

/// Concentrations at which uptake of each mineral is halved, mol/m3: 0.05 mg/L of phosphorus, 0.5 of potassium and
/// calcium, 0.2 of magnesium, 0.02 of iron (common practice, no source).
inline constexpr std::array half_uptakes = {0.05 / 30.974, 0.5 / 39.098, 0.5 / 40.078, 0.2 / 24.305, 0.02 / 55.845};

/// Share of each mineral's wanted uptake that the water allows.
template <class N>
std::array<N, 5> mineral_supply(const BodyState<N>& bed) {
  const std::array<N, 5> in_water = {bed.phosphorus.si(), bed.potassium.si(), bed.calcium.si(), bed.magnesium.si(),
                                     bed.iron.si()};
  std::array<N, 5> supply;
  for (std::size_t i = 0; i < supply.size(); ++i) {
    supply[i] = of_one(in_water[i], [half = half_uptakes[i]](const auto& c) {
      return science::share_of_plenty(science::rounded_ramp(c, 0.02 * half), half);
    });
  }
  return supply;
}

/// Posts growth and uptake; returns the water the plants draw. Nitrogen, phosphorus and potassium hold growth back when
/// they run short; calcium, magnesium and iron only show in the leaf.
///
/// wet      share of the bed's surfaces that its water reaches
template <class N>
Flow<N> post_crop(const CropPlan& plan, const BodyState<N>& bed, const N& wet, const Surroundings<Plain<N>>& s,
                  std::span<const N> y, const PlantSlots& plant, const BodySlots& water, const Accounts& outside,
                  Posting<N>& post) {
  const auto slot = [&](int i) -> const N& { return y[static_cast<std::size_t>(i)]; };
  using T = Plain<N>;
  const Flux<T> par(T(s.sun.si() * plan.light_share * science::par_share));
  const N dry = slot(plant.dry_mass) / plan.area.si();
  const N nitrate = of_one(bed.nitrate.si(), [](const auto& c) {
    using M = std::decay_t<decltype(c)>;
    const Density<M> left(M(science::rounded_ramp(c, 1e-4) * nitrogen_molar_kg));
    return science::uptake_supply(left, half_uptake).si();
  });
  const std::array<N, 5> minerals = mineral_supply(bed);
  const N supply =
      science::rounded_smaller_of(science::rounded_smaller_of(nitrate, minerals[0], 1e-3), minerals[1], 1e-3);
  const N growth = of_one(dry,
                          [&](const auto& mass) {
                            using M = std::decay_t<decltype(mass)>;
                            return science::crop_growth_rate(science::ArealMass<M>(mass), Temperature<M>(s.air),
                                                             Flux<M>(par), plan.temperatures)
                                .si();
                          }) *
                   supply * wet * plan.area.si();  // kg dry per s
  post.add(plant.dry_mass, growth);
  const N fresh = growth / plan.dry_share;
  post.move(water.nitrate(), plant.nitrogen, N(fresh * plan.nitrogen / nitrogen_molar_kg));
  const std::array from = {water.phosphorus(), water.potassium(), water.calcium(), water.magnesium(), water.iron()};
  for (std::size_t i = 0; i < from.size(); ++i)
    post.move(from[i], outside.plant_minerals + static_cast<int>(i), N(fresh * plan.minerals[i] * minerals[i]));
  post.add(plant.thermal_time, N(science::developmental_temperature(s.air, plan.temperatures).si()));
  const N drawn = of_one(slot(plant.thermal_time), [&](const auto& time) {
    using M = std::decay_t<decltype(time)>;
    const Number<M> progress(time / plan.to_harvest.si());
    return science::crop_water_use(science::crop_coefficient(progress, plan.coefficients), Velocity<M>(s.reference_et),
                                   plan.area)
        .si();
  });
  return Flow<N>(drawn) * Number<N>(wet);
}

}  // namespace leat::model
