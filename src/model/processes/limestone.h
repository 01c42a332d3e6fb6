// Limestone, coral sand or shell in the water: it dissolves while the water is hungry for it.
#pragma once

#include "model/books/layout.h"
#include "model/processes/body_state.h"
#include "science/carbonate/calcite.h"

namespace leat::model {

/// Posts calcium and carbonate of calcite that dissolves. Scale does not form: the rate ends where the water is full.
///
/// area     clean surface of the stones
template <class N>
void post_limestone(Area<> area, const BodyState<N>& body, const BodySlots& slots, const Accounts& outside,
                    Posting<N>& post) {
  if (area.si() <= 0.0) return;
  const auto weak = constants_of<N>(body, body.temperature, body.ionic_strength);
  const N carbonate = body.carbon.si() * science::carbon_shares(body.pH, weak).carbonate;
  // With the pairs in the constants this counts paired carbonate as well; the totals of calcium stand for free ones.
  const auto pairs = science::pair_constants(body.temperature, body.ionic_strength);
  const N free =
      carbonate / (1.0 + pairs.calcium_carbonate * body.calcium.si() + pairs.magnesium_carbonate * body.magnesium.si());
  const Number<N> index = science::calcite_index(body.temperature, body.ionic_strength,
                                                 Concentration<N>(science::rounded_ramp(N(body.calcium.si()), 1e-4)),
                                                 Concentration<N>(science::rounded_ramp(free, 1e-8)));
  const N rate = science::calcite_dissolution(body.temperature, body.pH, body.carbon_dioxide, index).si() * area.si();
  const N dissolved = science::rounded_ramp(rate, 1e-9);
  post.move(outside.limestone_calcium, slots.calcium(), dissolved);
  post.move(outside.limestone_carbon, slots.carbon(), dissolved);
}

}  // namespace leat::model
