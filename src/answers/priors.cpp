#include "answers/priors.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "model/weather/random.h"
#include "science/heat/walls.h"
#include "science/statistics/special_functions.h"

namespace leat::answers {
namespace {

using namespace model;

bool was_assumed(const Loop& loop, std::string_view path) {
  return std::any_of(loop.assumptions.begin(), loop.assumptions.end(),
                     [&](const Assumption& a) { return a.path == path; });
}

bool has_fish(const Loop& loop, const Weather&) {
  return !loop.fish.empty();
}

bool has_film(const Loop& loop, const Weather&) {
  return std::any_of(loop.vessels.begin(), loop.vessels.end(), [](const Vessel& v) { return v.film_area.si() > 0.0; });
}
void change_film(double z, Loop& loop, Weather&) {
  for (Vessel& v : loop.vessels) v.film_area = std::exp(0.6 * z) * v.film_area;
}

bool sun_was_assumed(const Loop& loop, const Weather&) {
  return std::any_of(loop.vessels.begin(), loop.vessels.end(),
                     [&](const Vessel& v) { return was_assumed(loop, v.path + ".sun_through_wall"); });
}
/// 5 % lie below the least share and 5 % above the largest that were found; half below the middle one.
void change_sun(double z, Loop& loop, Weather&) {
  constexpr double least = science::sun_share_clear_polyethylene_low, middle = science::sun_share_clear_polyethylene,
                   most = science::sun_share_clear_polyethylene_high, at_end = 1.645;
  const double share = std::clamp(middle + z / at_end * (z < 0.0 ? middle - least : most - middle), 0.05, 0.95);
  for (Vessel& v : loop.vessels)
    if (was_assumed(loop, v.path + ".sun_through_wall")) v.sun_through_wall = share;
}

bool wind_was_assumed(const Loop& loop, const Weather&) {
  return was_assumed(loop, "site.wind_shelter") || was_assumed(loop, "place.wind_shelter");
}
void change_wind(double z, Loop& loop, Weather&) {
  loop.site.wind_shelter *= std::exp(0.25 * z);
}

void change_reaeration(double z, Loop& loop, Weather&) {
  loop.unsure.reaeration *= std::exp(0.3 * z);
}

bool air_was_assumed(const Loop& loop, const Weather&) {
  return std::any_of(loop.airs.begin(), loop.airs.end(),
                     [&](const AirLine& a) { return was_assumed(loop, a.path + ".transfer"); });
}
void change_air(double z, Loop& loop, Weather&) {
  for (AirLine& a : loop.airs)
    if (was_assumed(loop, a.path + ".transfer")) a.transfer_per_metre *= std::exp(0.35 * z);
}

void change_breath(double z, Loop& loop, Weather&) {
  for (FishGroup& g : loop.fish) g.respiration *= std::exp(0.2 * z);
}

void change_growth(double z, Loop& loop, Weather&) {
  for (FishGroup& g : loop.fish) g.growth *= std::exp(0.22 * z);
}

bool always(const Loop&, const Weather&) {
  return true;
}
void change_algae(double z, Loop& loop, Weather&) {
  loop.unsure.algae *= std::exp(0.4 * z);
}

bool has_gravel(const Loop& loop, const Weather&) {
  return std::any_of(loop.vessels.begin(), loop.vessels.end(),
                     [](const Vessel& v) { return v.kind == VesselKind::gravel_bed || v.sludge.si() > 0.0; });
}
void change_denitrification(double z, Loop& loop, Weather&) {
  loop.unsure.denitrification *= std::exp(0.67 * z);
}

bool nobody_measured(const WeatherDay& day) {
  return day.source == DaySource::forecast || day.source == DaySource::generated;
}
bool days_are_unmeasured(const Loop&, const Weather& weather) {
  return std::any_of(weather.days.begin(), weather.days.end(), nobody_measured);
}

/// Calls see(air, day) for every hour of a day that nobody measured.
template <class See>
void each_unmeasured_hour(const Loop& loop, Weather& weather, See&& see) {
  for (std::size_t h = 0; h < weather.airs.size(); ++h) {
    const CivilDate date = loop.site.place.clock.local({weather.start.seconds + 3600.0 * static_cast<double>(h)}).date;
    const auto day =
        std::find_if(weather.days.begin(), weather.days.end(), [&](const WeatherDay& d) { return d.date == date; });
    if (day != weather.days.end() && nobody_measured(*day)) see(weather.airs[h], *day);
  }
}
void change_warmth(double z, Loop& loop, Weather& weather) {
  each_unmeasured_hour(loop, weather, [&](Air& air, const WeatherDay& day) {
    const double spread = day.source == DaySource::forecast ? 1.5 : 2.5;
    air.temperature = air.temperature + TemperatureDifference<>(spread * z);
  });
}
void change_sky(double z, Loop& loop, Weather& weather) {
  each_unmeasured_hour(loop, weather, [&](Air& air, const WeatherDay&) {
    const double share = std::min(std::exp(0.2 * z), 1.25);  // a clear noon has no more
    air.sun = share * air.sun;
    air.diffuse = share * air.diffuse;
  });
}

constexpr Prior kPriors[] = {
    {"what the film does", "a factor of 1.8 (log-spread 0.6)",
     "rates of grown films as published differ that much (common practice, no source)", has_film, change_film},
    {"the sun through clear walls", "0.4 to 0.8",
     "no measurement exists: bounds from films and cans, and the swing of tanks", sun_was_assumed, change_sun},
    {"the wind in the yard", "30 %", "a yard has 0.3 to 0.6 of open-ground wind (common practice, no source)",
     wind_was_assumed, change_wind},
    {"gas through the surface", "a third (log-spread 0.3)",
     "transfer against wind differs that much from pond to pond (common practice, no source)", always,
     change_reaeration},
    {"what the air stones bring", "40 % (log-spread 0.35)",
     "coarse stones give 1 to 2 % a metre, fine ones 3 to 6 (common practice, no source)", air_was_assumed, change_air},
    {"the fish's breath", "20 %", "common practice, no source", has_fish, change_breath},
    {"the fish's growth", "a quarter", "thermal-unit coefficients of trout as seen on farms: 1.0 to 2.3 about 1.74",
     has_fish, change_growth},
    {"how fast algae grow", "half (log-spread 0.4)", "common practice, no source", always, change_algae},
    {"nitrate that gravel turns to gas", "a factor of two (log-spread 0.67)",
     "0.05 to 0.5 g/m2/d as N (common practice, no source)", has_gravel, change_denitrification},
    {"the air of days nobody measured", "1.5 K typed, 2.5 K generated; the same shift on all days",
     "common practice, no source", days_are_unmeasured, change_warmth},
    {"the sky of days nobody measured", "a fifth of the sun", "common practice, no source", days_are_unmeasured,
     change_sky},
};

}  // namespace

std::vector<Prior> priors_of(const Loop& loop, const Weather& weather) {
  std::vector<Prior> all;
  for (std::size_t i = 0; i < std::size(kPriors); ++i)
    if (kPriors[i].matters(loop, weather)) {
      all.push_back(kPriors[i]);
      all.back().column = i;
    }
  return all;
}

std::size_t things_not_known() {
  return std::size(kPriors);
}

std::vector<std::vector<double>> stratified_draws(std::size_t members, std::size_t count, std::uint64_t seed) {
  std::vector<std::vector<double>> draws(members, std::vector<double>(count));
  Random random(seed);
  std::vector<std::size_t> order(members);
  for (std::size_t thing = 0; thing < count; ++thing) {
    for (std::size_t m = 0; m < members; ++m) order[m] = m;
    for (std::size_t m = members; m > 1; --m)
      std::swap(order[m - 1], order[static_cast<std::size_t>(random.uniform() * static_cast<double>(m))]);
    for (std::size_t m = 0; m < members; ++m) {
      const double place = (static_cast<double>(order[m]) + random.uniform()) / static_cast<double>(members);
      draws[m][thing] = science::normal_quantile(place);
    }
  }
  return draws;
}

}  // namespace leat::answers
