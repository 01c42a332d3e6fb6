// Air temperature within the day from the day's extremes.
#pragma once

#include "base/units/quantity.h"

namespace leat::science {

/// Constants of the curve at a height.
struct PartonLogan {
  double lag_of_high;  ///< a, hours: how far the day's crest lags noon
  double night_decay;  ///< b
  double lag_of_low;   ///< c, hours after sunrise
};
inline constexpr PartonLogan parton_logan_air{1.86, 2.20, -0.17};          // 1.5 m
inline constexpr PartonLogan parton_logan_near_ground{1.52, 2.00, -0.18};  // 0.1 m
inline constexpr PartonLogan parton_logan_soil_surface{0.50, 1.81, 0.49};

/// What the curve passes through, times in hours by one clock. `sunset_before` lies before `sunrise` (negative if the
/// clock starts at midnight), `sunrise_after` after `sunset` (above 24). Days shorter than 4 h or longer than 20 h,
/// polar ones too, are taken as 4 and 20 h around the same noon.
struct DiurnalDay {
  Temperature<> low_before, high_before;  ///< of the day before; only its evening is used
  Temperature<> low, high;                ///< of this day
  Temperature<> low_after;                ///< of the next morning
  Duration<> sunrise_before, sunset_before, sunrise, sunset, sunrise_after;
};

/// Air temperature of an hour: a sine by day, an exponential fall by night from the value at sunset to the next low.
///
///   day    T = Tmin + (Tmax - Tmin) sin(pi m / (Y + 2a)),   m = hours since sunrise + c, Y = hours of day
///   night  T = Tss + (Tn - Tss) (1 - exp(-b n/Z)) / (1 - exp(-b)),   n = hours since sunset, Z = hours of night
///
/// The night is scaled so as to end at the next low Tn, so the curve has no jump; the night before ends at this day's
/// low.
///
/// clock    from `sunset_before` to `sunrise_after`
/// error    hourly rms 1.2 to 2.1 K over a year (range of the day 9 to 17 K) with the unscaled night
/// source   Parton and Logan 1981; the scaling as in Goudriaan and van Laar 1994
Temperature<> air_temperature_parton_logan(const DiurnalDay& given, Duration<> clock,
                                           const PartonLogan& constants = parton_logan_air);

}  // namespace leat::science
