#include "science/heat/diurnal_air_temperature.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leat::science {
namespace {

struct Sine {
  Temperature<> low, high;
  Duration<> sunrise, sunset;

  Temperature<> at(Duration<> clock, const PartonLogan& c) const {
    const double day_h = (sunset - sunrise).in(units::hour);
    const double since_low_h = (clock - sunrise).in(units::hour)-c.lag_of_low;
    const double angle = std::numbers::pi * since_low_h / (day_h + 2.0 * c.lag_of_high);
    return low + std::sin(std::clamp(angle, 0.0, std::numbers::pi)) * (high - low);
  }
};

struct Fall {
  Temperature<> start, end;
  Duration<> sunset, low_time;

  Temperature<> at(Duration<> clock, const PartonLogan& c) const {
    const double length = (low_time - sunset).si();
    const double share = length > 0.0 ? std::clamp((clock - sunset).si() / length, 0.0, 1.0) : 1.0;
    const double fallen = (1.0 - std::exp(-c.night_decay * share)) / (1.0 - std::exp(-c.night_decay));
    return start + fallen * (end - start);
  }
};

/// Days of 4 to 20 hours: near the poles the curve would lose its day or its night, which air does not quite.
void hold_length(Duration<>& sunrise, Duration<>& sunset) {
  const Duration<> middle = 0.5 * (sunrise + sunset);
  const Duration<> half = std::clamp(0.5 * (sunset - sunrise), 2.0 * units::hour, 10.0 * units::hour);
  sunrise = middle - half;
  sunset = middle + half;
}

DiurnalDay with_day_and_night(DiurnalDay day) {
  Duration<> sunset_after = day.sunset + units::day;
  hold_length(day.sunrise_before, day.sunset_before);
  hold_length(day.sunrise, day.sunset);
  hold_length(day.sunrise_after, sunset_after);
  return day;
}

}  // namespace

Temperature<> air_temperature_parton_logan(const DiurnalDay& given, Duration<> clock, const PartonLogan& constants) {
  const DiurnalDay day = with_day_and_night(given);
  const Duration<> lag = constants.lag_of_low * units::hour;
  const Sine today{day.low, day.high, day.sunrise, day.sunset};
  if (clock < day.sunrise + lag) {
    const Sine before{day.low_before, day.high_before, day.sunrise_before, day.sunset_before};
    const Fall night{before.at(day.sunset_before, constants), day.low, day.sunset_before, day.sunrise + lag};
    return night.at(clock, constants);
  }
  if (clock <= day.sunset) return today.at(clock, constants);
  return Fall{today.at(day.sunset, constants), day.low_after, day.sunset, day.sunrise_after + lag}.at(clock, constants);
}

}  // namespace leat::science
