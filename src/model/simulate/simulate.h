// Runs a loop through time: the only place that changes a state, and only its own copy.
#pragma once

#include "model/equations/equations.h"
#include "model/simulate/trajectory.h"

namespace leat::model {

struct RunOptions {
  double relative_tolerance = 1e-5;
  bool dense = false;  ///< solve with a dense matrix: slower, a check on the sparse one
};

/// Runs from `from` to `to`; both on whole hours of the forcing. Stops exactly at meals, at the hours of the weather
/// and at local midnights. A run that cannot go on returns what it has, with when and why.
Trajectory simulate(const Loop& loop, const Equations& equations, Instant from, Instant to,
                    const RunOptions& options = {});

/// Feed that the rule gives one group for a day: growth that the temperature allows times feed per gain, held back by
/// heat, cold and oxygen.
struct Ration {
  Mass<> a_day;
  double eaten_share = 1.0;       ///< of a stated feed, what they take at this temperature and oxygen
  Frequency<> by_rule, by_table;  ///< share of body mass per time
};
Ration ration_of(const FishGroup& group, Mass<> biomass, Temperature<> water, Concentration<> oxygen);

}  // namespace leat::model
