// Algae in the open water: they live on light, breathe by night, and shade each other.
#pragma once

#include "model/books/layout.h"
#include "model/equations/forcing.h"
#include "model/processes/body_state.h"
#include "science/algae/growth.h"
#include "science/algae/light.h"
#include "science/algae/needs.h"
#include "science/light/plant_light.h"

namespace leat::model {

/// Where the light of one body falls.
template <class C = double>
struct LightPlan {
  Area<> surface;          ///< of the water
  C lit_share = 0.0;       ///< of the surface that sees the sun, through a clear lid less what the lid keeps
  double sun_share = 1.0;  ///< of the sun there: less what shade, leaves and the surface's mirror keep
};

/// Light lost in water without algae and solids, per metre (common practice, no source).
inline constexpr science::Extinction<> clear_water{0.3};
/// Growth over growth in full light, mean over the lit water.
template <class N>
N light_for_algae(const LightPlan<Plain<N>>& plan, const BodyState<N>& body, const Surroundings<Plain<N>>& s) {
  const Plain<N> par = s.sun.si() * plan.sun_share * science::par_share;
  if (largest(plan.lit_share) <= 0.0) return N(0.0);
  const Density<N> organic(body.solids_carbon.si() * science::molar_mass::carbon.si() /
                           science::carbon_share_of_solids);
  const auto extinction =
      science::light_extinction(clear_water, science::algae_chlorophyll<N>(body.algae), Density<N>(N(0.0)), organic);
  const Length<N> depth(body.water.si() / plan.surface.si());
  return of_one(science::optical_depth(extinction, depth).si(), [&](const auto& optical_depth) {
    using M = std::decay_t<decltype(optical_depth)>;
    return M(plan.lit_share *
             science::light_limitation_smith(Number<M>(M(par / science::algae_bending_light)), Number<M>(optical_depth))
                 .si());
  });
}

/// Posts growth, breath and death. What dies rots with the solids.
template <class N>
void post_algae(const LightPlan<Plain<N>>& plan, const BodyState<N>& body, const Surroundings<Plain<N>>& s,
                const BodySlots& slots, const Accounts& outside, Posting<N>& post) {
  const N stock = body.algae.si() * body.water.si();
  const Number<N> light(light_for_algae(plan, body, s));
  const Concentration<N> nitrogen(science::rounded_ramp(N((body.ammonia + body.nitrate).si()), 1e-5)),
      phosphorus(science::rounded_ramp(N(body.phosphorus.si()), 1e-7));
  const N a_second = science::algae_growth(science::algae_rates, body.temperature, light, nitrogen, phosphorus).si();
  const Concentration<N> carbon = body.carbon_dioxide + body.bicarbonate;
  const N growth = a_second * stock * science::algae_carbon_share<N>(carbon, body.pH).si();
  const N loss = science::temperature_factor(body.temperature, science::algae_rates.loss_theta).si();
  const N breath = loss * science::algae_rates.respiration.si() * stock * share_of_breath(body.oxygen);
  const N death = loss * science::algae_rates.death.si() * stock;
  const N ammonium = science::algae_ammonium_preference<N>(body.ammonia, body.nitrate).si();
  constexpr double with_ammonium = science::photosynthesis_oxygen_per_carbon(science::NitrogenSource::ammonium);
  constexpr double with_nitrate = science::photosynthesis_oxygen_per_carbon(science::NitrogenSource::nitrate);

  post.add(slots.algae(), N(growth - breath - death));
  post.add(slots.carbon(), N(breath - growth));
  post.add(slots.ammonia(), N(algae_nitrogen * (breath - growth * ammonium)));
  post.add(slots.nitrate(), N(-algae_nitrogen * growth * (1.0 - ammonium)));
  post.add(slots.phosphorus(), N(algae_phosphorus * (breath - growth)));
  post.move(outside.algae_oxygen, slots.oxygen(),
            N(growth * (with_ammonium * ammonium + with_nitrate * (1.0 - ammonium)) - with_ammonium * breath));
  post.add(slots.solids_carbon(), death);
  post.add(slots.solids_nitrogen(), N(algae_nitrogen * death));
  post.add(slots.solids_phosphorus(), N(algae_phosphorus * death));
}

}  // namespace leat::model
