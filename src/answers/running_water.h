// The water of a loop as a run of days takes it: the flows and levels that stay, and how warm it starts.
#pragma once

#include <optional>
#include <string>

#include "model/equations/equations.h"
#include "model/weather/weather.h"

namespace leat::answers {

/// The water that runs, and what speaks against taking its means for it.
struct RunningWater {
  model::Settled water;
  std::string caveat, refused;              ///< refused: why no run of days can be had
  std::optional<model::Pulses> pulses{};    ///< its cycle, where it comes in pulses that repeat
  model::Pulsed how = model::Pulsed::mean;  ///< how a run of so many days is to take them
  std::string not_by_cycles{};              ///< why not by whole cycles
};
/// For a run of so many days: resolved, if that is not too many stretches; else by whole cycles where they can be taken
/// so; else by mean flows, as always where `days` is 0.
RunningWater running_water(const model::Plumbing& plumbing, int days = 0);

/// Water whose temperature nobody measured starts at the mean air of its first day, but free of ice.
model::Loop with_water_as_warm_as_the_air(const model::Loop& described, const model::Weather& weather,
                                          const CivilDate& first);

}  // namespace leat::answers
