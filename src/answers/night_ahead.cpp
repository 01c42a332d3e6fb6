#include "answers/night_ahead.h"

#include <algorithm>
#include <cmath>

#include "model/weather/hours.h"
#include "science/gas/oxygen_saturation.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;

/// From hourly values, the first of them at midnight before the evening.
TankNight night_of(const VesselAhead& v, double sunset, double sunrise, Length<> altitude) {
  TankNight t{v.path, 0.0, 1e9, 0.0, 0.0, 0.0, 1e9};
  const auto at_hour = [&](double hour) {
    const double place = std::clamp(hour, 0.0, static_cast<double>(v.hourly_oxygen.size() - 1));
    const auto h = std::min(static_cast<std::size_t>(place), v.hourly_oxygen.size() - 2);
    const double share = place - static_cast<double>(h);
    return v.hourly_oxygen[h] * (1.0 - share) + v.hourly_oxygen[h + 1] * share;
  };
  t.dusk = at_hour(sunset);
  t.dawn = at_hour(24.0 + sunrise);
  for (auto h = static_cast<std::size_t>(std::ceil(sunset)); h <= static_cast<std::size_t>(25.0 + sunrise); ++h) {
    if (h >= v.hourly_oxygen.size()) break;
    t.coldest = std::min(t.coldest, v.hourly_temperature[h]);
    if (v.hourly_oxygen[h] >= t.lowest) continue;
    t.lowest = v.hourly_oxygen[h];
    t.lowest_hour = static_cast<double>(h);
    const auto water = Temperature<>::from_kelvin(v.hourly_temperature[h]);
    t.saturation = science::oxygen_saturation(water, science::air_pressure_standard_atmosphere(altitude)).si();
  }
  return t;
}

}  // namespace

NightAheadAnswer night_ahead(const Loop& loop, const Weather& weather, CivilDate evening) {
  NightAheadAnswer a;
  a.loop_name = loop.name;
  a.date = evening;
  a.low = loop.limits.oxygen_low;
  const Clock& clock = loop.site.place.clock;
  a.sunset_hour = clock.local(sun_frame(loop.site.place, evening).sunset).hour;
  a.sunrise_hour = clock.local(sun_frame(loop.site.place, evening.plus_days(1)).sunrise).hour;
  const AheadAnswer days = ahead(loop, weather, {evening, 2, false});
  a.assumptions = days.assumptions;
  if (!days.finished || days.dates.empty()) {
    a.said = days.said;
    return a;
  }
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank && !days.vessels[v].dry)
      a.tanks.push_back(night_of(days.vessels[v], a.sunset_hour, a.sunrise_hour, loop.site.place.altitude));
  std::stable_sort(a.tanks.begin(), a.tanks.end(),
                   [](const TankNight& x, const TankNight& y) { return x.lowest < y.lowest; });
  if (a.tanks.empty())
    a.said = "there is no fish tank with water in it";
  else
    a.verdict = verdict_of(a.tanks.front().lowest - a.low.si(), 1.0 / 31.998);
  return a;
}

}  // namespace leat::answers
