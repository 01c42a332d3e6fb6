// Outside air blown through the water: it leaves warm and wet.
#pragma once

#include "model/books/layout.h"
#include "model/equations/forcing.h"
#include "model/processes/body_state.h"
#include "science/heat/stores.h"

namespace leat::model {

/// The air lines of one vessel together.
struct AirLinePlan {
  Flow<> air{};      ///< as it stands outside
  Power<> warmth{};  ///< of the blowers, as far as it reaches the water
};

/// Adds one air line. Only a blower whose power is said brings warmth, and a long hose loses most of it.
inline void add_air_line(AirLinePlan& plan, const AirLine& line) {
  constexpr Density<> usual_air{1.2};
  plan.air += line.flow;
  plan.warmth += line.power.value_or(Power<>(0.0)) * science::blower_warmth_left(line.flow * usual_air);
}

/// Posts what the bubbles take and bring, and returns the water that they carry off.
template <class N>
Flow<N> post_air_lines(const AirLinePlan& plan, const BodyState<N>& body, const Surroundings<Plain<N>>& s,
                       Pressure<> pressure, const BodySlots& slots, const Accounts& outside, Posting<N>& post) {
  if (plan.air.si() <= 0.0) return Flow<N>(N(0.0));
  const auto dry_air = plan.air * science::dry_air_density(s.air, s.vapour, Pressure<Plain<N>>(pressure));
  const auto take = science::bubbles_take(body.temperature, s.air, s.vapour, pressure, dry_air);
  const N latent = take.vapour.si() * science::latent_heat(body.temperature).si();
  const N water = take.vapour.si() / 1000.0;
  post.move(slots.water, outside.air_water, water);
  post.move(slots.heat, outside.air_lines,
            N(latent + take.warmth.si() + water * water_heat.si() * body.temperature.celsius()));
  post.move(outside.pump_heat, slots.heat, N(plan.warmth.si()));
  return Flow<N>(water);
}

}  // namespace leat::model
