// How long the fish of each tank lived and how they grew, by what was noted.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/places.h"
#include "science/statistics/survival.h"

namespace leat::answers {

/// Fish of the loop file.
struct FishAtStart {
  std::string where;
  double count = 0;
};

/// The mean mass of a fish on one day.
struct WeighedFish {
  record::Moment at = 0;
  double grams = 0;
  std::int64_t entry = 0;
};

struct FishLives {
  std::string where;
  record::Moment from = 0, to = 0;
  double entered = 0, died = 0, left = 0;         ///< left: moved, sold or harvested alive
  std::optional<science::Interval> died_share{};  ///< Clopper-Pearson; only when none came later or left
  science::Interval expected{};                   ///< deaths that as many could be by chance: Poisson
  std::vector<science::SurvivalStep> steps{};     ///< by days
  std::vector<WeighedFish> weighed{};
  std::optional<double> growth_a_day{};  ///< share a day, first to last weighing
  std::optional<double> thermal{};       ///< thermal growth coefficient, where the water's warmth is known
  std::optional<science::Interval> thermal_interval{};
  double days_without_warmth = 0;  ///< of those between the weighings
  std::vector<std::string> taken{};
};

/// A death that is not of a plant: the subject decides, and where none is named, that it was in no bed.
bool is_death_of_fish(const record::Entry& entry, const record::Context& context);

std::vector<FishLives> fish_lives(const std::vector<record::Entry>& entries, const record::Context& context,
                                  const std::vector<FishAtStart>& at_start, double level);

}  // namespace leat::answers
