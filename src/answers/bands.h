// How sure a run is: the same run many times over, with all that is not known drawn anew each time.
#pragma once

#include "answers/ahead.h"
#include "answers/priors.h"
#include "model/flow/paths.h"

namespace leat::answers {

/// Runs on all cores; the answer depends on the seed and the number of members, not on how many cores there are.
/// The runs behind a band that finished, each with its draws and its number: the same number, the same draws in
/// another loop.
struct Ensemble {
  std::vector<Prior> priors;
  std::vector<AheadAnswer> runs;
  std::vector<std::vector<double>> draws;
  std::vector<std::size_t> ran;
  int stopped = 0;
};
Ensemble run_ensemble(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
                      const model::Weather& weather, const AheadRequest& request);

Bands bands(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
            const model::Weather& weather, const AheadRequest& request);

}  // namespace leat::answers
