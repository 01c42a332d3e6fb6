// The place, its clock and its ground, and the constants of the hydraulics.
#include <cmath>

#include "model/loop/make.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using namespace units;

constexpr int kAnyYear = 2026;        // standard time hardly ever changes
constexpr double kFarthestClock = 4;  // h; no zone's clock is farther from its sun

/// Hours from the sun at a longitude to a clock's standard time, at most 12 either way.
double hours_off_sun(const Clock& clock, double longitude_deg) {
  return std::remainder(clock.standard_offset_hours(kAnyYear) - longitude_deg / 15.0, 24.0);
}

void set_latitude(Filling& fill, const Component& c, Place& place) {
  const Said* side = c.find("hemisphere");
  const bool south = side && side->text == "south";
  place.latitude_deg =
      fill.number(c, "latitude", south ? -52.0 : 52.0, "not said; it sets the sun and the seasons, so say it");
  if (side && !south && place.latitude_deg < 0.0)
    fill.complain(c, "hemisphere",
                  "\"north\" does not fit the latitude, which is negative and so lies south; keep one of the two");
  if (south) place.latitude_deg = -std::abs(place.latitude_deg);
}

/// The clock that a zone names, if there is such a zone.
std::optional<Clock> said_clock(Filling& fill, const Component& c) {
  const Said* zone = c.find("time_zone");
  if (!zone) return std::nullopt;
  const auto clock = Clock::named(zone->text);
  if (const auto* good = std::get_if<Clock>(&clock)) return *good;
  fill.complain(c, "time_zone", fmt::format("{} {}", quoted(zone->text), std::get<Unreadable>(clock).wrong));
  return std::nullopt;
}

/// Whether a clock belongs to a place on Earth; "UTC" or "+01:00" may be a logger's.
bool has_place(const Clock& clock) {
  return clock.name().find('/') != std::string::npos && !clock.name().starts_with("Etc/");
}

/// A clock far from its own sun comes from a longitude with the wrong sign, or the zone of another place.
void check_longitude(Filling& fill, const Component& c, const Clock& clock, double longitude_deg) {
  const double off = hours_off_sun(clock, longitude_deg);
  if (!has_place(clock) || std::abs(off) <= kFarthestClock) return;
  const bool sign = std::abs(hours_off_sun(clock, -longitude_deg)) <= kFarthestClock;
  fill.complain(c, "longitude",
                fmt::format("{} is {:.0f} hours of sun away from the clock of {}; {}", Filling::written(c, "longitude"),
                            std::abs(off), clock.name(),
                            sign ? fmt::format("east is positive and west negative, so write {}", -longitude_deg)
                                 : "correct the one that is wrong"));
}

void set_longitude_and_clock(Filling& fill, const Component& c, Place& place) {
  const auto clock = said_clock(fill, c);
  const double noon = clock ? 15.0 * clock->standard_offset_hours(kAnyYear) : 0.0;
  place.longitude_deg =
      fill.number(c, "longitude", noon,
                  clock ? "not said; the meridian of the time zone, where the sun's noon is the clock's in winter"
                        : "not said; the sun's noon is taken as the clock's");
  if (clock) {
    place.clock = *clock;
    if (Filling::has(c, "longitude")) check_longitude(fill, c, *clock, place.longitude_deg);
    return;
  }
  const double hours = std::round(place.longitude_deg / 15.0);
  place.clock = Clock::fixed(hours, fmt::format("UTC{:+.0f}", hours));
  if (!Filling::has(c, "time_zone"))
    fill.assume(c, "time_zone", place.clock.name(), "from the longitude; a zone name brings summer time");
}

void set_laws(Filling& fill, const Component& c, Laws& laws) {
  laws.gravity = fill.take<dim::acceleration>(c, "gravity", laws.gravity, "9.80665 m/s2", "standard");
  laws.viscosity = fill.take<dim::kinematic_viscosity>(c, "viscosity", laws.viscosity, "1.3e-6 m2/s",
                                                       "fresh water at 10 degC (IAPWS)");
  laws.density = fill.take<dim::density>(c, "density", laws.density, "999.7 kg/m3", "fresh water at 10 degC");
  laws.roughness = fill.take<dim::length>(c, "roughness", laws.roughness, "0.0015 mm",
                                          "smooth plastic; slime makes it 0.03 to 0.15 mm");
}

}  // namespace

const Component& part_or_empty(const Filling& fill, std::string_view kind) {
  static const std::map<std::string, Component, std::less<>> empties = [] {
    std::map<std::string, Component, std::less<>> all;
    for (const words::Kind& k : words::kinds()) all[std::string(k.name)] = Component{std::string(k.name), "", 0, 0, {}};
    return all;
  }();
  const Component* found = fill.description().find(kind);
  return found ? *found : empties.at(std::string(kind));
}

void make_site(Filling& fill, Loop& loop) {
  const Component& c = part_or_empty(fill, "place");
  Place& place = loop.site.place;
  set_latitude(fill, c, place);
  place.altitude =
      fill.take<dim::length>(c, "altitude", 50.0 * metre, "50 m", "not said; it sets how much oxygen water can hold");
  set_longitude_and_clock(fill, c, place);
  loop.site.wind_shelter =
      fill.number(c, "wind_shelter", 0.5, "a yard has 0.3 to 0.6 of open-ground wind (common practice, no source)");
  loop.site.ground = fill.temperature(
      c, "ground_temperature", std::round(zonal_air(place).mean.celsius() * 2.0) / 2.0,
      "the air's mean of the year, from latitude and altitude alone; may be 3 to 5 K off (common practice, no source)");
  set_laws(fill, part_or_empty(fill, "laws"), loop.laws);
  const Component& prices = part_or_empty(fill, "prices");
  const auto price = [&](std::string_view key) {
    const Said* said = prices.find(key);
    return said ? std::optional(said->number) : std::nullopt;
  };
  loop.prices = {Filling::written(prices, "currency"), price("energy"), price("water"), price("feed")};
}

}  // namespace leat::model
