// Plans and weathers of the members in the lanes of T, each number that they may differ in in a T of its own.
#pragma once

#include <array>
#include <vector>

#include "model/equations/equations.h"
#include "numerics/pack.h"

namespace leat::model {

template <class T>
using PlansOfLanes = std::array<const Plan<>*, lanes_in<T>>;

/// The number that `of` finds for each member, side by side.
template <class T, class Of>
T gathered(const PlansOfLanes<T>& plans, Of&& of) {
  return of_lanes<T>([&](std::size_t lane) { return of(*plans[lane]); });
}

template <class T>
HeatPlan<T> side_by_side(const PlansOfLanes<T>& plans, std::size_t b) {
  const HeatPlan<>& one = plans[0]->bodies[b].heat;
  HeatPlan<T> heat{one.surface, one.open, {}, {}, one.soil, one.sun_share, one.gas_open_share};
  const Cover<>& c = one.cover;
  heat.cover = {c.kind, c.area, c.gap, c.board, c.to_skin, c.absorptance, gathered<T>(plans, [&](const Plan<>& p) {
                  return p.bodies[b].heat.cover.transmitted;
                })};
  for (std::size_t w = 0; w < one.walls.size(); ++w) {
    const WallFace<>& wall = one.walls[w];
    heat.walls.push_back({wall.area, wall.to_skin, wall.absorptance,
                          gathered<T>(plans, [&](const Plan<>& p) { return p.bodies[b].heat.walls[w].transmitted; }),
                          wall.store, wall.to_store});
  }
  return heat;
}

template <class T>
BodyPlan<T> body_side_by_side(const PlansOfLanes<T>& plans, std::size_t b) {
  const BodyPlan<>& one = plans[0]->bodies[b];
  const auto all = [&](auto&& of) { return gathered<T>(plans, [&](const Plan<>& p) { return of(p.bodies[b]); }); };
  BodyPlan<T> plan;
  plan.heat = side_by_side<T>(plans, b);
  plan.gas = {Area<T>(all([](const BodyPlan<>& p) { return p.gas.surface.si(); })),
              Flow<T>(all([](const BodyPlan<>& p) { return p.gas.stones_oxygen.si(); })), one.gas.stones_air};
  plan.air_lines = one.air_lines;
  plan.constants = one.constants;
  plan.light = {one.light.surface, all([](const BodyPlan<>& p) { return p.light.lit_share; }), one.light.sun_share};
  plan.film = Area<T>(all([](const BodyPlan<>& p) { return p.film.si(); }));
  plan.gravel = Area<T>(all([](const BodyPlan<>& p) { return p.gravel.si(); }));
  plan.sludge = Area<T>(all([](const BodyPlan<>& p) { return p.sludge.si(); }));
  plan.limestone = one.limestone;
  plan.catches_rain = one.catches_rain;
  plan.usual_water = one.usual_water;
  plan.capacity = one.capacity;
  plan.overflowing = one.overflowing;
  plan.canopy = one.canopy;
  plan.pump_heat = one.pump_heat;
  return plan;
}

template <class T>
Plan<T> side_by_side(const PlansOfLanes<T>& plans) {
  Plan<T> plan;
  for (std::size_t b = 0; b < plans[0]->bodies.size(); ++b) plan.bodies.push_back(body_side_by_side<T>(plans, b));
  for (std::size_t g = 0; g < plans[0]->fish.size(); ++g) {
    const FishPlan<>& one = plans[0]->fish[g];
    plan.fish.push_back({one.count, one.usual, one.matter, one.species,
                         gathered<T>(plans, [&](const Plan<>& p) { return p.fish[g].growth; }),
                         gathered<T>(plans, [&](const Plan<>& p) { return p.fish[g].respiration; }), one.feed_energy});
  }
  return plan;
}

/// The hours from an instant on, which is a whole one of all forcings.
template <class T>
std::vector<Hour<T>> hours_side_by_side(const std::array<const Forcing*, lanes_in<T>>& forcings, Instant start) {
  std::vector<Hour<T>> hours;
  const Forcing& first = *forcings[0];
  const auto from = static_cast<std::size_t>((start.seconds - first.start().seconds) / 3600.0 + 0.5);
  for (std::size_t h = from; h < first.hours().size(); ++h) {
    const auto all = [&](auto which, std::size_t i) {
      return of_lanes<T>([&](std::size_t lane) { return (forcings[lane]->hours()[h].*which)[i]; });
    };
    Hour<T>& hour = hours.emplace_back();
    for (std::size_t i = 0; i < hour.value.size(); ++i) {
      hour.value[i] = all(&Hour<>::value, i);
      hour.slope[i] = all(&Hour<>::slope, i);
    }
  }
  return hours;
}

}  // namespace leat::model
