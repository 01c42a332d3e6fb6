// Where the sun stands, by the low-precision formulae of the Astronomical Almanac. Latitude is north positive,
// longitude east positive, azimuth clockwise from north. Time is universal time throughout: clocks and zones stay
// outside.
#pragma once

#include "base/units/quantity.h"
#include "science/light/angle.h"

namespace leat::science {

/// A moment in universal time, in days of 86400 s since noon of 1 January 4713 BC.
struct JulianDate {
  double days = 2451545.0;
  static constexpr JulianDate from_unix_seconds(double seconds) { return {seconds / 86400.0 + 2440587.5}; }
  constexpr double unix_seconds() const { return (days - 2440587.5) * 86400.0; }
  constexpr JulianDate plus(Duration<> d) const { return {days + d.in(units::day)}; }
};

/// Of a day of the Gregorian calendar at a time of day in universal time.
JulianDate julian_date(int year, int month, int day, Duration<> time_of_day);
/// Number of the day in its year, 1 to 366.
int day_of_year(int year, int month, int day);

struct SunPlace {
  Angle latitude;   ///< north positive
  Angle longitude;  ///< east positive
};

struct SunEphemeris {
  Angle declination;
  Duration<> equation_of_time;           ///< sundial minus clock: true less mean solar time
  double inverse_square_distance = 1.0;  ///< (1 au / r)^2
};

/// Declination, equation of time and distance of the sun.
///
///   n = JD - 2451545;  L = 280.460 + 0.9856474 n;  g = 357.528 + 0.9856003 n          degrees
///   lambda = L + 1.915 sin g + 0.020 sin 2g;  eps = 23.439 - 4e-7 n
///   sin dec = sin eps sin lambda;  tan RA = cos eps tan lambda;  EoT = 4 (L - RA) min
///   r = 1.00014 - 0.01671 cos g - 0.00014 cos 2g                                        au
///
/// utc      moment                        1950 to 2050
/// returns  declination, equation of time, inverse square of the distance
/// error    0.01 degree; 0.1 min
/// beyond   drifts slowly
/// source   Astronomical Almanac, low precision formulae for the sun
SunEphemeris sun_ephemeris(JulianDate utc);

/// Hour angle of the sun, -180 to 180 degrees: 0 when it crosses the meridian, positive after.
Angle sun_hour_angle(JulianDate utc, Angle longitude);

struct SunDirection {
  Angle elevation;  ///< above the horizon, without refraction
  Angle azimuth;    ///< clockwise from north, 0 to 360 degrees
};

/// Elevation and azimuth from declination and hour angle; one form for both hemispheres and the tropics.
///
///   sin el = sin phi sin dec + cos phi cos dec cos ha
///   azimuth = atan2(-sin ha cos dec, sin dec cos phi - cos dec sin phi cos ha)
SunDirection sun_direction(Angle latitude, Angle declination, Angle hour_angle);
SunDirection sun_direction(JulianDate utc, const SunPlace& place);

/// Zenith distance of the sun's centre when its upper edge is seen on the horizon: half a disc and refraction.
inline constexpr Angle zenith_of_sunrise = Angle::from_degrees(90.833);
inline constexpr Angle zenith_geometric = Angle::from_degrees(90.0);

/// Hour angle of sunset: pi in polar day, 0 in polar night.
///
///   cos ws = (cos z - sin phi sin dec) / (cos phi cos dec)
Angle sunset_hour_angle(Angle latitude, Angle declination, Angle zenith = zenith_geometric);

/// Time between sunrise and sunset for a fixed declination: 24/pi ws hours.
Duration<> day_length(Angle latitude, Angle declination, Angle zenith = zenith_geometric);

/// One day of the sun: the noon nearest to a moment, with the sunrise before and the sunset after it. Where the sun
/// does not set, sunrise and sunset are half a day from noon; where it does not rise, both fall on noon.
struct SunDay {
  enum class Kind { rises_and_sets, polar_day, polar_night };
  Kind kind = Kind::rises_and_sets;
  JulianDate sunrise, noon, sunset;
  Duration<> length() const { return (sunset.days - sunrise.days) * units::day; }
};

/// The day whose solar noon is nearest to `near`; give the local clock's 12:00 of the date that is meant.
/// error    within 2 s of an accurate ephemeris away from the polar circles
/// source   Astronomical Almanac, iterated to the sun's declination at the event
SunDay sun_day(JulianDate near, const SunPlace& place, Angle zenith = zenith_of_sunrise);

}  // namespace leat::science
