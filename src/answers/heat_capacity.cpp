#include "answers/heat_capacity.h"

#include "model/flow/water_run.h"

namespace leat::answers {

double heat_capacity_of(const model::Loop& loop) {
  double total = 4.186e6 * model::water_in(loop, model::levels_at_rest(loop)).si();
  for (const model::Vessel& v : loop.vessels)
    if (v.kind == model::VesselKind::gravel_bed) total += 2.2e6 * (1.0 - v.porosity) * (v.area * v.depth()).si();
  return total;
}

}  // namespace leat::answers
