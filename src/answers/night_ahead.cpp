#include "answers/night_ahead.h"

#include <algorithm>
#include <cmath>

#include "answers/bands.h"
#include "answers/running_water.h"
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

/// Both ends of each tank's night over all runs, and how many go below.
void tell_bands(const std::vector<std::vector<TankNight>>& nights, double limit, NightAheadAnswer& a) {
  const auto over = [&](std::size_t tank, double TankNight::*of) {
    std::vector<double> values;
    for (const auto& night : nights) values.push_back(night[tank].*of);
    return values;
  };
  for (std::size_t t = 0; t < a.tanks.size(); ++t) {
    a.tanks[t].dusk_band = spread_of(over(t, &TankNight::dusk));
    a.tanks[t].lowest_band = spread_of(over(t, &TankNight::lowest));
    a.tanks[t].dawn_band = spread_of(over(t, &TankNight::dawn));
    for (const auto& night : nights) {
      a.tanks[t].below += night[t].lowest < limit;
      a.tanks[t].danger += night[t].lowest < kDangerOfLimit * limit;
    }
  }
}

/// The same two days many times over, each with draws of its own.
void add_bands(const Loop& described, const Weather& weather, const AheadRequest& request,
               const std::vector<std::size_t>& vessels, NightAheadAnswer& a) {
  const Loop loop = with_fish_to_come(with_water_as_warm_as_the_air(described, weather, request.first));
  const Plumbing plumbing(loop);
  const Ensemble e = run_ensemble(loop, plumbing, running_water(plumbing).water, weather, request);
  const auto members = static_cast<int>(e.runs.size());
  if (members < 3) return;
  std::vector<std::vector<TankNight>> nights;
  for (const AheadAnswer& run : e.runs) {
    nights.emplace_back();
    for (const std::size_t v : vessels)
      nights.back().push_back(night_of(run.vessels[v], a.sunset_hour, a.sunrise_hour, loop.site.place.altitude));
  }
  a.how = how_drawn(e.priors, members, e.stopped, request.seed,
                    size_of_runs(loop, request.days, request.members, request.budget));
  tell_bands(nights, a.low.si(), a);
  const auto least = std::min_element(a.tanks.begin(), a.tanks.end(),
                                      [](const TankNight& x, const TankNight& y) { return x.lowest < y.lowest; }) -
                     a.tanks.begin();
  const auto owe = [&](const char* what, double TankNight::*of) {
    std::vector<double> values;
    for (const auto& night : nights) values.push_back(night[static_cast<std::size_t>(least)].*of);
    const Spread spread = spread_of(values);
    a.owed.push_back({what, "dissolved_oxygen", spread, owed_most(e.priors, e.draws, values, request.seed)});
  };
  owe("lowest of the night", &TankNight::lowest);
  owe("at sunrise", &TankNight::dawn);
}

/// By the middle run, or worse where many runs go below.
Verdict judged(const NightAheadAnswer& a) {
  const Verdict middle = verdict_of(a.tanks.front().lowest - a.low.si(), 1.0 / 31.998);
  if (!a.how || middle == Verdict::bad) return middle;
  int most = 0;
  for (const TankNight& t : a.tanks) most = std::max(most, t.below);
  return 2 * most > a.how->members ? Verdict::bad : 10 * most > a.how->members ? Verdict::tight : middle;
}

}  // namespace

NightAheadAnswer night_ahead(const Loop& loop, const Weather& weather, CivilDate evening, const Draws& draws) {
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
  std::vector<std::size_t> vessels;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank && !days.vessels[v].dry) vessels.push_back(v);
  for (const std::size_t v : vessels)
    a.tanks.push_back(night_of(days.vessels[v], a.sunset_hour, a.sunrise_hour, loop.site.place.altitude));
  AheadRequest request{evening, 2, false};
  request.seed = draws.seed;
  request.members = size_of_runs(loop, request.days, draws.asked, request.budget).members;
  if (request.members > 0 && !a.tanks.empty()) add_bands(loop, weather, request, vessels, a);
  std::stable_sort(a.tanks.begin(), a.tanks.end(),
                   [](const TankNight& x, const TankNight& y) { return x.lowest < y.lowest; });
  if (a.tanks.empty())
    a.said = "there is no fish tank with water in it";
  else
    a.verdict = judged(a);
  return a;
}

}  // namespace leat::answers
