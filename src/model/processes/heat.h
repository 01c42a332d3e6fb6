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
StoreCounts store_counts(const HeatPlan<>& plan);

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
  const auto longwave = science::longwave_on_upright_wall(s.sky, s.air);
  const Plain<N> sun = s.sun_on_walls.si() * plan.sun_share;
  Plain<N> through = 0.0;
  std::size_t next_store = 0;
  for (const WallFace<Plain<N>>& wall : plan.walls) {
    const science::FaceOutside<N> face{Temperature<N>(s.air), Velocity<N>(s.wind), Flux<N>(N(sun)),
                                       Flux<N>(longwave),     wall.absorptance,    science::plastic_emissivity};
    through += wall.transmitted * sun * wall.area.si();
    const double area = wall.area.si();
    if (wall.store.si() <= 0.0) {
      post.move(outside.walls, slots.heat,
                science::heat_through_wall(body.temperature, Conductance<N>(wall.to_skin), face).si() * area);
      continue;
    }
    const int node = stores.timber[next_store++];
    const auto timber = Temperature<N>::from_celsius(y[static_cast<std::size_t>(node)] / wall.store.si());
    post.move(outside.walls, node, science::heat_through_wall(timber, Conductance<N>(wall.to_skin), face).si() * area);
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
  const Temperature<N> air(s.air);
  const Plain<N> sun = s.sun.si() * plan.sun_share * (1.0 - canopy_share);
  const science::AirOverWater<N> over{air, Pressure<N>(s.vapour), Pressure<N>(pressure), Velocity<N>(s.wind)};
  const auto f = science::wind_function_adams(body.temperature, over, Area<N>(plan.open + Area<>(0.1)));
  const double open = plan.open.si();
  const N latent =
      science::evaporation_heat(f, body.temperature, Pressure<N>(s.vapour)).si() * open * wet_share(plan, body);
  post.move(slots.heat, outside.evaporation, latent);
  post.move(slots.heat, outside.convection, science::convection_heat(f, body.temperature, over).si() * open);
  const N outgoing = science::outgoing_longwave(body.temperature, science::water_emissivity).si();
  post.move(outside.sky, slots.heat, (science::water_emissivity * s.sky.si() - outgoing) * open);
  Plain<N> absorbed = (1.0 - water_albedo) * sun * open;

  const Cover<Plain<N>>& cover = plan.cover;
  const science::FaceOutside<N> above{
      air, Velocity<N>(s.wind), Flux<N>(N(sun)), Flux<N>(s.sky), cover.absorptance, science::plastic_emissivity};
  if (cover.kind == CoverKind::slab) {
    post.move(
        outside.lids, slots.heat,
        science::heat_through_wall(body.temperature, Conductance<N>(cover.to_skin), above).si() * cover.area.si());
  } else if (cover.kind == CoverKind::lid) {
    science::Lid<N> lid;
    lid.gap = cover.gap;
    lid.board = cover.board;
    lid.outside = above;
    post.move(outside.lids, slots.heat, science::heat_through_lid(body.temperature, lid).si() * cover.area.si());
    absorbed += cover.transmitted * sun * cover.area.si();
  }
  absorbed += post_walls(plan, body, s, y, slots, stores, outside, post);
  post.move(outside.sun, slots.heat, N(absorbed));
  return {Flow<N>(latent / (science::latent_heat(body.temperature).si() * 1000.0))};
}

}  // namespace leat::model
