// From what is known of whole days to the air of each hour.
#pragma once

#include <span>
#include <vector>

#include "model/weather/weather.h"
#include "science/heat/vapour.h"
#include "science/light/solar_radiation.h"

namespace leat::model {

/// The most sun a day can have, over what falls outside the air.
inline constexpr double most_sun = 0.85;

/// The sun of one date: the day around the solar noon that is nearest to the clock's.
struct SunFrame {
  Instant sunrise, noon, sunset;  ///< by the upper edge, as seen
  science::SunOfDay sun;
  science::Angle sunset_angle;  ///< geometric
  Flux<> outside, clear;        ///< means of 24 h: outside the air, and below a cloudless sky
};
SunFrame sun_frame(const Place& place, CivilDate date);

/// Angle of the sun past its noon, by the frame's noon: 15 degrees an hour.
science::Angle hour_angle(const SunFrame& frame, Instant t);

/// One day with nothing left open.
struct FullDay {
  SunFrame frame;
  Temperature<> low, high;
  Pressure<> vapour;  ///< held over the day, capped at saturation
  Velocity<> wind;    ///< mean
  Length<> rain;
  Flux<> sun;  ///< mean of 24 h
  double cloud = 0.0;
};

/// Air at `count` hours from `start`. The days follow each other; each takes the hours that lie nearest to its noon,
/// and those before and after the hours give the last evening and the next morning. The sun of the hours of a day sums
/// to the day's, with straight lines between them; the diffuse part is not filled.
std::vector<Air> hours_of_days(std::span<const FullDay> days, Instant start, std::size_t count);

/// Index of the day whose noon is nearest, for times that never go back between calls.
class NoonWalk {
  std::span<const FullDay> days_;
  std::size_t at_ = 0;

 public:
  explicit NoonWalk(std::span<const FullDay> days) : days_(days) {}
  std::size_t nearest(Instant t);
};

/// Fills the diffuse part of the sun of an hour from its clearness.
void split_sun(const Place& place, const SunFrame& frame, Instant t, Air& air);

/// Linear mixture of two airs.
Air between(const Air& a, const Air& b, double share);

}  // namespace leat::model
