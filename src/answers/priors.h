// What a run does not know, each with how wide it is and where that comes from; and draws of all of it at once.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "model/loop/loop.h"
#include "model/weather/weather.h"

namespace leat::answers {

/// One thing that is not known. A draw is a number of spread 1 about 0 that `apply` turns into what it stands for.
struct Prior {
  const char* name;  ///< as it is told: "what the film does"
  const char* width;
  const char* source;
  bool (*matters)(const model::Loop& loop, const model::Weather& weather);
  void (*apply)(double draw, model::Loop& loop, model::Weather& weather);
  std::size_t column = 0;  ///< of its draws: the same for every loop, so that two loops can be run with the same draws
};

/// Those that matter to a loop under its weather: what the grower said or measured is not drawn.
std::vector<Prior> priors_of(const model::Loop& loop, const model::Weather& weather);

/// How many things there are that some loop does not know: as many columns of draws any run takes from.
std::size_t things_not_known();

/// Draws of `count` things for each of `members` runs: of every thing one draw from each of as many equally likely
/// strata, in an order of its own (Latin hypercube; McKay, Beckman & Conover 1979). The same seed, the same draws.
///
/// returns  [member][thing], normal
std::vector<std::vector<double>> stratified_draws(std::size_t members, std::size_t count, std::uint64_t seed);

}  // namespace leat::answers
