#include <cmath>
#include <string>

#include "science/heat/entry_help.h"

namespace leat::science::heat_entry {
namespace {

const InputRow kLatitude{"latitude", "deg", -90, 90, "north positive"};
const InputRow kLongitude{"longitude", "deg", -180, 180, "east positive"};

JulianDate day_start(const Given& g) {
  const int year = static_cast<int>(g.get("year", 2001));
  if (g.has("day_of_year")) return julian_date(year, 1, 1, (g("day_of_year") - 1.0) * units::day);
  return julian_date(year, static_cast<int>(g("month")), static_cast<int>(g.get("day", 15)), {});
}

JulianDate moment(const Given& g) {
  const double utc_h = g.has("universal_time") ? g("universal_time") : g("clock") - g.get("utc_offset", 0.0);
  return day_start(g).plus(utc_h * units::hour);
}

SunPlace place(const Given& g) {
  return {degrees(g, "latitude"), degrees(g, "longitude")};
}

SunDay clock_day(const Given& g) {
  const double noon_utc_h = 12.0 - g("utc_offset");
  return sun_day(day_start(g).plus(noon_utc_h * units::hour), place(g), degrees(g, "zenith"));
}

/// Hours of the local clock since the start of the date that was asked for.
double clock_hours(const Given& g, JulianDate at) {
  return 24.0 * (at.days - day_start(g).days) + g("utc_offset");
}

std::vector<InputRow> moment_rows() {
  return rows(
      {day_rows(),
       {kLongitude, maybe({"universal_time", "h", 0, 24, "of the day"}), maybe({"clock", "h", 0, 24, "local time"}),
        maybe({"utc_offset", "h", -12, 14, "of the local clock"})}});
}

std::vector<InputRow> clock_rows() {
  return rows({day_rows(),
               {kLongitude,
                {"utc_offset", "h", -12, 14, "of the local clock"},
                assume({"zenith", "deg", 85, 110, "of the sun's centre at sunrise"}, 90.833)}});
}

/// Longitude, east positive, of a text such as "105 deg W"; without a letter it counts west, as FAO-56 and ASCE do.
Angle longitude_counted_west(const Given& g, std::string_view name) {
  std::string text(g.word(name));
  double sign = -1.0;
  if (text.ends_with('E')) sign = 1.0;
  while (!text.empty() && (text.back() == 'W' || text.back() == 'E' || text.back() == ' ')) text.pop_back();
  return Angle::from_degrees(sign * si_of(text, "deg", name));
}

/// Day lengths of the days asked for: one, or the mean over a month.
double mean_day_length_h(const Given& g) {
  const SunPlace at{degrees(g, "latitude"), {}};
  const Angle zenith = degrees(g, "zenith");
  const auto length_h = [&](JulianDate day) {
    return sun_day(day.plus(12.0 * units::hour), at, zenith).length().in(units::hour);
  };
  if (g.has("day") || g.has("day_of_year")) return length_h(day_start(g));
  const int year = static_cast<int>(g.get("year", 2001)), month = static_cast<int>(g("month"));
  const JulianDate first = julian_date(year, month, 1, {});
  const JulianDate end = month == 12 ? julian_date(year + 1, 1, 1, {}) : julian_date(year, month + 1, 1, {});
  double sum = 0.0, n = 0.0;
  for (JulianDate day = first; day.days < end.days - 0.5; day.days += 1.0, n += 1.0) sum += length_h(day);
  return sum / n;
}

std::vector<Entry> position_entries() {
  return {
      {"sun_elevation",
       "height of the sun above the horizon, without refraction",
       moment_rows(),
       {{"elevation", "deg", [](const Given& g) { return sun_direction(moment(g), place(g)).elevation.degrees(); }}},
       "Astronomical Almanac"},
      {"sun_azimuth",
       "direction of the sun, clockwise from north",
       moment_rows(),
       {{"azimuth", "deg", [](const Given& g) { return sun_direction(moment(g), place(g)).azimuth.degrees(); }}},
       "Astronomical Almanac"},
      {"sun_declination",
       "declination of the sun",
       moment_rows(),
       {{"declination", "deg", [](const Given& g) { return sun_ephemeris(moment(g)).declination.degrees(); }}},
       "Astronomical Almanac"},
      {"equation_of_time",
       "sundial less clock",
       moment_rows(),
       {{"equation_of_time", "min",
         [](const Given& g) { return sun_ephemeris(moment(g)).equation_of_time.in(units::minute); }}},
       "Astronomical Almanac"},
      {"sunrise_clock_time",
       "local clock at sunrise",
       clock_rows(),
       {{"sunrise", "h", [](const Given& g) { return clock_hours(g, clock_day(g).sunrise); }}},
       "Astronomical Almanac"},
      {"noon_clock_time",
       "local clock when the sun stands highest",
       clock_rows(),
       {{"noon", "h", [](const Given& g) { return clock_hours(g, clock_day(g).noon); }}},
       "Astronomical Almanac"},
      {"sunset_clock_time",
       "local clock at sunset",
       clock_rows(),
       {{"sunset", "h", [](const Given& g) { return clock_hours(g, clock_day(g).sunset); }}},
       "Astronomical Almanac"},
      {"daylength_with_refraction",
       "time between sunrise and sunset as seen; of a month, the mean of its days",
       rows({day_rows(), {assume({"zenith", "deg", 85, 110, "of the sun's centre at sunrise"}, 90.833)}}),
       {{"day_length", "h", mean_day_length_h}},
       "Astronomical Almanac"},
  };
}

std::vector<Entry> series_entries() {
  return {
      {"degrees_to_radians",
       "an angle in radians",
       {{"latitude", "deg", -360, 360, "angle"}},
       {{"angle", "rad", [](const Given& g) { return degrees(g, "latitude").radians(); }}},
       "definition"},
      {"inverse_relative_sun_distance",
       "inverse square of the sun's distance, by FAO-56",
       day_rows(),
       {{"inverse_distance", "-",
         [](const Given& g) { return sun_of_day_fao(day_number(g)).inverse_square_distance; }}},
       "FAO-56 equation 23"},
      {"solar_declination_fao",
       "declination of the sun, by FAO-56",
       day_rows(),
       {{"declination", "rad", [](const Given& g) { return sun_of_day_fao(day_number(g)).declination.radians(); }}},
       "FAO-56 equation 24"},
      {"sunset_hour_angle",
       "hour angle of sunset",
       rows({day_rows(), {maybe({"declination", "rad", -0.41, 0.41, "of the sun"})}}),
       {{"sunset_angle", "rad",
         [](const Given& g) { return day_length_of(g).in(units::hour)*std::numbers::pi / 24.0; }}},
       "FAO-56 equation 25"},
      {"daylength_geometric",
       "time between the sun's centre crossing the horizon",
       rows({day_rows(),
             {maybe({"declination", "rad", -0.41, 0.41, "of the sun"}),
              maybe({"sunset_angle", "rad", 0, 3.1416, "hour angle of sunset"})}}),
       {{"day_length", "h", [](const Given& g) { return day_length_of(g).in(units::hour); }}},
       "FAO-56 equation 34"},
      {"seasonal_time_correction",
       "sun's time less mean time, by FAO-56",
       day_rows(),
       {{"correction", "h",
         [](const Given& g) { return seasonal_time_correction_fao(day_number(g)).in(units::hour); }}},
       "FAO-56 equation 32"},
      {"hour_angle_mid",
       "hour angle at a clock time, by FAO-56",
       rows({day_rows(),
             {{"clock", "h", 0, 24, "standard time at the middle of the step"},
              {"zone_meridian", "", 0, 0, "longitude of the zone, W or E; bare means west"},
              {"longitude_west", "", 0, 0, "longitude of the place, W or E; bare means west"}}}),
       {{"hour_angle", "rad",
         [](const Given& g) {
           return hour_angle_fao(day_number(g), g("clock") * units::hour, longitude_counted_west(g, "zone_meridian"),
                                 longitude_counted_west(g, "longitude_west"))
               .radians();
         }}},
       "FAO-56 equation 31"},
  };
}

double outside_hour_mj(const Given& g) {
  const double length_h = g("step");
  const double middle_h = g.has("hour_end") ? g("hour_end") - 0.5 * length_h : g("clock");
  const Angle middle = hour_angle_fao(day_number(g), middle_h * units::hour, longitude_counted_west(g, "zone_meridian"),
                                      longitude_counted_west(g, "longitude_west"));
  const Angle half = Angle::from_radians(std::numbers::pi / 24.0 * length_h);
  const Flux<> mean = extraterrestrial_radiation_between(degrees(g, "latitude"), sun_of_day_fao(day_number(g)),
                                                         middle - half, middle + half);
  return mean.in(megajoule_per_square_metre_hour);
}

std::vector<Entry> outside_entries() {
  return {
      {"extraterrestrial_radiation_day",
       "radiation on the level outside the air, of a day",
       day_rows(),
       {{"extraterrestrial_radiation", "MJ m-2 d-1",
         [](const Given& g) { return outside_of(g).in(megajoule_per_square_metre_day); }}},
       "FAO-56 equation 21"},
      {"extraterrestrial_radiation_hour",
       "radiation on the level outside the air, of an hour",
       rows({day_rows(),
             {maybe({"hour_end", "h", 0, 24, "standard time at the end of the step"}),
              maybe({"clock", "h", 0, 24, "standard time at the middle of the step"}),
              assume({"step", "h", 0.05, 1, "length of the step"}, 1.0),
              {"zone_meridian", "", 0, 0, "longitude of the zone, W or E; bare means west"},
              {"longitude_west", "", 0, 0, "longitude of the place, W or E; bare means west"}}}),
       {{"extraterrestrial_radiation", "MJ m-2 h-1", outside_hour_mj}},
       "FAO-56 equation 28"},
  };
}

}  // namespace

std::vector<Entry> sun_entries() {
  std::vector<Entry> all = position_entries();
  for (auto& group : {series_entries(), outside_entries()}) all.insert(all.end(), group.begin(), group.end());
  return all;
}

}  // namespace leat::science::heat_entry
