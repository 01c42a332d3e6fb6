#include "model/weather/hours.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "science/heat/diurnal_air_temperature.h"
#include "science/heat/wind.h"

namespace leat::model {
namespace {

using science::Angle;
using science::JulianDate;

Instant instant_of(JulianDate t) {
  return {t.unix_seconds()};
}

Duration<> since(Instant from, Instant t) {
  return (t.seconds - from.seconds) * units::second;
}

Instant hour_of(Instant start, std::size_t i) {
  return {start.seconds + 3600.0 * static_cast<double>(i)};
}

/// Times of a day's curve, counted from twelve hours before its noon.
science::DiurnalDay curve_of(const FullDay& before, const FullDay& day, const FullDay& after) {
  const auto clock = [&](Instant t) { return since(day.frame.noon, t) + 12.0 * units::hour; };
  science::DiurnalDay curve{before.low,
                            before.high,
                            day.low,
                            day.high,
                            after.low,
                            clock(before.frame.sunrise),
                            clock(before.frame.sunset),
                            clock(day.frame.sunrise),
                            clock(day.frame.sunset),
                            clock(after.frame.sunrise)};
  if (&before == &day) {
    curve.sunrise_before -= units::day;
    curve.sunset_before -= units::day;
  }
  if (&after == &day) curve.sunrise_after += units::day;
  return curve;
}

void fill_air(std::span<const FullDay> days, std::size_t i, Instant first, std::span<Air> airs) {
  const FullDay& day = days[i];
  const auto curve = curve_of(days[i > 0 ? i - 1 : 0], day, days[std::min(i + 1, days.size() - 1)]);
  for (std::size_t k = 0; k < airs.size(); ++k) {
    const Duration<> solar_clock = since(day.frame.noon, hour_of(first, k)) + 12.0 * units::hour;
    Air& air = airs[k];
    air.temperature = science::air_temperature_parton_logan(curve, solar_clock);
    air.vapour_pressure = science::vapour_pressure_capped(day.vapour, air.temperature);
    air.wind = science::wind_of_hour_factor(solar_clock).si() * day.wind;
    air.rain = day.rain / units::day;
    air.cloud = day.cloud;
  }
}

/// Shares the sun of a day out over its hours. A run that begins or ends within the day still needs the whole day's
/// shares.
void fill_sun(const FullDay& day, Instant first, std::span<Air> airs) {
  const Angle hour = Angle::from_degrees(15.0);
  const double ahead = std::ceil((day.frame.noon.seconds - first.seconds) / 3600.0 - 12.0);
  std::array<Angle, 24> begins;
  for (std::size_t k = 0; k < 24; ++k)
    begins[k] = hour_angle(day.frame, {first.seconds + 3600.0 * (ahead + static_cast<double>(k))}) - 0.5 * hour;
  const std::vector<double> shares = science::shares_of_hours(begins, hour, day.frame.sunset_angle);
  for (std::size_t k = 0; k < airs.size(); ++k) {
    const double hour_of_day = std::clamp(static_cast<double>(k) - ahead, 0.0, 23.0);
    airs[k].sun = 24.0 * shares[static_cast<std::size_t>(hour_of_day)] * day.sun;
  }
}

}  // namespace

SunFrame sun_frame(const Place& place, CivilDate date) {
  const science::SunPlace where{Angle::from_degrees(place.latitude_deg), Angle::from_degrees(place.longitude_deg)};
  const Instant midday = place.clock.instant({date, 12.0});
  const science::SunDay day = science::sun_day(JulianDate::from_unix_seconds(midday.seconds), where);
  SunFrame frame{
      instant_of(day.sunrise), instant_of(day.noon), instant_of(day.sunset), science::sun_of_day(day.noon), {}, {}, {}};
  frame.sunset_angle = science::sunset_hour_angle(where.latitude, frame.sun.declination);
  frame.outside = science::extraterrestrial_radiation_day(where.latitude, frame.sun);
  frame.clear = science::clear_sky_radiation_simple(frame.outside, place.altitude);
  return frame;
}

Angle hour_angle(const SunFrame& frame, Instant t) {
  return Angle::from_degrees((t.seconds - frame.noon.seconds) / 240.0);
}

std::size_t NoonWalk::nearest(Instant t) {
  const auto away = [&](std::size_t i) { return std::abs(days_[i].frame.noon.seconds - t.seconds); };
  while (at_ + 1 < days_.size() && away(at_ + 1) <= away(at_)) ++at_;
  return at_;
}

std::vector<Air> hours_of_days(std::span<const FullDay> days, Instant start, std::size_t count) {
  std::vector<Air> airs(count);
  NoonWalk walk(days);
  for (std::size_t begin = 0, end = 0; begin < count; begin = end) {
    const std::size_t day = walk.nearest(hour_of(start, begin));
    while (end < count && walk.nearest(hour_of(start, end)) == day) ++end;
    const std::span<Air> hours = std::span(airs).subspan(begin, end - begin);
    fill_air(days, day, hour_of(start, begin), hours);
    fill_sun(days[day], hour_of(start, begin), hours);
  }
  return airs;
}

void split_sun(const Place& place, const SunFrame& frame, Instant t, Air& air) {
  air.diffuse = air.sun;
  if (!(air.sun.si() > 0.0)) return;
  const Angle half = Angle::from_degrees(7.5), w = hour_angle(frame, t);
  const Flux<> outside = science::extraterrestrial_radiation_between(Angle::from_degrees(place.latitude_deg), frame.sun,
                                                                     w - half, w + half);
  if (outside.si() > 0.0) air.diffuse = science::diffuse_fraction_erbs((air.sun / outside).si()) * air.sun;
}

}  // namespace leat::model
