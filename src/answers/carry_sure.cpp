// Many years of what a loop carries.
#include <algorithm>

#include "answers/ahead_run.h"
#include "answers/carry_year.h"
#include "answers/priors.h"
#include "answers/running_water.h"

namespace leat::answers {
namespace {

using namespace model;

/// The years that could be run, each with its draws.
struct Years {
  std::vector<Prior> priors;
  std::vector<CarryYear> years;
  std::vector<std::vector<double>> draws;
  int stopped = 0;
};

Years run_years(const Loop& loop, const CheckAnswer& check, CivilDate first, const CarryDraws& wanted) {
  const Loop water = with_water_as_warm_as_the_air(water_alone(loop), wanted.years.front(), first);
  const Plumbing plumbing(water);
  const RunningWater running = running_water(plumbing);
  Years all{priors_of(loop, Weather{}, asked::stock), {}, {}, 0};
  if (!running.refused.empty()) return all;
  const auto draws = draws_of_priors(wanted.years.size(), wanted.seed);
  std::vector<Loop> loops(wanted.years.size(), loop);
  Weather none;
  for (std::size_t y = 0; y < loops.size(); ++y) apply_draws(all.priors, draws[y], loops[y], none);
  const auto runs = run_ahead_together(
      water, plumbing, running.water, {first, 7 * kCarryWeeks, false}, loops.size(), [&](std::size_t y) {
        return MemberInput{with_water_as_warm_as_the_air(water_alone(loops[y]), wanted.years[y], first),
                           wanted.years[y]};
      });
  for (std::size_t y = 0; y < loops.size(); ++y) {
    if (!runs[y].finished || runs[y].dates.empty()) {
      ++all.stopped;
      continue;
    }
    all.years.push_back(carry_year(loops[y], check, wanted.years[y], first, runs[y], beside_of(all.priors, draws[y])));
    all.draws.push_back(draws[y]);
  }
  return all;
}

std::vector<double> over(const Years& all, auto&& of) {
  std::vector<double> values;
  for (const CarryYear& y : all.years) values.push_back(of(y));
  return values;
}

double least(const CarryYear& y) {
  return y.weeks[y.tightest].limits.front().kg;
}

/// In the tightest week by all needs but warmth, which leaves nothing to owe to anything.
double least_but_for_warmth(const CarryYear& y) {
  double kg = 1e9;
  for (const CarryWeek& w : y.weeks)
    for (const CarryLimit& l : w.limits)
      if (l.name != "warmth") kg = std::min(kg, l.kg);
  return kg;
}

double warmest(const CarryYear& y) {
  double high = 0.0;
  for (const CarryWeek& w : y.weeks) high = std::max(high, w.warmest.kelvin());
  return high;
}

/// Whether one need allows less than that in some week.
bool allows_less(const CarryYear& y, const std::string& need, double kg) {
  return std::any_of(y.weeks.begin(), y.weeks.end(), [&](const CarryWeek& w) {
    return std::any_of(w.limits.begin(), w.limits.end(),
                       [&](const CarryLimit& l) { return l.name == need && l.kg < kg; });
  });
}

void tell_needs(const Years& all, double now, CarrySure& sure) {
  for (const char* need : {"oxygen", "film", "space", "warmth"}) {
    CarryCrossed c{need, 0, 0};
    for (const CarryYear& y : all.years) {
      c.over += allows_less(y, need, now);
      c.first += y.weeks[y.tightest].limits.front().name == need;
    }
    if (c.over + c.first > 0) sure.needs.push_back(std::move(c));
  }
}

}  // namespace

EnsembleSize size_of_carry(const Loop& loop, int asked) {
  constexpr double kBudget = 6.0;
  EnsembleSize size = size_of_runs(loop, 7 * kCarryWeeks, asked, kBudget);
  if (asked < 0 && size.members == 0) size = size_of_runs(loop, 7 * kCarryWeeks, 20, kBudget);
  return size;
}

std::optional<CarrySure> carry_surely(const Loop& loop, const CheckAnswer& check, CivilDate first,
                                      const CarryDraws& wanted, const CarryAnswer& middle) {
  const Years all = run_years(loop, check, first, wanted);
  const auto members = static_cast<int>(all.years.size());
  if (members < 3) return std::nullopt;
  CarrySure sure;
  sure.how = how_drawn(all.priors, members, all.stopped, wanted.seed,
                       size_of_carry(loop, static_cast<int>(wanted.years.size())));
  for (std::size_t w = 0; w < middle.weeks.size(); ++w)
    sure.weeks.push_back(spread_of(over(all, [w](const CarryYear& y) { return y.weeks[w].limits.front().kg; })));
  const std::vector<double> kg = over(all, least), hours = over(all, warmest);
  sure.all_year = spread_of(kg);
  sure.warmest = spread_of(hours);
  for (const double k : kg) sure.over += k < middle.now.si();
  for (const double h : hours) sure.killing += middle.kills_above && h > middle.kills_above->kelvin();
  tell_needs(all, middle.now.si(), sure);
  const std::vector<double> fed = over(all, least_but_for_warmth);
  sure.owed.push_back({"what it carries all year, warmth aside", "biomass", spread_of(fed),
                       owed_most(all.priors, all.draws, fed, wanted.seed)});
  sure.owed.push_back(
      {"warmest hour", "temperature", sure.warmest, owed_most(all.priors, all.draws, hours, wanted.seed)});
  return sure;
}

}  // namespace leat::answers
