// What the loop and its model expect of the record: the other half of every residual. Made by an answer, which may run
// the model; here are only numbers.
#pragma once

#include "base/time/civil.h"
#include "learn/history.h"

namespace leat::learn {

/// Water of one vessel hour by hour, by the model under the weather.
struct Warmth {
  std::string where;
  Moment start = 0;
  std::vector<double> hourly;  ///< degC

  bool covers(Moment t) const;
  double at(Moment t) const;  ///< linear between hours, clamped
  /// Lowest and highest between two times.
  std::pair<double, double> range(Moment from, Moment to) const;
  /// The most that it moves within so many hours, in any such stretch of the two days on either side of a time.
  double steepest(Moment about, double hours) const;
};

struct Expected {
  Clock clock = Clock::fixed(0.0, "UTC");
  std::vector<Warmth> warmth;
  bool weather_known = false;       ///< noted or from a file, not made up
  double heat_capacity = 0.0;       ///< of the whole loop, MJ/K
  double water = 1000.0;            ///< of the whole loop, L
  std::string fish_tank;            ///< path of the tank with the fish; empty: none, or several
  double fish = 0.0, mass_g = 0.0;  ///< by the loop file, at the record's start: how many, mean mass
  double protein = 0.45;            ///< of the feed
  std::vector<double> ration;       ///< what they would take at 0, 1, 2 ... degC, g a day, all together
  double planted = 0.0;             ///< m2 with plants in them
  double source_alkalinity = 0.0;   ///< mg/L as CaCO3
  bool limestone = false;
  /// The most that can evaporate and transpire, L a day, from the day of `start` on.
  Moment start = 0;
  std::vector<double> loses_at_most;
  /// Air of each such day, degC.
  std::vector<double> air_low, air_high;
  std::optional<bool> warm_still_night{};  ///< the forecast of the coming night, if there is one

  const Warmth* warmth_of(const std::string& where) const;
  /// Between whole degrees; 1 where nothing is known of their appetite.
  double ration_at(double celsius) const;
  int day_index(Moment t) const { return static_cast<int>((t - start) / kDay); }
  double hour_of(Moment t) const { return clock.local(Instant{1e-3 * static_cast<double>(t)}).hour; }
  CivilDate date_of(Moment t) const { return clock.local(Instant{1e-3 * static_cast<double>(t)}).date; }
};

}  // namespace leat::learn
