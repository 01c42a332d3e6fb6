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
  double dry_share = 0.05;
  double nitrogen = 0.0025;  ///< of the fresh mass
  double light_share = 1.0;  ///< what shade leaves
};

inline constexpr double nitrogen_molar_kg = science::molar_mass::nitrogen.si();
/// Nitrate at which uptake is halved: 0.5 mg/L as N (common practice).
inline constexpr Density<> half_uptake{0.5e-3};

/// Posts growth and uptake; returns the water the plants draw.
template <class N>
Flow<N> post_crop(const CropPlan& plan, const BodyState<N>& bed, const Surroundings& s, std::span<const N> y,
                  const PlantSlots& plant, const BodySlots& water, Posting<N>& post) {
  const auto slot = [&](int i) -> const N& { return y[static_cast<std::size_t>(i)]; };
  const Temperature<N> air(s.air);
  const Flux<N> par(N(s.sun.si() * plan.light_share * science::par_share));
  const science::ArealMass<N> dry(slot(plant.dry_mass) / plan.area.si());
  const Density<N> nitrate(bed.nitrate.si() * nitrogen_molar_kg);
  const N supply = science::uptake_supply(nitrate, half_uptake).si();
  const N growth =
      science::crop_growth_rate(dry, air, par, plan.temperatures).si() * supply * plan.area.si();  // kg dry per s
  post.add(plant.dry_mass, growth);
  post.move(water.nitrate, plant.nitrogen, N(growth / plan.dry_share * plan.nitrogen / nitrogen_molar_kg));
  post.add(plant.thermal_time, N(science::developmental_temperature(air, plan.temperatures).si()));
  const Number<N> progress(slot(plant.thermal_time) / plan.to_harvest.si());
  return science::crop_water_use(science::crop_coefficient(progress, plan.coefficients), Velocity<N>(s.reference_et),
                                 plan.area);
}

}  // namespace leat::model
