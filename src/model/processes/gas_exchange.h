// Oxygen, nitrogen and carbon dioxide between water and air: at the surface, from air stones, where water falls. Each
// way is an exchange flow: so much water per time comes into balance with the air.
#pragma once

#include "model/books/layout.h"
#include "model/equations/forcing.h"
#include "model/processes/body_state.h"
#include "science/gas/carbon_dioxide.h"
#include "science/gas/nitrogen_gas.h"
#include "science/gas/oxygen_saturation.h"
#include "science/gas/transfer.h"

namespace leat::model {

/// Share of carbon dioxide in outdoor air.
inline constexpr Number<> air_carbon_dioxide{420e-6};

/// Transfer of nitrogen over that of oxygen: the root of 1.88 over 2.10e-9 m2/s, their diffusivities at 25 °C (Cussler,
/// from memory).
inline constexpr double nitrogen_over_oxygen = 0.946;

/// What one body has to breathe with.
template <class C = double>
struct GasPlan {
  Area<C> surface;          ///< through which gas passes
  Flow<C> stones_oxygen{};  ///< exchange flow of its air stones for oxygen, at 20 degC
  Flow<> stones_air{};      ///< air through them: carbon dioxide fills the bubbles
};

/// What the water would hold in balance with the air.
template <class N>
struct GasEquilibrium {
  Concentration<N> oxygen, carbon_dioxide, nitrogen;
};

template <class N>
GasEquilibrium<N> gas_equilibrium(Temperature<N> water, Pressure<> pressure) {
  const Pressure<N> p(pressure);
  return {science::oxygen_saturation(water, p),
          science::carbon_dioxide_saturation(water, science::carbon_dioxide_pressure(air_carbon_dioxide, water, p)),
          Concentration<N>(science::nitrogen_saturation_mass(water, p).si() / science::molar_mass::nitrogen_gas.si())};
}

template <class N>
void post_exchange(const Flow<N>& oxygen_flow, const Flow<N>& carbon_flow, const BodyState<N>& water,
                   const GasEquilibrium<N>& air, const BodySlots& into, const Accounts& outside, Posting<N>& post) {
  post.move(outside.air_oxygen, into.oxygen(), N((oxygen_flow * (air.oxygen - water.oxygen)).si()));
  post.move(outside.air_nitrogen_gas, into.nitrogen_gas(),
            N((nitrogen_over_oxygen * oxygen_flow * (air.nitrogen - water.nitrogen_gas)).si()));
  post.move(into.carbon(), outside.air_carbon, N((carbon_flow * (water.carbon_dioxide - air.carbon_dioxide)).si()));
}

template <class N>
void post_gas(const GasPlan<Plain<N>>& plan, const BodyState<N>& body, const GasEquilibrium<N>& air,
              const Surroundings<Plain<N>>& s, const BodySlots& slots, const Accounts& outside, Posting<N>& post) {
  const auto k600 = science::transfer_velocity_cole_caraco(Velocity<Plain<N>>(s.wind));
  const auto warm = narrow(body.temperature.kelvin());  // all flows follow from temperature alone
  using M = std::decay_t<decltype(warm)>;
  const auto water = Temperature<M>::from_kelvin(warm);
  const auto flow = [&](const Flow<M>& q) { return Flow<N>(widened_to(body.temperature.kelvin(), q.si())); };
  const Flow<M> surface = science::exchange_flow_of_surface(
      Area<M>(plan.surface),
      science::transfer_velocity_of_gas(Velocity<M>(k600), science::schmidt_number_oxygen(water)));
  const Number<M> ratio = science::transfer_ratio_carbon_dioxide(water);
  post_exchange(flow(surface), flow(Flow<M>(ratio * surface)), body, air, slots, outside, post);
  if (plan.stones_air.si() <= 0.0) return;
  const Flow<M> stones = Flow<M>(plan.stones_oxygen) * science::transfer_temperature_factor(water);
  const Flow<M> stones_carbon = science::exchange_flow_of_bubbles(Flow<M>(ratio * stones), Flow<M>(plan.stones_air),
                                                                  science::carbon_dioxide_gas_over_water(water));
  post_exchange(flow(stones), flow(stones_carbon), body, air, slots, outside, post);
}

/// Water that falls into a body gains and loses gas on the way: slightly polluted water over a broad lip.
template <class N>
void post_fall(const Flow<N>& flow, Length<> fall, const BodyState<N>& from, const GasEquilibrium<N>& air,
               const BodySlots& into, const Accounts& outside, Posting<N>& post) {
  if (fall.si() < 1e-3) return;
  const auto warm = narrow(from.temperature.kelvin());
  using M = std::decay_t<decltype(warm)>;
  const auto water = Temperature<M>::from_kelvin(warm);
  const Number<M> r = science::deficit_ratio_of_fall(Length<M>(fall), water, science::fall_water::slightly_polluted,
                                                     science::fall_shape::broad_crest_high);
  const Number<M> r_carbon = science::deficit_ratio_carbon_dioxide(r, science::transfer_ratio_carbon_dioxide(water));
  const auto exchanged = [&](const Number<M>& ratio) {
    const M share = science::exchange_flow_of_fall(Flow<M>(M(1.0)), ratio).si();
    return Flow<N>(flow.si() * widened_to(from.temperature.kelvin(), share));
  };
  post_exchange(exchanged(r), exchanged(r_carbon), from, air, into, outside, post);
}

}  // namespace leat::model
