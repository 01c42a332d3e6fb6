#include "science/light/solar_radiation.h"

#include <algorithm>
#include <cmath>

namespace leat::science {
namespace {

constexpr double kPi = std::numbers::pi;

double year_angle(int day_of_year) {
  return 2.0 * kPi * day_of_year / 365.0;
}

double collares_pereira_rabl_shape(double w, double ws) {
  const double s = std::sin(ws - kPi / 3.0);
  const double a = 0.409 + 0.5016 * s, b = 0.6609 - 0.4767 * s;
  return (a + b * std::cos(w)) * (std::cos(w) - std::cos(ws));
}

/// What of a step of the day lies in daylight: up to two pieces, since a step over midnight of a polar day has sun at
/// both ends.
template <class Each>
void for_sunlit_pieces(double middle, double half, double ws, const Each& each) {
  middle = std::remainder(middle, 2.0 * kPi);
  for (const double turn : {-2.0 * kPi, 0.0, 2.0 * kPi}) {
    const double low = std::max(middle + turn - half, -ws), high = std::min(middle + turn + half, ws);
    if (high > low) each(low, high);
  }
}

/// Integral by the five-point rule of Gauss.
double integral_of_shape(double low, double high, double ws) {
  constexpr double x[] = {0.0, 0.5384693101056831, 0.9061798459386640};
  constexpr double weight[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
  const double centre = 0.5 * (low + high), half = 0.5 * (high - low);
  double sum = weight[0] * collares_pereira_rabl_shape(centre, ws);
  for (int i = 1; i < 3; ++i)
    for (const double side : {-1.0, 1.0})
      sum += weight[i] * collares_pereira_rabl_shape(centre + side * half * x[i], ws);
  return sum * half;
}

double mean_over_step(double from, double step, double ws) {
  double sum = 0.0;
  for_sunlit_pieces(from + 0.5 * step, 0.5 * step, ws,
                    [&](double low, double high) { sum += integral_of_shape(low, high, ws); });
  return sum / step;
}

}  // namespace

SunOfDay sun_of_day_fao(int day_of_year) {
  const double turn = year_angle(day_of_year);
  return {Angle::from_radians(0.409 * std::sin(turn - 1.39)), 1.0 + 0.033 * std::cos(turn)};
}

SunOfDay sun_of_day(JulianDate noon) {
  const SunEphemeris sun = sun_ephemeris(noon);
  return {sun.declination, sun.inverse_square_distance};
}

Flux<> extraterrestrial_radiation_day(Angle latitude, SunOfDay sun, Flux<> solar_constant) {
  const double phi = latitude.radians(), dec = sun.declination.radians();
  const double ws = sunset_hour_angle(latitude, sun.declination).radians();
  const double sum = ws * std::sin(phi) * std::sin(dec) + std::cos(phi) * std::cos(dec) * std::sin(ws);
  return std::max(0.0, sun.inverse_square_distance / kPi * sum) * solar_constant;
}

Flux<> extraterrestrial_radiation_between(Angle latitude, SunOfDay sun, Angle from, Angle to, Flux<> solar_constant) {
  const double phi = latitude.radians(), dec = sun.declination.radians();
  const double ws = sunset_hour_angle(latitude, sun.declination).radians();
  const double middle = 0.5 * (from + to).radians(), half = 0.5 * (to - from).radians();
  double sum = 0.0;
  for_sunlit_pieces(middle, half, ws, [&](double w1, double w2) {
    sum += (w2 - w1) * std::sin(phi) * std::sin(dec) + std::cos(phi) * std::cos(dec) * (std::sin(w2) - std::sin(w1));
  });
  return std::max(0.0, sun.inverse_square_distance * sum / (2.0 * half)) * solar_constant;
}

Duration<> seasonal_time_correction_fao(int day_of_year) {
  const double b = 2.0 * kPi * (day_of_year - 81) / 364.0;
  return (0.1645 * std::sin(2.0 * b) - 0.1255 * std::cos(b) - 0.025 * std::sin(b)) * units::hour;
}

Angle hour_angle_fao(int day_of_year, Duration<> clock, Angle zone_meridian, Angle longitude) {
  const double t_h = clock.in(units::hour) + (longitude - zone_meridian).degrees() / 15.0 +
                     seasonal_time_correction_fao(day_of_year).in(units::hour);
  return Angle::from_radians(kPi / 12.0 * (t_h - 12.0));
}

Flux<> clear_sky_radiation_simple(Flux<> outside, Length<> altitude) {
  return (0.75 + 2e-5 * altitude.si()) * outside;
}

Flux<> clear_sky_radiation_haurwitz(Angle elevation) {
  const double cz = std::sin(elevation.radians());
  return Flux<>(cz > 0.0 ? 1098.0 * cz * std::exp(-0.059 / cz) : 0.0);
}

Flux<> radiation_hargreaves(TemperatureDifference<> span, Flux<> outside, double k) {
  return k * std::sqrt(std::max(0.0, span.si())) * outside;
}

Flux<> radiation_angstrom(Duration<> sunshine, Duration<> day, Flux<> outside, double a, double b) {
  const double share = day.si() > 0.0 ? sunshine.si() / day.si() : 0.0;
  return (a + b * share) * outside;
}

double hourly_share_collares_pereira_rabl(Angle hour_angle, Angle sunset) {
  const double w = std::remainder(hour_angle.radians(), 2.0 * kPi), ws = sunset.radians();
  if (std::abs(w) >= ws) return 0.0;
  return kPi / 24.0 * collares_pereira_rabl_shape(w, ws) / (std::sin(ws) - ws * std::cos(ws));
}

double hourly_share_liu_jordan(Angle hour_angle, Angle sunset) {
  const double w = std::remainder(hour_angle.radians(), 2.0 * kPi), ws = sunset.radians();
  if (std::abs(w) >= ws) return 0.0;
  return kPi / 24.0 * (std::cos(w) - std::cos(ws)) / (std::sin(ws) - ws * std::cos(ws));
}

std::vector<double> shares_of_hours(std::span<const Angle> step_begins, Angle step, Angle sunset) {
  std::vector<double> shares;
  double sum = 0.0;
  for (const Angle begin : step_begins) {
    shares.push_back(mean_over_step(begin.radians(), step.radians(), sunset.radians()));
    sum += shares.back();
  }
  for (double& share : shares) share = sum > 0.0 ? share / sum : 0.0;
  return shares;
}

double diffuse_fraction_erbs(double clearness) {
  const double kt = std::max(0.0, clearness);
  if (kt <= 0.22) return 1.0 - 0.09 * kt;
  if (kt <= 0.80) return 0.9511 + kt * (-0.1604 + kt * (4.388 + kt * (-16.638 + kt * 12.336)));
  return 0.165;
}

Flux<> ground_reflected_on_plane(Flux<> global, Angle tilt, double albedo) {
  return albedo * 0.5 * (1.0 - std::cos(tilt.radians())) * global;
}

Flux<> sky_diffuse_on_plane(Flux<> diffuse, Angle tilt) {
  return 0.5 * (1.0 + std::cos(tilt.radians())) * diffuse;
}

Flux<> beam_normal(GlobalAndDiffuse sun, Angle elevation, Angle least_elevation) {
  const double beam = std::max(0.0, (sun.global - sun.diffuse).si());
  return Flux<>(beam / std::sin(std::max(elevation, least_elevation).radians()));
}

Flux<> irradiance_on_plane(GlobalAndDiffuse sun, const SunDirection& direction, const Plane& plane, double albedo) {
  const double el = direction.elevation.radians(), tilt = plane.tilt.radians();
  const double turn = (direction.azimuth - plane.azimuth).radians();
  const double incidence = std::sin(el) * std::cos(tilt) + std::cos(el) * std::sin(tilt) * std::cos(turn);
  return std::max(0.0, incidence) * beam_normal(sun, direction.elevation) +
         sky_diffuse_on_plane(sun.diffuse, plane.tilt) + ground_reflected_on_plane(sun.global, plane.tilt, albedo);
}

Flux<> irradiance_on_upright_ring(GlobalAndDiffuse sun, Angle elevation, double albedo) {
  const Angle upright = Angle::from_degrees(90.0);
  return std::cos(elevation.radians()) / kPi * beam_normal(sun, elevation) +
         sky_diffuse_on_plane(sun.diffuse, upright) + ground_reflected_on_plane(sun.global, upright, albedo);
}

}  // namespace leat::science
