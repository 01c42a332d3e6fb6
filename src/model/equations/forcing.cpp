#include "model/equations/forcing.h"

#include <algorithm>
#include <cmath>

#include "science/heat/ground.h"
#include "science/heat/longwave.h"
#include "science/heat/reference_evapotranspiration.h"
#include "science/heat/vapour.h"
#include "science/light/solar_radiation.h"
#include "science/light/sun_position.h"

namespace leat::model {
namespace {

/// Reference evapotranspiration of the moment; dew is left out.
Velocity<> reference_et(const Surroundings<>& s, double cloud, Pressure<> pressure) {
  const Flux<> net =
      science::net_shortwave(s.sun) - science::net_longwave_fao_hour(s.air, s.vapour, Number<>(1.0 - 0.7 * cloud));
  const Flux<> ground = net * (s.sun.si() > 5.0 ? 0.1 : 0.5);
  const science::GrassWeather grass{s.air, science::saturation_vapour_pressure(s.air), s.vapour, pressure, s.wind, net,
                                    ground};
  return std::max(science::reference_et_hour(grass), Velocity<>(0.0));
}

/// The ground 1.5 m from the vessels: the year's wave of the air about the stated mean. South of the equator it is
/// coldest half a year later.
Temperature<> ground_at(const Site& site, Instant t) {
  science::GroundYear year{site.ground, zonal_air(site.place).half_swing};
  if (site.place.latitude_deg < 0.0) year.coldest += 182.0 * units::day;
  const CivilDate date = site.place.clock.local(t).date;
  return science::ground_temperature_kusuda(
      year, Length<>(1.5), static_cast<double>(date.day_of_year() - 1) * units::day, science::soil_default);
}

Surroundings<> surroundings(const Site& site, const Air& air, Instant t, Pressure<> pressure) {
  using science::Angle;
  const science::SunPlace place{Angle::from_degrees(site.place.latitude_deg),
                                Angle::from_degrees(site.place.longitude_deg)};
  const science::SunDirection sun = science::sun_direction(science::JulianDate::from_unix_seconds(t.seconds), place);
  Surroundings<> s;
  s.air = air.temperature;
  s.vapour = science::vapour_pressure_capped(air.vapour_pressure, air.temperature);
  s.wind = air.wind * site.wind_shelter;
  s.sun = air.sun;
  s.sun_on_walls = science::irradiance_on_upright_ring({air.sun, air.diffuse}, sun.elevation);
  s.sky = science::sky_longwave(air.temperature, s.vapour, Number<>(air.cloud), site.place.altitude);
  s.reference_et = reference_et(s, air.cloud, pressure);
  s.rain = air.rain;
  s.ground = ground_at(site, t);
  return s;
}

}  // namespace

void give_slopes(std::vector<Hour<>>& hours) {
  for (std::size_t h = 0; h < hours.size(); ++h)
    for (std::size_t i = 0; i < hours[h].value.size(); ++i) {
      const auto change = [&](std::size_t from) { return hours[from + 1].value[i] - hours[from].value[i]; };
      const double before = change(h > 0 ? h - 1 : 0), after = change(h + 1 < hours.size() ? h : h - 1);
      hours[h].slope[i] = before * after > 0.0 ? 2.0 * before * after / (before + after) : 0.0;
    }
}

Forcing::Forcing(const Site& site, const Weather& weather)
    : pressure(science::air_pressure_from_elevation(site.place.altitude)), start_(weather.start) {
  for (std::size_t h = 0; h < weather.airs.size(); ++h)
    hours_.push_back(
        {numbers_of(surroundings(site, weather.airs[h], {start_.seconds + 3600.0 * static_cast<double>(h)}, pressure)),
         {}});
  give_slopes(hours_);
}

Surroundings<> Forcing::at(Instant t) const {
  const double hours = std::clamp((t.seconds - start_.seconds) / 3600.0, 0.0, static_cast<double>(hours_.size() - 1));
  const std::size_t h = std::min(static_cast<std::size_t>(hours), hours_.size() - 2);
  const double share = hours - static_cast<double>(h);
  return between(hours_[h], hours_[h + 1], share);
}

}  // namespace leat::model
