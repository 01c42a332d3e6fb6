#include "answers/bands.h"

#include <algorithm>

#include "answers/ahead_run.h"
#include "answers/judge/water_limits.h"

namespace leat::answers {
namespace {

using namespace model;

Spread over(const Ensemble& e, auto&& value) {
  std::vector<double> values;
  for (const AheadAnswer& run : e.runs) values.push_back(value(run));
  return spread_of(std::move(values));
}

TankBands tank_bands(const Ensemble& e, std::size_t v) {
  TankBands b;
  b.path = e.runs.front().vessels[v].path;
  for (std::size_t d = 0; d < e.runs.front().vessels[v].days.size(); ++d) {
    const auto day = [&](auto&& of) {
      return over(e, [&](const AheadAnswer& run) { return of(run.vessels[v].days[d]); });
    };
    b.temperature_low.push_back(day([](const VesselDay& x) { return x.temperature_low.value; }));
    b.temperature_high.push_back(day([](const VesselDay& x) { return x.temperature_high.value; }));
    b.oxygen_low.push_back(day([](const VesselDay& x) { return x.oxygen_low.value; }));
    b.ammonia.push_back(day([](const VesselDay& x) { return x.ammonia; }));
  }
  return b;
}

bool crosses(const Limit& limit, const VesselAhead& vessel) {
  return std::any_of(vessel.days.begin(), vessel.days.end(), [&](const VesselDay& day) {
    const double value = limit.worst(day);
    return limit.wants_above ? value < limit.limit : value > limit.limit;
  });
}

void tell_crossings(const Loop& loop, const Ensemble& e, const std::vector<std::size_t>& tanks, Bands& b) {
  for (const Limit& limit : limits_of(loop.limits))
    for (const std::size_t v : tanks) {
      Crossing c{limit.statement, loop.vessels[v].path, limit.quantity, limit.limit, limit.wants_above, 0};
      for (const AheadAnswer& run : e.runs) c.members += crosses(limit, run.vessels[v]);
      if (c.members > 0) b.crossings.push_back(std::move(c));
    }
  std::stable_sort(b.crossings.begin(), b.crossings.end(),
                   [](const Crossing& x, const Crossing& y) { return x.members > y.members; });
}

/// The extreme of a vessel's days.
double extreme(const VesselAhead& v, auto&& of, bool highest) {
  double seen = of(v.days.front());
  for (const VesselDay& day : v.days) seen = highest ? std::max(seen, of(day)) : std::min(seen, of(day));
  return seen;
}

/// What each run of each tank came to.
void tell_extremes(const Ensemble& e, const std::vector<std::size_t>& tanks, Bands& b) {
  for (std::size_t i = 0; i < tanks.size(); ++i)
    for (const AheadAnswer& run : e.runs) {
      const VesselAhead& v = run.vessels[tanks[i]];
      b.tanks[i].runs.push_back({extreme(
                                     v, [](const VesselDay& d) { return d.temperature_low.value; }, false),
                                 extreme(
                                     v, [](const VesselDay& d) { return d.temperature_high.value; }, true),
                                 extreme(
                                     v, [](const VesselDay& d) { return d.oxygen_low.value; }, false),
                                 extreme(
                                     v, [](const VesselDay& d) { return d.ammonia; }, true)});
    }
}

void tell_what_it_owes(const Ensemble& e, std::size_t tank, Bands& b) {
  const auto each = [&](const char* what, const char* quantity, auto&& of, bool highest) {
    std::vector<double> values;
    for (const AheadAnswer& run : e.runs) values.push_back(extreme(run.vessels[tank], of, highest));
    const Spread spread = spread_of(values);
    b.owed.push_back({what, quantity, spread, owed_most(e.priors, e.draws, values, b.seed)});
  };
  each(
      "coldest", "temperature", [](const VesselDay& d) { return d.temperature_low.value; }, false);
  each(
      "warmest", "temperature", [](const VesselDay& d) { return d.temperature_high.value; }, true);
  each(
      "least oxygen", "dissolved_oxygen", [](const VesselDay& d) { return d.oxygen_low.value; }, false);
  each(
      "most ammonia", "ammonia", [](const VesselDay& d) { return d.ammonia; }, true);
}

void move_day(VesselDay& day, const VesselDay& mean, const VesselDay& pulses) {
  const auto in_proportion = [](double& value, double from, double to) {
    if (from > 0.0) value *= to / from;
  };
  day.oxygen_low.value = std::max(0.0, day.oxygen_low.value + pulses.oxygen_low.value - mean.oxygen_low.value);
  day.oxygen_low_share = std::max(0.0, day.oxygen_low_share + pulses.oxygen_low_share - mean.oxygen_low_share);
  day.pH_low += pulses.pH_low - mean.pH_low;
  day.pH_high += pulses.pH_high - mean.pH_high;
  in_proportion(day.ammonia, mean.ammonia, pulses.ammonia);
  in_proportion(day.unionised_ammonia_high.value, mean.unionised_ammonia_high.value,
                pulses.unionised_ammonia_high.value);
  in_proportion(day.nitrite, mean.nitrite, pulses.nitrite);
  in_proportion(day.carbon_dioxide_high, mean.carbon_dioxide_high, pulses.carbon_dioxide_high);
}

void move_by_pulses(AheadAnswer& run, const Beside& beside) {
  for (std::size_t v = 0; v < run.vessels.size(); ++v)
    for (std::size_t d = 0; d < run.vessels[v].days.size(); ++d)
      move_day(run.vessels[v].days[d], beside.by_mean.vessels[v].days[d], beside.by_pulses.vessels[v].days[d]);
}

std::vector<std::size_t> tanks_told_of(const Loop& loop, const AheadAnswer& run) {
  std::vector<std::size_t> tanks;
  for (const FishGroup& g : loop.fish) tanks.push_back(static_cast<std::size_t>(g.vessel));
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank && !run.vessels[v].dry) tanks.push_back(v);
  std::vector<std::size_t> once;
  for (const std::size_t v : tanks)
    if (std::find(once.begin(), once.end(), v) == once.end()) once.push_back(v);
  return once;
}

}  // namespace

Ensemble run_ensemble(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Weather& weather,
                      const AheadRequest& request) {
  const auto members = static_cast<std::size_t>(request.members);
  const auto draws = draws_of_priors(members, request.seed);
  Ensemble e{priors_of(loop, weather), {}, {}, {}, 0};
  auto runs = run_ahead_together(loop, plumbing, running, request, members, [&](std::size_t m) {
    MemberInput member{loop, weather};
    apply_draws(e.priors, draws[m], member.loop, member.weather);
    return member;
  });
  for (std::size_t m = 0; m < members; ++m) {
    if (!runs[m].finished) {
      ++e.stopped;
      continue;
    }
    e.ran.push_back(m);
    e.runs.push_back(std::move(runs[m]));
    e.draws.push_back(draws[m]);
  }
  return e;
}

Bands bands(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Weather& weather,
            const AheadRequest& request, const Beside* beside) {
  Ensemble e = run_ensemble(loop, plumbing, running, weather, request);
  if (beside)
    for (AheadAnswer& run : e.runs) move_by_pulses(run, *beside);
  Bands b;
  static_cast<HowDrawn&>(b) = how_drawn(e.priors, static_cast<int>(e.runs.size()), e.stopped, request.seed,
                                        size_of_runs(loop, request.days, request.members, request.budget));
  b.ran = e.ran;
  if (b.members < 3) return b;
  const std::vector<std::size_t> tanks = tanks_told_of(loop, e.runs.front());
  for (const std::size_t v : tanks) b.tanks.push_back(tank_bands(e, v));
  tell_extremes(e, tanks, b);
  for (std::size_t g = 0; g < loop.fish.size(); ++g)
    b.fish_mass.push_back(over(e, [&](const AheadAnswer& run) { return run.fish[g].mean_mass.back(); }));
  tell_crossings(loop, e, tanks, b);
  if (!tanks.empty()) tell_what_it_owes(e, tanks.front(), b);
  return b;
}

}  // namespace leat::answers
