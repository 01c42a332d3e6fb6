#include "answers/priors.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "model/weather/random.h"
#include "science/heat/walls.h"
#include "science/statistics/ranks.h"
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

bool temperature_was_assumed(const Loop& loop, const Weather&) {
  return !loop.water.temperature_said;
}
void change_temperature(double z, Loop& loop, Weather&) {
  const double warmer = loop.water.temperature.celsius() + 1.5 * z;
  loop.water.temperature = Temperature<>::from_celsius(std::clamp(warmer, 0.1, 35.0));
}

void change_weight(double z, Loop& loop, Weather&) {
  for (FishGroup& g : loop.fish) g.mass = std::exp(0.1 * z) * g.mass;
}

void nothing(double, Loop&, Weather&) {}

/// Both ends as `kSurfaceSpread` has them.
void change_still_surface(double z, BesideLoop& beside) {
  beside.still_surface = std::exp(0.42 * z);
}
void change_meal(double z, BesideLoop& beside) {
  beside.meal = std::exp(0.25 * z);
}
void change_oxygen_at_start(double z, BesideLoop& beside) {
  beside.oxygen_at_start = z;
}
void change_oxygen_back(double z, BesideLoop& beside) {
  beside.oxygen_back = z;
}
void change_flow(double z, BesideLoop& beside) {
  beside.flow = std::exp(0.1 * z);
}

constexpr unsigned kRuns = asked::days | asked::months, kAll = kRuns | asked::still_tank | asked::stock;

/// New ones go to the end: what is drawn of those before them stays.
constexpr Prior kPriors[] = {
    {"what the film does", "a factor of 1.8 (log-spread 0.6)",
     "rates of grown films as published differ that much (common practice, no source)", kRuns | asked::stock, has_film,
     change_film},
    {"the sun through clear walls", "0.4 to 0.8",
     "no measurement exists: bounds from films and cans, and the swing of tanks", kRuns | asked::stock, sun_was_assumed,
     change_sun},
    {"the wind in the yard", "30 %", "a yard has 0.3 to 0.6 of open-ground wind (common practice, no source)",
     kRuns | asked::stock, wind_was_assumed, change_wind},
    {"gas through the surface", "a third (log-spread 0.3)",
     "transfer against wind differs that much from pond to pond (common practice, no source)", kRuns, always,
     change_reaeration},
    {"what the air stones bring", "40 % (log-spread 0.35)",
     "coarse stones give 1 to 2 % a metre, fine ones 3 to 6 (common practice, no source)", kAll, air_was_assumed,
     change_air},
    {"the fish's breath", "20 %", "common practice, no source", kAll, has_fish, change_breath},
    {"the fish's growth", "a quarter", "thermal-unit coefficients of trout as seen on farms: 1.0 to 2.3 about 1.74",
     kRuns | asked::stock, has_fish, change_growth},
    {"how fast algae grow", "half (log-spread 0.4)", "common practice, no source", kRuns, always, change_algae},
    {"nitrate that gravel turns to gas", "a factor of two (log-spread 0.67)",
     "0.05 to 0.5 g/m2/d as N (common practice, no source)", kRuns, has_gravel, change_denitrification},
    {"the air of days nobody measured", "1.5 K typed, 2.5 K generated; the same shift on all days",
     "common practice, no source", asked::days, days_are_unmeasured, change_warmth},
    {"the sky of days nobody measured", "a fifth of the sun", "common practice, no source", asked::days,
     days_are_unmeasured, change_sky},
    {"how heavy the fish are", "a tenth", "weighed by a sample, or guessed (common practice, no source)",
     kRuns | asked::still_tank, has_fish, change_weight},
    {"the water's temperature at the start", "1.5 K", "nobody measured it (common practice, no source)",
     asked::days | asked::still_tank, temperature_was_assumed, change_temperature},
    {"gas through the surface of still water", "half to double (log-spread 0.42)",
     "common practice; 0.02 m/h in a calm by Cole & Caraco 1998, from memory", asked::still_tank, has_fish, nothing,
     change_still_surface},
    {"what a meal, a fright or a fast does to breath", "frightened fish 1.5 to 2.4 times the usual, fed 1.25 to 1.65",
     "handled or chased fish take 30 to 100 % more (common practice)", asked::still_tank, has_fish, nothing,
     change_meal},
    {"oxygen when the flow stops", "6 % of saturation where it is assumed, 0.5 mg/L where it was read",
     "what kits are good for, and what running tanks hold (common practice, no source)", asked::still_tank, has_fish,
     nothing, change_oxygen_at_start},
    {"how full of oxygen the water comes back", "4 % of saturation about 95", "common practice, no source",
     asked::stock, always, nothing, change_oxygen_back},
    {"what pumps and pipes still bring", "a tenth; one number for all, as they foul together",
     "common practice, no source", asked::stock, always, nothing, change_flow},
};

/// Things that are not drawn apart. What one number changes in several places (all tanks' fish breathe by one draw, a
/// film's breath goes with what it nitrifies, the wind cools, dries and stirs) needs no row.
struct Pair {
  const char *one, *other;
  double correlation;
  const char* why;
};
constexpr Pair kPairs[] = {
    {"the wind in the yard", "gas through the surface", 0.3,
     "a yard more open than was taken has more gusts as well, which stir more than their mean (judgement)"},
    {"gas through the surface", "gas through the surface of still water", 0.5,
     "the same surface with its films and fetch (judgement)"},
    {"what the film does", "nitrate that gravel turns to gas", 0.3,
     "a thick film on much wetted stone does more of both (judgement)"},
    {"the fish's breath", "the fish's growth", 0.4,
     "fish that eat and grow more burn more for it (common practice, no source)"},
    {"the air of days nobody measured", "the sky of days nobody measured", 0.3,
     "sunny days are warm ones from spring to autumn; in winter there is little of it (common practice, no source)"},
    {"oxygen when the flow stops", "how full of oxygen the water comes back", 0.6,
     "both are of the same water that runs round (judgement)"},
};

std::size_t column_of(std::string_view name) {
  std::size_t column = 0;
  while (kPriors[column].name != name) ++column;  // a name that is nowhere is a mistake of ours: see the test of pairs
  return column;
}

}  // namespace

std::vector<Prior> priors_of(const Loop& loop, const Weather& weather, unsigned question) {
  std::vector<Prior> all;
  for (std::size_t i = 0; i < std::size(kPriors); ++i)
    if ((kPriors[i].asked & question) != 0 && kPriors[i].matters(loop, weather)) {
      all.push_back(kPriors[i]);
      all.back().column = i;
    }
  return all;
}

std::vector<DrawnTogether> drawn_together(const std::vector<Prior>& priors) {
  const auto is_drawn = [&](std::string_view name) {
    return std::any_of(priors.begin(), priors.end(), [&](const Prior& p) { return p.name == name; });
  };
  std::vector<DrawnTogether> all;
  for (const Pair& p : kPairs)
    if (is_drawn(p.one) && is_drawn(p.other)) all.push_back({p.one, p.other, p.correlation, p.why});
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

std::vector<std::vector<double>> draws_of_priors(std::size_t members, std::uint64_t seed) {
  auto draws = stratified_draws(members, things_not_known(), seed);
  std::vector<science::RankPair> wanted;
  for (const Pair& p : kPairs) wanted.push_back({column_of(p.one), column_of(p.other), p.correlation});
  science::correlate_by_rank(draws, wanted);
  return draws;
}

void apply_draws(const std::vector<Prior>& priors, const std::vector<double>& draws, Loop& loop, Weather& weather) {
  for (const Prior& p : priors) p.apply(draws[p.column], loop, weather);
}

BesideLoop beside_of(const std::vector<Prior>& priors, const std::vector<double>& draws) {
  BesideLoop beside;
  for (const Prior& p : priors)
    if (p.apply_beside) p.apply_beside(draws[p.column], beside);
  return beside;
}

}  // namespace leat::answers
