#include "science/light/sun_position.h"

#include <algorithm>
#include <cmath>

namespace leat::science {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kFullTurn = 2.0 * kPi;

/// The same angle within -pi and pi.
double wrapped(double radians) {
  return std::remainder(radians, kFullTurn);
}

double degrees_of_line(double at_epoch, double per_day, double n) {
  return Angle::from_degrees(std::fmod(at_epoch + per_day * n, 360.0)).radians();
}

/// The solar noon nearest to a moment.
JulianDate nearest_noon(JulianDate near, Angle longitude) {
  for (int i = 0; i < 3; ++i) near.days -= sun_hour_angle(near, longitude).radians() / kFullTurn;
  return near;
}

/// Sunset (side = 1) or sunrise (side = -1) beside a noon.
JulianDate event_beside(JulianDate noon, const SunPlace& place, Angle zenith, double side) {
  JulianDate at = noon;
  for (int i = 0; i < 6; ++i) {
    const double wanted = side * sunset_hour_angle(place.latitude, sun_ephemeris(at).declination, zenith).radians();
    const double turned = (at.days - noon.days) * kFullTurn;
    const double drift = wrapped(sun_hour_angle(at, place.longitude).radians() - turned);
    at.days = noon.days + (wanted - drift) / kFullTurn;
  }
  return at;
}

}  // namespace

JulianDate julian_date(int year, int month, int day, Duration<> time_of_day) {
  const int a = (14 - month) / 12;
  const int y = year + 4800 - a;
  const int m = month + 12 * a - 3;
  const int at_noon = day + (153 * m + 2) / 5 + 365 * y + y / 4 - y / 100 + y / 400 - 32045;
  return {at_noon - 0.5 + time_of_day.in(units::day)};
}

int day_of_year(int year, int month, int day) {
  const double days = julian_date(year, month, day, {}).days - julian_date(year, 1, 1, {}).days;
  return static_cast<int>(std::lround(days)) + 1;
}

SunEphemeris sun_ephemeris(JulianDate utc) {
  const double n = utc.days - 2451545.0;
  const double mean_longitude = degrees_of_line(280.460, 0.9856474, n);
  const double g = degrees_of_line(357.528, 0.9856003, n);
  const double lambda = mean_longitude + Angle::from_degrees(1.915 * std::sin(g) + 0.020 * std::sin(2.0 * g)).radians();
  const double eps = Angle::from_degrees(23.439 - 4e-7 * n).radians();
  const double ascension = std::atan2(std::cos(eps) * std::sin(lambda), std::cos(lambda));
  const double r = 1.00014 - 0.01671 * std::cos(g) - 0.00014 * std::cos(2.0 * g);
  const double eot_min = 4.0 * Angle::from_radians(wrapped(mean_longitude - ascension)).degrees();
  return {Angle::from_radians(std::asin(std::sin(eps) * std::sin(lambda))), eot_min * units::minute, 1.0 / (r * r)};
}

Angle sun_hour_angle(JulianDate utc, Angle longitude) {
  const double eot_days = sun_ephemeris(utc).equation_of_time.in(units::day);
  // A Julian day begins at noon, when the mean sun crosses the meridian of Greenwich.
  const double turns = std::fmod(utc.days, 1.0) + eot_days;
  return Angle::from_radians(wrapped(turns * kFullTurn + longitude.radians()));
}

SunDirection sun_direction(Angle latitude, Angle declination, Angle hour_angle) {
  const double sp = std::sin(latitude.radians()), cp = std::cos(latitude.radians());
  const double sd = std::sin(declination.radians()), cd = std::cos(declination.radians());
  const double sh = std::sin(hour_angle.radians()), ch = std::cos(hour_angle.radians());
  const double elevation = std::asin(std::clamp(sp * sd + cp * cd * ch, -1.0, 1.0));
  const double azimuth = std::atan2(-sh * cd, sd * cp - cd * sp * ch);
  return {Angle::from_radians(elevation), Angle::from_radians(azimuth < 0.0 ? azimuth + kFullTurn : azimuth)};
}

SunDirection sun_direction(JulianDate utc, const SunPlace& place) {
  return sun_direction(place.latitude, sun_ephemeris(utc).declination, sun_hour_angle(utc, place.longitude));
}

Angle sunset_hour_angle(Angle latitude, Angle declination, Angle zenith) {
  const double cosine = (std::cos(zenith.radians()) - std::sin(latitude.radians()) * std::sin(declination.radians())) /
                        (std::cos(latitude.radians()) * std::cos(declination.radians()));
  return Angle::from_radians(std::acos(std::clamp(cosine, -1.0, 1.0)));
}

Duration<> day_length(Angle latitude, Angle declination, Angle zenith) {
  return 24.0 / kPi * sunset_hour_angle(latitude, declination, zenith).radians() * units::hour;
}

SunDay sun_day(JulianDate near, const SunPlace& place, Angle zenith) {
  const JulianDate noon = nearest_noon(near, place.longitude);
  const double ws = sunset_hour_angle(place.latitude, sun_ephemeris(noon).declination, zenith).radians();
  if (ws >= kPi) return {SunDay::Kind::polar_day, {noon.days - 0.5}, noon, {noon.days + 0.5}};
  if (ws <= 0.0) return {SunDay::Kind::polar_night, noon, noon, noon};
  return {SunDay::Kind::rises_and_sets, event_beside(noon, place, zenith, -1.0), noon,
          event_beside(noon, place, zenith, 1.0)};
}

}  // namespace leat::science
