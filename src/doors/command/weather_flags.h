// Reading the flags that say which days, and under which weather.
#pragma once

#include "base/result/problem.h"
#include "doors/command/verbs.h"
#include "model/weather/weather.h"

namespace leat::doors {

struct AskedWeather {
  CivilDate first;
  model::Weather weather;
};

struct AskedYears {
  CivilDate first;
  std::vector<model::Weather> years;
};

/// So many kinds of weather for the same days, each from the next seed: what the record knows of these very days is the
/// same in all.
AskedYears read_years(const AheadFlags& flags, int years, const model::Place& place, Problems& problems);

/// --members makes a band, or none.
void check_members(int members, Problems& problems);

/// The weather of --days from the first day on. What is wrong with the flags or the files goes to problems; the weather
/// is then empty.
AskedWeather read_weather(const AheadFlags& flags, const model::Place& place, Problems& problems);

}  // namespace leat::doors
