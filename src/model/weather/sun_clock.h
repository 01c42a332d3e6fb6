// Whether the clock of a file of hourly sun is right: the middle of a clear day's sun must lie at solar noon.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/weather/hours.h"

namespace leat::model {

/// Sun at hours from `start`; nothing where it was not measured.
struct HourlySun {
  Instant start;
  std::vector<std::optional<double>> watts;

  /// Linear between hours; nothing where an hour that is needed was not measured.
  std::optional<double> at(Instant t) const;
};

/// The sun of one solar day that was measured through.
struct MeasuredSunDay {
  SunFrame frame;
  Flux<> mean;                  ///< of 24 h
  Duration<> off_noon;          ///< middle of the radiation less solar noon
  std::size_t middle_hour = 0;  ///< index of the hour at its noon
};
std::vector<MeasuredSunDay> measured_sun_days(const HourlySun& sun, const Place& place);

inline constexpr Duration<> noon_off_allowed{0.15 * 3600.0};
inline constexpr Duration<> noon_off_movable{0.75 * 3600.0};

/// How far the sun of a file lies off solar noon: the median of the clear days (above 0.75 of a cloudless one); of all
/// days where there are at least ten and none is clear. Nothing where that cannot be told.
struct NoonOff {
  Duration<> off;
  std::size_t days = 0;
  bool clear = true;
};
std::optional<NoonOff> noon_off(const std::vector<MeasuredSunDay>& days);

}  // namespace leat::model
