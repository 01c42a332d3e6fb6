// How sure a run is: the same run many times over, with all that is not known drawn anew each time.
#pragma once

#include "answers/ahead.h"
#include "answers/priors.h"
#include "model/flow/paths.h"

namespace leat::answers {

/// The runs behind a band that finished, each with its draws and its number: the same number, the same draws in
/// another loop.
struct Ensemble {
  std::vector<Prior> priors;
  std::vector<AheadAnswer> runs;
  std::vector<std::vector<double>> draws;
  std::vector<std::size_t> ran;
  int stopped = 0;
};
/// Runs on all cores; the answer depends on the seed and the number of members, not on how many cores there are.
Ensemble run_ensemble(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
                      const model::Weather& weather, const AheadRequest& request);

/// Two runs with middle values: by mean flows, as members run, and with its pulses.
struct Beside {
  const AheadAnswer &by_mean, &by_pulses;
};

/// `beside`: each day of each member is moved by as much as pulses move that of the run with middle values, levels of
/// oxygen and pH by the difference, what is dissolved in proportion.
Bands bands(const model::Loop& loop, const model::Plumbing& plumbing, const model::Settled& running,
            const model::Weather& weather, const AheadRequest& request, const Beside* beside = nullptr);

}  // namespace leat::answers
