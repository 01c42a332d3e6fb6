// What a run does not know, each with how wide it is and where that comes from; and draws of all of it at once.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "answers/drawn.h"
#include "model/loop/loop.h"
#include "model/weather/weather.h"

namespace leat::answers {

/// Questions in which a thing matters; several together. A run of days, of months under many weathers, a tank without
/// flow, and the stock that a loop carries.
namespace asked {
inline constexpr unsigned days = 1, months = 2, still_tank = 4, stock = 8;
}

/// One thing that is not known. A draw is a number of spread 1 about 0 that `apply` turns into what it stands for.
struct Prior {
  const char* name;  ///< as it is told: "what the film does"
  const char* width;
  const char* source;
  unsigned asked;
  bool (*matters)(const model::Loop& loop, const model::Weather& weather);
  void (*apply)(double draw, model::Loop& loop, model::Weather& weather);
  void (*apply_beside)(double draw, BesideLoop& beside) = nullptr;  ///< in place of `apply`, which then does nothing
  std::size_t column = 0;  ///< of its draws: the same for every loop, so that two loops can be run with the same draws
};

/// Those that matter to a loop under its weather: what the grower said or measured is not drawn.
std::vector<Prior> priors_of(const model::Loop& loop, const model::Weather& weather, unsigned question = asked::days);

/// Pairs of these that go together where nature or the yard ties them, each with its reason.
std::vector<DrawnTogether> drawn_together(const std::vector<Prior>& priors);

/// How many things there are that some loop does not know: as many columns of draws any run takes from.
std::size_t things_not_known();

/// Draws of `count` things for each of `members` runs: of every thing one draw from each of as many equally likely
/// strata, in an order of its own (Latin hypercube; McKay, Beckman & Conover 1979). The same seed, the same draws.
///
/// returns  [member][thing], normal
std::vector<std::vector<double>> stratified_draws(std::size_t members, std::size_t count, std::uint64_t seed);

/// Draws of all things, with those that go together ordered so (`science::correlate_by_rank`). What is drawn of each
/// thing alone is as in `stratified_draws`.
std::vector<std::vector<double>> draws_of_priors(std::size_t members, std::uint64_t seed);

/// The loop as one row of draws has it.
void apply_draws(const std::vector<Prior>& priors, const std::vector<double>& draws, model::Loop& loop,
                 model::Weather& weather);
/// And what one row has beside it.
BesideLoop beside_of(const std::vector<Prior>& priors, const std::vector<double>& draws);

}  // namespace leat::answers
