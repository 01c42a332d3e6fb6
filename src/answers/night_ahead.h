// leat night without readings: the coming night by the model alone.
#pragma once

#include "answers/ahead.h"
#include "answers/judge/water_limits.h"

namespace leat::answers {

/// One fish tank from sunset to an hour after sunrise. Oxygen in mol/m3, hours of the local clock running on past
/// midnight.
struct TankNight {
  std::string path;
  double dusk = 0.0, lowest = 0.0, dawn = 0.0;
  double lowest_hour = 0.0;
  double saturation = 0.0;  ///< at the lowest
  double coldest = 0.0;     ///< kelvin
  Spread dusk_band{}, lowest_band{}, dawn_band{};
  int below = 0, danger = 0;  ///< runs in which the lowest lies below the limit, and below 0.6 of it
};

struct NightAheadAnswer {
  std::string loop_name;
  CivilDate date;  ///< of the evening
  double sunset_hour = 0.0, sunrise_hour = 0.0;
  Concentration<> low{};         ///< the limit of the loop
  std::vector<TankNight> tanks;  ///< the one with least oxygen first
  Verdict verdict = Verdict::good;
  std::string said;  ///< why there is no answer
  std::vector<model::Assumption> assumptions;
  std::optional<HowDrawn> how;  ///< when runs were asked for, and three at least finished
  std::vector<OwedMost> owed;   ///< of the tank with least oxygen
};

/// `weather` covers the day of the evening and the next one.
NightAheadAnswer night_ahead(const model::Loop& loop, const model::Weather& weather, CivilDate evening,
                             const Draws& draws = {0});

}  // namespace leat::answers
