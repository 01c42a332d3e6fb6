// The weather as the equations want it: what does not depend on the water is worked out once an hour, and is linear
// between.
#pragma once

#include <vector>

#include "model/loop/loop.h"
#include "model/weather/weather.h"

namespace leat::model {

/// What the air, the sky and the sun do at one instant.
template <class C = double>
struct Surroundings {
  Temperature<C> air;
  Pressure<C> vapour;
  Velocity<C> wind;          ///< at the rims of the vessels
  Flux<C> sun;               ///< global, on the level
  Flux<C> sun_on_walls;      ///< mean over the four sides
  Flux<C> sky;               ///< long-wave from above
  Velocity<C> reference_et;  ///< depth per time of the reference crop
  Velocity<C> rain;
  Temperature<C> ground;  ///< 1.5 m out, on the year's wave
};

/// On the straight line from a to b.
template <class C>
Surroundings<C> between(const Surroundings<C>& a, const Surroundings<C>& b, double share) {
  const auto on_line = [&](const auto& from, const auto& to) { return from + share * (to - from); };
  return {on_line(a.air, b.air),
          on_line(a.vapour, b.vapour),
          on_line(a.wind, b.wind),
          on_line(a.sun, b.sun),
          on_line(a.sun_on_walls, b.sun_on_walls),
          on_line(a.sky, b.sky),
          on_line(a.reference_et, b.reference_et),
          on_line(a.rain, b.rain),
          on_line(a.ground, b.ground)};
}

class Forcing {
 public:
  Forcing(const Site& site, const Weather& weather);
  Surroundings<> at(Instant t) const;
  /// One a whole hour, the first at `start`.
  const std::vector<Surroundings<>>& hours() const { return hours_; }
  Instant start() const { return start_; }
  Instant end() const { return {start_.seconds + 3600.0 * static_cast<double>(hours_.size() - 1)}; }
  Pressure<> pressure;  ///< of the air

 private:
  Instant start_;
  std::vector<Surroundings<>> hours_;
};

}  // namespace leat::model
