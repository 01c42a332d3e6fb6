// One run of a loop under its weather, told day by day: what `leat ahead` and each member of its ensemble are made of.
#pragma once

#include "answers/ahead.h"
#include "model/flow/paths.h"

namespace leat::answers {

/// Runs the loop with its usual water; judges nothing.
AheadAnswer run_ahead(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
                      const model::Weather& weather, const AheadRequest& request);

}  // namespace leat::answers
