// The weather as the equations want it: what does not depend on the water is worked out once an hour, and runs smoothly
// between.
#pragma once

#include <array>
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

/// One hour: its surroundings as numbers, in SI and in the order of the struct, and how they change an hour there.
template <class C = double>
struct Hour {
  std::array<C, 9> value, slope;
};

inline std::array<double, 9> numbers_of(const Surroundings<>& s) {
  return {s.air.kelvin(), s.vapour.si(),       s.wind.si(), s.sun.si(),       s.sun_on_walls.si(),
          s.sky.si(),     s.reference_et.si(), s.rain.si(), s.ground.kelvin()};
}

/// A share of an hour after `a`, on the cubics that meet the values and slopes of both.
template <class C>
Surroundings<C> between(const Hour<C>& a, const Hour<C>& b, double share) {
  const double r = 1.0 - share;
  const double of_b = share * share * (3.0 - 2.0 * share), of_slope_a = share * r * r, of_slope_b = -share * share * r;
  std::array<C, 9> x;
  for (std::size_t i = 0; i < x.size(); ++i)
    x[i] = a.value[i] + of_b * (b.value[i] - a.value[i]) + of_slope_a * a.slope[i] + of_slope_b * b.slope[i];
  return {Temperature<C>::from_kelvin(x[0]),
          Pressure<C>(x[1]),
          Velocity<C>(x[2]),
          Flux<C>(x[3]),
          Flux<C>(x[4]),
          Flux<C>(x[5]),
          Velocity<C>(x[6]),
          Velocity<C>(x[7]),
          Temperature<C>::from_kelvin(x[8])};
}

/// Slopes so that no number ever leaves the range of the two hours it is between, and that what falls or shines in all
/// is what straight lines would give: the harmonic mean of the changes before and after, 0 at a peak.
/// source   Fritsch and Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci.
///          Stat. Comput. 5 (1984)
void give_slopes(std::vector<Hour<>>& hours);

class Forcing {
 public:
  Forcing(const Site& site, const Weather& weather);
  Surroundings<> at(Instant t) const;
  /// One a whole hour, the first at `start`.
  const std::vector<Hour<>>& hours() const { return hours_; }
  Instant start() const { return start_; }
  Instant end() const { return {start_.seconds + 3600.0 * static_cast<double>(hours_.size() - 1)}; }
  Pressure<> pressure;  ///< of the air

 private:
  Instant start_;
  std::vector<Hour<>> hours_;
};

}  // namespace leat::model
