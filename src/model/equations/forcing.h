// The weather as the equations want it: what does not depend on the water is worked out once an hour, and is linear
// between.
#pragma once

#include <vector>

#include "model/loop/loop.h"
#include "model/weather/weather.h"

namespace leat::model {

/// What the air, the sky and the sun do at one instant.
struct Surroundings {
  Temperature<> air;
  Pressure<> vapour;
  Velocity<> wind;          ///< at the rims of the vessels
  Flux<> sun;               ///< global, on the level
  Flux<> sun_on_walls;      ///< mean over the four sides
  Flux<> sky;               ///< long-wave from above
  Velocity<> reference_et;  ///< depth per time of the reference crop
  Velocity<> rain;
  Temperature<> ground;  ///< 1.5 m out, on the year's wave
};

class Forcing {
 public:
  Forcing(const Site& site, const Weather& weather);
  Surroundings at(Instant t) const;
  Instant start() const { return start_; }
  Instant end() const { return {start_.seconds + 3600.0 * static_cast<double>(hours_.size() - 1)}; }
  Pressure<> pressure;  ///< of the air

 private:
  Instant start_;
  std::vector<Surroundings> hours_;
};

}  // namespace leat::model
