// What rots: solids give back their carbon, nitrogen and phosphorus, with oxygen or, deep in gravel, with nitrate.
#pragma once

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/nitrogen/denitrification.h"
#include "science/nitrogen/organic_decay.h"

namespace leat::model {

/// Nitrate that a gravel bed turns to gas, per area of the bed as seen from above, at 20 °C: 0.05 to 0.5 g/m2/d as N
/// (common practice). Known only from a loop's own balance.
inline constexpr ArealAmountRate<> gravel_denitrification{0.16e-3 / 14.007e-3 / 86400.0};
/// Carbon of solids that one nitrogen burns on its way to gas: 5 CH2O for 4 NO3.
inline constexpr double carbon_per_denitrified = 1.25;
/// Iron that settles out, at any temperature: what 2 mg/L every three weeks makes good (common practice).
inline constexpr Frequency<> iron_settles = 0.05 * science::per_day;

/// Gives back what the rotting of `carbon` of the solids frees.
template <class N>
void post_freed(const N& carbon, const BodyState<N>& body, const BodySlots& slots, Posting<N>& post) {
  const N per_carbon = carbon / (body.solids_carbon.si() + 1e-9);
  post.move(slots.solids_carbon(), slots.carbon(), carbon);
  post.move(slots.solids_nitrogen(), slots.ammonia(), N(per_carbon * body.solids_nitrogen.si()));
  post.move(slots.solids_phosphorus(), slots.phosphorus(), N(per_carbon * body.solids_phosphorus.si()));
}

/// Posts the rotting of solids and what becomes of nitrate in gravel.
///
/// gravel   area of the bed as seen from above, as far as it is wet; 0 elsewhere
template <class N>
void post_rotting(const Area<N>& gravel, const BodyState<N>& body, const BodySlots& slots, const Accounts& outside,
                  Posting<N>& post) {
  const N stock = body.solids_carbon.si() * body.water.si();
  const N burnt = science::decay_rate(science::particles, body.temperature).si() * stock *
                  science::decay_oxygen_factor(Concentration<N>(science::rounded_ramp(N(body.oxygen.si()), 1e-4))).si();
  post_freed(burnt, body, slots, post);
  post.move(slots.oxygen(), outside.rot_oxygen, burnt);
  post.move(slots.iron(), outside.settled_iron, N(iron_settles.si() * body.iron.si() * body.water.si()));
  if (plain(gravel.si()) <= 0.0) return;
  constexpr double half_nitrate = 0.5 / 14.007, some_solids = 0.1;  // mol/m3; mol/m2
  const N nitrate = science::rounded_ramp(N(body.nitrate.si()), 1e-4);
  const N to_gas = gravel_denitrification.si() * gravel.si() *
                   science::temperature_factor(body.temperature, Number<>(1.08)).si() * nitrate /
                   (nitrate + half_nitrate) * stock / (stock + some_solids * gravel.si());
  post.move(slots.nitrate(), outside.air_nitrogen, to_gas);
  post_freed(N(carbon_per_denitrified * to_gas), body, slots, post);
}

}  // namespace leat::model
