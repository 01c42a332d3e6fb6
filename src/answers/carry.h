// leat carry: how many fish, how much bed, and what limits first, week by week through a year?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/check.h"
#include "model/weather/weather.h"

namespace leat::answers {

/// The most live fish that one need allows, in kg of the whole loop.
struct CarryLimit {
  std::string name;  ///< "oxygen", "film", "space", "warmth"
  double kg = 0.0;
};

struct CarryWeek {
  CivilDate first;
  Temperature<> water;             ///< of the fish tanks, mean of the week
  Temperature<> warmest;           ///< hour of the week in any of them
  std::vector<CarryLimit> limits;  ///< the least first
  double ration = 0.0;             ///< share of live mass a day
};

struct CarryAnswer {
  std::string loop_name, species;
  Mass<> one_fish;
  Mass<> now;
  std::vector<CarryWeek> weeks;
  std::size_t tightest = 0;         ///< week
  double all_year_kg = 0.0;         ///< in the tightest week
  Area<> bed, bed_least, bed_most;  ///< that there is; what takes the feed of the full stock in its hungriest week
  std::optional<Temperature<>> kills_above;  ///< when it lasts for days
  std::vector<std::string> assumed;
  int weeks_of_air = 0;  ///< whose water could not be run: taken as warm as the air
};

/// `weather` covers a year from `first`. Fish of the kind and size that the loop has, or trout of 150 g.
CarryAnswer carry(const model::Loop& loop, const model::Weather& weather, CivilDate first);

}  // namespace leat::answers
