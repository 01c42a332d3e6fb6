// Short-wave radiation outside the air, of the day and the hour, and its share that is diffuse. All fluxes are means
// over the time that is named: a day's mean of 231.5 W/m2 is 20 MJ/m2.
#pragma once

#include <span>
#include <vector>

#include "base/units/quantity.h"
#include "science/light/sun_position.h"

namespace leat::science {

inline constexpr Flux<> megajoule_per_square_metre_day{1e6 / 86400.0};
inline constexpr Flux<> megajoule_per_square_metre_hour{1e6 / 3600.0};
/// 0.0820 MJ/m2/min, as in FAO-56; with it the coefficients of the day relations below were fitted.
inline constexpr Flux<> solar_constant_fao{0.0820e6 / 60.0};
inline constexpr Flux<> solar_constant_modern{1361.0};

/// What a day's radiation needs to know of the sun.
struct SunOfDay {
  Angle declination;
  double inverse_square_distance = 1.0;
};

/// Of a number of the day, by the cosine series of FAO-56. Up to 1.3 degrees off in declination; use it for FAO tables.
///
///   dec = 0.409 sin(2 pi J/365 - 1.39),   dr = 1 + 0.033 cos(2 pi J/365)
/// source   FAO-56 equations 23 and 24
SunOfDay sun_of_day_fao(int day_of_year);
/// Of a moment near noon, by the Almanac.
SunOfDay sun_of_day(JulianDate noon);

/// Radiation on the level outside the air, mean of 24 hours.
///
///   Ra = S dr / pi (ws sin phi sin dec + cos phi cos dec sin ws)
///
/// latitude any; polar day and night included
/// returns  W/m2
/// source   FAO-56 equation 21
Flux<> extraterrestrial_radiation_day(Angle latitude, SunOfDay sun, Flux<> solar_constant = solar_constant_fao);

/// The same between two hour angles, mean over that time; the part below the horizon counts as dark.
///
///   Ra = S dr / (w2 - w1) ((w2' - w1') sin phi sin dec + cos phi cos dec (sin w2' - sin w1'))     w' held within +-ws
/// source   FAO-56 equation 28
Flux<> extraterrestrial_radiation_between(Angle latitude, SunOfDay sun, Angle from, Angle to,
                                          Flux<> solar_constant = solar_constant_fao);

/// Sun's time less mean time, FAO-56 equations 32 and 33.
Duration<> seasonal_time_correction_fao(int day_of_year);

/// Hour angle at a clock time, FAO-56 equation 31, longitudes EAST positive.
Angle hour_angle_fao(int day_of_year, Duration<> clock, Angle zone_meridian, Angle longitude);

/// Radiation of a cloudless day: (0.75 + 2e-5 z) Ra, z in m.
/// source   FAO-56 equation 37
Flux<> clear_sky_radiation_simple(Flux<> outside, Length<> altitude);

/// Radiation of a cloudless moment: 1098 cos z exp(-0.059 / cos z), 0 below the horizon.
/// source   Haurwitz 1945
Flux<> clear_sky_radiation_haurwitz(Angle elevation);

/// Radiation of a day from the span of its air temperature: k sqrt(Tmax - Tmin) Ra. Cap it with the clear sky's.
///
/// k        0.16 inland, 0.19 at a coast, K^-0.5
/// error    rmse 3 to 4 MJ/m2 of a day
/// source   FAO-56 equation 50
Flux<> radiation_hargreaves(TemperatureDifference<> span, Flux<> outside, double k = 0.16);

/// Radiation of a day from hours of sunshine: (a + b n/N) Ra.
/// source   FAO-56 equation 35
Flux<> radiation_angstrom(Duration<> sunshine, Duration<> day, Flux<> outside, double a = 0.25, double b = 0.50);

/// Radiation at an hour angle as a share of the day's sum, per hour.
///
///   r = pi/24 (a + b cos w)(cos w - cos ws) / (sin ws - ws cos ws)
///   a = 0.409 + 0.5016 sin(ws - 60 deg),  b = 0.6609 - 0.4767 sin(ws - 60 deg)
///
/// error    hours sum to 1 within 2 %; use `shares_of_hours` where the sum must be 1
/// source   Collares-Pereira and Rabl 1979; remembered
double hourly_share_collares_pereira_rabl(Angle hour_angle, Angle sunset);
/// The diffuse part likewise, a = 1 and b = 0.
/// source   Liu and Jordan 1960
double hourly_share_liu_jordan(Angle hour_angle, Angle sunset);

/// Shares of the day for equal steps that begin at given hour angles, each the mean over its step (so that a sunrise
/// within a step counts rightly), scaled to sum 1 over steps that make up a whole day. All 0 in polar night.
std::vector<double> shares_of_hours(std::span<const Angle> step_begins, Angle step, Angle sunset);

/// Diffuse share of global radiation from the clearness of the hour.
///
///   kt <= 0.22   1 - 0.09 kt
///   kt <= 0.80   0.9511 - 0.1604 kt + 4.388 kt^2 - 16.638 kt^3 + 12.336 kt^4
///   above        0.165
///
/// clearness  global over extraterrestrial, on the level   0 to 1
/// source   Erbs, Klein and Duffie 1982
double diffuse_fraction_erbs(double clearness);

/// Global radiation and its diffuse part, on the level.
struct GlobalAndDiffuse {
  Flux<> global, diffuse;
};

/// A plane: 0 lies level, 90 degrees stands; the azimuth it faces, clockwise from north.
struct Plane {
  Angle tilt, azimuth;
};

/// Ground-reflected: albedo GHI (1 - cos tilt)/2.
Flux<> ground_reflected_on_plane(Flux<> global, Angle tilt, double albedo);
/// From an even sky: DHI (1 + cos tilt)/2.
/// source   Liu and Jordan 1963
Flux<> sky_diffuse_on_plane(Flux<> diffuse, Angle tilt);
/// Beam on a surface square to it. Below `least_elevation` the little that is left is spread as if the sun stood there,
/// so that the division stays bounded.
Flux<> beam_normal(GlobalAndDiffuse sun, Angle elevation, Angle least_elevation = Angle::from_degrees(3.0));

/// Everything that falls on a plane: beam, even sky, ground.
Flux<> irradiance_on_plane(GlobalAndDiffuse sun, const SunDirection& direction, const Plane& plane,
                           double albedo = 0.2);

/// Mean over upright walls that face all ways alike (a round tank, or a box of unknown turn): the beam meets them with
/// cos(el)/pi of its strength.
Flux<> irradiance_on_upright_ring(GlobalAndDiffuse sun, Angle elevation, double albedo = 0.2);

}  // namespace leat::science
