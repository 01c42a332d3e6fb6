// leat carry: how many fish, how much bed, and what limits first, week by week through a year?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/check.h"
#include "answers/drawn.h"
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

/// Of the year's weeks, how many runs have today's stock over what one need allows, and in how many it is the first.
struct CarryCrossed {
  std::string name;
  int over = 0, first = 0;
};

/// Many years, each with its own weather and with everything drawn anew that nobody knows.
struct CarrySure {
  HowDrawn how;
  std::vector<Spread> weeks;  ///< kg that each week carries
  Spread all_year, warmest;   ///< kg; kelvin, the year's warmest hour
  int over = 0;               ///< runs that carry less than there is now in some week
  int killing = 0;            ///< runs with an hour above what kills
  std::vector<CarryCrossed> needs;
  std::vector<OwedMost> owed;
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
  std::optional<CarrySure> sure;
  int weeks_of_air = 0;  ///< whose water could not be run: taken as warm as the air
};

/// The weather of each run; none: no bands.
struct CarryDraws {
  std::vector<model::Weather> years;
  std::uint64_t seed = 1;
};
/// How many runs: a year of water takes about half of what a year of the whole loop does. 20 at least.
EnsembleSize size_of_carry(const model::Loop& loop, int asked);

/// `weather` covers a year from `first`. Fish of the kind and size that the loop has, or trout of 150 g.
CarryAnswer carry(const model::Loop& loop, const model::Weather& weather, CivilDate first,
                  const CarryDraws& draws = {});

}  // namespace leat::answers
