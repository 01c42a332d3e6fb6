// The water of a loop as a run of days takes it: the flows and levels that stay, and how warm it starts.
#pragma once

#include "model/flow/paths.h"
#include "model/weather/weather.h"

namespace leat::answers {

/// The water that runs, and what speaks against taking its means for it.
struct RunningWater {
  model::Settled water;
  std::string caveat, refused;  ///< refused: why no run of days can be had
};
RunningWater running_water(const model::Plumbing& plumbing);

/// Water whose temperature nobody measured starts at the mean air of its first day, but free of ice.
model::Loop with_water_as_warm_as_the_air(const model::Loop& described, const model::Weather& weather,
                                          const CivilDate& first);

}  // namespace leat::answers
