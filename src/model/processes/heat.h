// Heat through the surface, the cover, the walls and the floor of one vessel.
#pragma once

#include "model/books/layout.h"
#include "model/equations/forcing.h"
#include "model/processes/body_state.h"
#include "science/heat/covers.h"
#include "science/heat/evaporation.h"
#include "science/heat/longwave.h"
#include "science/heat/walls.h"

namespace leat::model {

/// One piece of wall, above ground.
template <class C = double>
struct WallFace {
  Area<> area;
  Conductance<> to_skin;  ///< from the water to the outer skin
  double absorptance = 0.3;
  C transmitted = 0.0;       ///< share of the sun that goes straight into the water
  HeatCapacity<> store{};    ///< of thick timber; 0: the face holds no heat and the skin follows at once
  Conductance<> to_store{};  ///< from the water to the middle of the timber; `to_skin` then goes on from there
};

/// The ground beside and below: layers that grow outwards, far out the year's wave.
struct SoilColumn {
  Area<> area;                         ///< walls below ground, and the floor
  std::vector<HeatCapacity<>> layers;  ///< heat held by each
  std::vector<Conductance<>>
      crossings;  ///< into each layer from the one before (the first from the water), and out of the last
};

/// What covers the water, where it is covered.
enum class CoverKind { none, lid, slab };
template <class C = double>
struct Cover {
  CoverKind kind = CoverKind::none;
  Area<> area;
  Length<> gap{0.05};
  Quantity<dim::resistance> board{};  ///< of a lid's own
  Conductance<> to_skin{};            ///< of a raft or of dry stones
  double absorptance = 0.5;
  C transmitted = 0.0;
};

/// A vessel's faces, worked out once.
template <class C = double>
struct HeatPlan {
  Area<> surface;  ///< of the water, all of it
  Area<> open;     ///< what of it lies under the open sky
  Cover<C> cover;
  std::vector<WallFace<C>> walls;
  SoilColumn soil;
  double sun_share = 1.0;       ///< what shade leaves of the sun
  double gas_open_share = 1.0;  ///< share of the surface through which gas passes
};

HeatPlan<> heat_plan(const Vessel& vessel);
HeatStores heat_stores(const HeatPlan<>& plan);

/// Reflected by water under high and low sun, mean of a day.
inline constexpr double water_albedo = 0.07;

/// Share of the surface that is still wet: all of it down to a depth of 2 mm.
template <class N>
N wet_share(const HeatPlan<Plain<N>>& plan, const BodyState<N>& body) {
  return science::smooth_step(N(body.water.si() / plan.surface.si()), 0.0, 2e-3);
}

/// What leaves the surface as vapour.
template <class N>
struct SurfaceLoss {
  Flow<N> evaporation;
};

/// Heat through the walls above ground. Returns the sun that goes straight through them, in W.
template <class N>
Plain<N> post_walls(const HeatPlan<Plain<N>>& plan, const BodyState<N>& body, const Surroundings<Plain<N>>& s,
                    std::span<const N> y, const BodySlots& slots, const StoreSlots& stores, const Accounts& outside,
                    Posting<N>& post) {
  using T = Plain<N>;
  const auto longwave = science::longwave_on_upright_wall(s.sky, s.air);
  const T sun = s.sun_on_walls.si() * plan.sun_share;
  T through = 0.0;
  std::size_t next_store = 0;
  for (const WallFace<T>& wall : plan.walls) {
    const double area = wall.area.si();
    const auto heat_into = [&](const Temperature<N>& inside) {
      return by_temperature(inside, [&](const auto& within) {
        using M = std::decay_t<decltype(within.kelvin())>;
        const science::FaceOutside<M> face{Temperature<M>(s.air), Velocity<M>(s.wind), Flux<M>(M(sun)),
                                           Flux<M>(longwave),     wall.absorptance,    science::plastic_emissivity};
        return science::heat_through_wall(within, Conductance<M>(wall.to_skin), face) * area;
      });
    };
    through += wall.transmitted * sun * area;
    if (wall.store.si() <= 0.0) {
      post.move(outside.walls, slots.heat, heat_into(body.temperature));
      continue;
    }
    const int node = stores.timber[next_store++];
    const auto timber = Temperature<N>::from_celsius(y[static_cast<std::size_t>(node)] / wall.store.si());
    post.move(outside.walls, node, heat_into(timber));
    post.move(slots.heat, node, N(wall.to_store.si() * area * (body.temperature - timber).si()));
  }
  return through;
}

/// Heat between the water and the ground, layer by layer out to the year's wave.
template <class N>
void post_soil(const SoilColumn& soil, const BodyState<N>& body, const Temperature<Plain<N>>& ground,
               std::span<const N> y, const BodySlots& slots, const StoreSlots& stores, const Accounts& outside,
               Posting<N>& post) {
  Temperature<N> before = body.temperature;
  int from = slots.heat;
  for (std::size_t i = 0; i < soil.layers.size(); ++i) {
    const int node = stores.soil[i];
    const auto here = Temperature<N>::from_celsius(y[static_cast<std::size_t>(node)] / soil.layers[i].si());
    post.move(from, node, N(soil.crossings[i].si() * soil.area.si() * (before - here).si()));
    before = here;
    from = node;
  }
  post.move(from, outside.ground,
            N(soil.crossings.back().si() * soil.area.si() * (before - Temperature<N>(ground)).si()));
}

/// Posts the heat of one vessel, but for its soil, and returns its evaporation, which carries water away.
template <class N>
SurfaceLoss<N> post_heat(const HeatPlan<Plain<N>>& plan, const BodyState<N>& body, const Surroundings<Plain<N>>& s,
                         Pressure<> pressure, std::span<const N> y, const BodySlots& slots, const StoreSlots& stores,
                         const Accounts& outside, double canopy_share, Posting<N>& post) {
  const auto warm = narrow(body.temperature.kelvin());
  using M = std::decay_t<decltype(warm)>;
  const auto water = Temperature<M>::from_kelvin(warm);
  const auto wide = [&](const M& x) { return widened_to(body.temperature.kelvin(), x); };
  const Temperature<M> air(s.air);
  const Plain<N> sun = s.sun.si() * plan.sun_share * (1.0 - canopy_share);
  const science::AirOverWater<M> over{air, Pressure<M>(s.vapour), Pressure<M>(pressure), Velocity<M>(s.wind)};
  const auto f = science::wind_function_adams_sized(water, over, M(science::adams_size(plan.open + Area<>(0.1))));
  const double open = plan.open.si();
  const N latent = wide(science::evaporation_heat(f, water, Pressure<M>(s.vapour)).si() * open) * wet_share(plan, body);
  post.move(slots.heat, outside.evaporation, latent);
  post.move(slots.heat, outside.convection, wide(science::convection_heat(f, water, over).si() * open));
  const M outgoing = science::outgoing_longwave(water, science::water_emissivity).si();
  post.move(outside.sky, slots.heat, wide((science::water_emissivity * s.sky.si() - outgoing) * open));
  Plain<N> absorbed = (1.0 - water_albedo) * sun * open;

  const Cover<Plain<N>>& cover = plan.cover;
  const science::FaceOutside<M> above{
      air, Velocity<M>(s.wind), Flux<M>(M(sun)), Flux<M>(s.sky), cover.absorptance, science::plastic_emissivity};
  if (cover.kind == CoverKind::slab) {
    post.move(outside.lids, slots.heat,
              wide(science::heat_through_wall(water, Conductance<M>(cover.to_skin), above).si() * cover.area.si()));
  } else if (cover.kind == CoverKind::lid) {
    science::Lid<M> lid;
    lid.gap = cover.gap;
    lid.board = cover.board;
    lid.outside = above;
    post.move(outside.lids, slots.heat, wide(science::heat_through_lid(water, lid).si() * cover.area.si()));
    absorbed += cover.transmitted * sun * cover.area.si();
  }
  absorbed += post_walls(plan, body, s, y, slots, stores, outside, post);
  post.move(outside.sun, slots.heat, N(absorbed));
  return {Flow<N>(latent / wide(science::latent_heat(water).si() * 1000.0))};
}

}  // namespace leat::model
