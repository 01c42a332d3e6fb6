// One run of a loop under its weather, told day by day: what `leat ahead` and each member of its ensemble are made of.
#pragma once

#include "answers/ahead.h"
#include "answers/running_water.h"
#include "model/flow/paths.h"
#include "model/simulate/together.h"

namespace leat::answers {

/// Runs the loop with its mean water, by the one-step integrator alone in its lane; judges nothing.
AheadAnswer run_ahead(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
                      const model::Weather& weather, const AheadRequest& request);
/// The same with its pulses as they are to be taken; by whole cycles where that is so, unless the run shows that it
/// cannot be: then as `running` becomes.
AheadAnswer run_ahead(const model::Loop& loop, const model::Plumbing& plumbing, RunningWater& running,
                      const model::Weather& weather, const AheadRequest& request);

/// As many runs that differ in what `make` draws, on all cores; `loop` is any of them. `tolerance`: relative.
std::vector<AheadAnswer> run_ahead_together(const model::Loop& loop, const model::Plumbing& plumbing,
                                            const model::Settled& running, const AheadRequest& request,
                                            std::size_t members,
                                            const std::function<model::MemberInput(std::size_t)>& make,
                                            double tolerance = model::member_tolerance);

}  // namespace leat::answers
