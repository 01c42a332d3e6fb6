// What was drawn behind a band, how many times, and what a number owes most to. Every verb with a band tells these.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "answers/spread.h"
#include "model/loop/loop.h"

namespace leat::answers {

/// How many draws or runs: below 0 as many as fit, 0 none.
struct Draws {
  int asked = -1;
  std::uint64_t seed = 1;
};

/// What answers take beside the loop's own run: middle values but in draws.
struct BesideLoop {
  double still_surface = 1.0;    ///< exchange of a tank without flow, over its middle
  double meal = 1.0;             ///< power of the factor by which fed, frightened or fasted fish breathe
  double oxygen_at_start = 0.0;  ///< of a tank when its flow stops, in standard deviations of what is not known of it
  double oxygen_back = 0.0;      ///< of the water that comes back to the tanks, likewise
  double flow = 1.0;             ///< of pumps through pipes that foul together
};

/// One thing that was drawn anew in each run.
struct Drawn {
  std::string name, width, source;
};

/// Two of them that go together.
struct DrawnTogether {
  std::string one, other;
  double correlation = 0.0;  ///< of their ranks
  std::string why;           ///< with its source
};

/// How many runs, by a formula and not by the clock: the same question, the same number on every machine.
struct EnsembleSize {
  int members = 0;
  double about = 0.0, budget = 0.0;  ///< seconds: what that many take by the formula, and what the number is chosen for
};

struct HowDrawn {
  int members = 0;  ///< that finished
  int stopped = 0;
  std::uint64_t seed = 0;
  EnsembleSize size;
  std::vector<Drawn> drawn;
  std::vector<DrawnTogether> together;
  double uncertainty = 0.0;  ///< of a rank correlation: its spread when there is none
  /// The largest that so many things reach by chance in nineteen of twenty.
  double by_chance() const;
};

/// What one number owes to one thing that is not known: rank correlation over the runs, and 90 % of its resamples.
struct Owed {
  std::string thing;
  double correlation = 0.0, low = 0.0, high = 0.0;
};

/// The things that a number owes most to, largest first.
struct OwedMost {
  std::string what, quantity;
  Spread spread;
  std::vector<Owed> to;
};

struct Prior;

/// The three things that values go with most, as far as they go beyond what chance gives to any in nineteen of twenty.
/// `draws` are of the runs that the values are of.
std::vector<Owed> owed_most(const std::vector<Prior>& priors, const std::vector<std::vector<double>>& draws,
                            const std::vector<double>& values, std::uint64_t seed);

/// What was drawn in so many runs of these.
HowDrawn how_drawn(const std::vector<Prior>& priors, int members, int stopped, std::uint64_t seed,
                   const EnsembleSize& size);

/// Runs of the whole loop. They are counted as 45 states a vessel, 5 microseconds a state and day, on two cores.
/// `asked` below 0: as many as the budget lets, at least 20 and at most 200; none where 20 take over ten seconds.
EnsembleSize size_of_runs(const model::Loop& loop, int days, int asked, double budget = 2.0);

}  // namespace leat::answers
