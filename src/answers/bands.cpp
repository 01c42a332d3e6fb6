#include "answers/bands.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "answers/ahead_run.h"
#include "answers/judge/water_limits.h"
#include "answers/priors.h"

namespace leat::answers {
namespace {

using namespace model;

/// The runs that finished, each with its draws.
struct Ensemble {
  std::vector<AheadAnswer> runs;
  std::vector<std::vector<double>> draws;
};

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

/// Three things that a number goes with most, as far as they go beyond what chance gives in two of three.
void tell_owed(const Ensemble& e, const std::vector<Prior>& priors, const char* what, const char* quantity,
               std::vector<double> values, Bands& b) {
  OwedMost most{what, quantity, spread_of(values), {}};
  for (const Prior& p : priors) {
    std::vector<double> drawn;
    for (const auto& row : e.draws) drawn.push_back(row[p.column]);
    const double r = rank_correlation(drawn, values);
    if (std::abs(r) > 2.0 * b.uncertainty) most.to.push_back({p.name, r});
  }
  std::stable_sort(most.to.begin(), most.to.end(),
                   [](const Owed& x, const Owed& y) { return std::abs(x.correlation) > std::abs(y.correlation); });
  if (most.to.size() > 3) most.to.resize(3);
  b.owed.push_back(std::move(most));
}

void tell_what_it_owes(const Ensemble& e, const std::vector<Prior>& priors, std::size_t tank, Bands& b) {
  const auto each = [&](const char* what, const char* quantity, auto&& of, bool highest) {
    std::vector<double> values;
    for (const AheadAnswer& run : e.runs) values.push_back(extreme(run.vessels[tank], of, highest));
    tell_owed(e, priors, what, quantity, std::move(values), b);
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

std::vector<double> ranks(const std::vector<double>& x) {
  std::vector<std::size_t> order(x.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return x[a] < x[b]; });
  std::vector<double> rank(x.size());
  for (std::size_t i = 0; i < order.size();) {
    std::size_t end = i;
    while (end < order.size() && x[order[end]] == x[order[i]]) ++end;
    for (std::size_t k = i; k < end; ++k) rank[order[k]] = 0.5 * static_cast<double>(i + end - 1);
    i = end;
  }
  return rank;
}

}  // namespace

double rank_correlation(const std::vector<double>& x, const std::vector<double>& y) {
  const std::vector<double> a = ranks(x), b = ranks(y);
  const double middle = 0.5 * static_cast<double>(x.size() - 1);
  double ab = 0.0, aa = 0.0, bb = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    ab += (a[i] - middle) * (b[i] - middle);
    aa += (a[i] - middle) * (a[i] - middle);
    bb += (b[i] - middle) * (b[i] - middle);
  }
  return aa > 0.0 && bb > 0.0 ? ab / std::sqrt(aa * bb) : 0.0;
}

int usual_members(const Loop& loop, int days) {
  // About 22 numbers a vessel, and 10 microseconds for each of them and each day.
  const double one = 10e-6 * 22.0 * static_cast<double>(loop.vessels.size()) * days;
  if (20.0 * one > 2.0 * 10.0) return 0;
  return static_cast<int>(std::clamp(2.0 * 1.5 / one, 20.0, 200.0));
}

Bands bands(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Weather& weather,
            const AheadRequest& request) {
  const std::vector<Prior> priors = priors_of(loop, weather);
  const auto members = static_cast<std::size_t>(request.members);
  Ensemble e{{}, stratified_draws(members, things_not_known(), request.seed)};
  e.runs = run_ahead_together(loop, plumbing, running, request, members, [&](std::size_t m) {
    MemberInput member{loop, weather};
    for (const Prior& p : priors) p.apply(e.draws[m][p.column], member.loop, member.weather);
    return member;
  });
  Bands b;
  b.seed = request.seed;
  for (const Prior& p : priors) b.drawn.push_back({p.name, p.width, p.source});
  for (std::size_t m = e.runs.size(); m-- > 0;)
    if (e.runs[m].finished) {
      b.ran.push_back(m);
    } else {
      ++b.stopped;
      e.runs.erase(e.runs.begin() + static_cast<std::ptrdiff_t>(m));
      e.draws.erase(e.draws.begin() + static_cast<std::ptrdiff_t>(m));
    }
  std::reverse(b.ran.begin(), b.ran.end());
  b.members = static_cast<int>(e.runs.size());
  if (b.members < 3) return b;
  b.uncertainty = 1.0 / std::sqrt(b.members - 1.0);
  const std::vector<std::size_t> tanks = tanks_told_of(loop, e.runs.front());
  for (const std::size_t v : tanks) b.tanks.push_back(tank_bands(e, v));
  tell_extremes(e, tanks, b);
  for (std::size_t g = 0; g < loop.fish.size(); ++g)
    b.fish_mass.push_back(over(e, [&](const AheadAnswer& run) { return run.fish[g].mean_mass.back(); }));
  tell_crossings(loop, e, tanks, b);
  if (!tanks.empty()) tell_what_it_owes(e, priors, tanks.front(), b);
  return b;
}

}  // namespace leat::answers
