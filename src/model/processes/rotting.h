// What rots: solids give back their carbon, nitrogen and phosphorus, with oxygen or, deep in gravel, with nitrate.
#pragma once

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/nitrogen/bed_gas.h"
#include "science/nitrogen/organic_decay.h"

namespace leat::model {

/// Gives back what the rotting of `carbon` of the solids frees.
template <class N>
void post_freed(const N& carbon, const BodyState<N>& body, const BodySlots& slots, Posting<N>& post) {
  const N per_carbon = carbon / (body.solids_carbon.si() + 1e-9);
  post.move(slots.solids_carbon(), slots.carbon(), carbon);
  post.move(slots.solids_nitrogen(), slots.ammonia(), N(per_carbon * body.solids_nitrogen.si()));
  post.move(slots.solids_phosphorus(), slots.phosphorus(), N(per_carbon * body.solids_phosphorus.si()));
}

/// Posts the rotting of solids and what becomes of nitrate in gravel and sludge.
///
/// gravel   area of the bed as seen from above, as far as it is wet; 0 elsewhere
/// sludge   floor on which solids lie undisturbed
template <class N>
void post_rotting(const Area<N>& gravel, const Area<Plain<N>>& sludge, const BodyState<N>& body, const BodySlots& slots,
                  const Accounts& outside, Posting<N>& post) {
  const N stock = body.solids_carbon.si() * body.water.si();
  const N burnt = science::decay_rate(science::particles, body.temperature).si() * stock *
                  science::decay_oxygen_factor(Concentration<N>(science::rounded_ramp(N(body.oxygen.si()), 1e-4))).si();
  post_freed(burnt, body, slots, post);
  post.move(slots.oxygen(), outside.rot_oxygen, burnt);
  post.move(slots.iron(), outside.settled_iron, N(science::iron_settles.si() * body.iron.si() * body.water.si()));
  const N nitrate = science::rounded_ramp(N(body.nitrate.si()), 1e-4);
  const auto to_gas = [&](const N& nitrogen) {
    post.move(slots.nitrate(), outside.air_nitrogen, nitrogen);
    post_freed(N(science::carbon_per_denitrified * nitrogen), body, slots, post);
  };
  if (largest(plain(gravel.si())) > 0.0)
    to_gas(science::gravel_nitrate_to_gas<N>(gravel, nitrate, stock, body.temperature));
  if (largest(sludge.si()) > 0.0)
    to_gas(science::sludge_nitrate_to_gas<N>(Area<N>(N(sludge.si())), nitrate, stock, body.temperature));
}

}  // namespace leat::model
