#include "answers/season.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "answers/ahead_run.h"
#include "answers/check.h"
#include "answers/judge/water_limits.h"
#include "answers/priors.h"
#include "answers/running_water.h"
#include "base/words/quantities.h"

namespace leat::answers {
namespace {

using namespace model;

/// What plants want at least, mg/L (common practice): under it leaves show it sooner or later.
struct Want {
  const char* word;
  double mg_l;
};
constexpr Want kWants[] = {
    {"phosphorus", 3.0}, {"potassium", 30.0}, {"calcium", 40.0}, {"magnesium", 10.0}, {"iron", 1.0}};

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

using Years = std::vector<AheadAnswer>;
using Rows = std::vector<std::vector<double>>;

/// Dates as days from the first; a year that never has it is left out.
SeasonDate dates_of(const std::vector<std::optional<int>>& days, CivilDate first) {
  std::vector<int> known;
  for (const auto& d : days)
    if (d) known.push_back(*d);
  if (known.empty()) return {};
  std::sort(known.begin(), known.end());
  return {static_cast<int>(known.size()), first.plus_days(known.front()), first.plus_days(known[known.size() / 2]),
          first.plus_days(known.back())};
}

/// Every year under a weather of its own, and with draws of its own of what is not known of the loop.
Years run_years(const Loop& loop, const std::vector<Weather>& weathers, const std::vector<Prior>& priors,
                const Rows& draws, const SeasonRequest& request) {
  const Plumbing plumbing(loop);
  const RunningWater running = running_water(plumbing);
  if (!running.refused.empty()) {
    Years refused(weathers.size());
    for (AheadAnswer& year : refused) year.said = running.refused;
    return refused;
  }
  AheadRequest one{request.first, request.days, false, {}, true};
  if (request.base_dosed) one.hold_alkalinity = 1.5 * loop.limits.alkalinity_low;
  return run_ahead_together(loop, plumbing, running.water, one, weathers.size(), [&](std::size_t y) {
    MemberInput year{loop, weathers[y]};
    apply_draws(priors, draws[y], year.loop, year.weather);
    year.loop = with_fish_to_come(with_water_as_warm_as_the_air(year.loop, year.weather, request.first));
    return year;
  });
}

/// The first fish tank, or the first vessel.
std::size_t looked_at(const Loop& loop) {
  if (!loop.fish.empty()) return at(loop.fish.front().vessel);
  for (std::size_t v = 0; v < loop.vessels.size(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank) return v;
  return 0;
}

void tell_weeks(const Loop& loop, const Years& years, SeasonAnswer& a) {
  const std::size_t v = looked_at(loop);
  for (int w = 0; 7 * w < a.days; ++w) {
    a.weeks.push_back(a.first.plus_days(7 * w));
    std::vector<double> warm, cold;
    for (const AheadAnswer& y : years) {
      double high = 0.0, low = 1e9;
      for (std::size_t d = at(7 * w); d < std::min(at(7 * w + 7), y.vessels[v].days.size()); ++d) {
        high = std::max(high, y.vessels[v].days[d].temperature_high.value);
        low = std::min(low, y.vessels[v].days[d].temperature_low.value);
      }
      warm.push_back(high);
      cold.push_back(low);
    }
    a.warmest.push_back(spread_of(std::move(warm)));
    a.coldest.push_back(spread_of(std::move(cold)));
  }
}

SeasonRisk risk_of(const Limit& limit, const Years& years, std::size_t v, std::size_t weeks) {
  SeasonRisk risk{limit.statement, years.front().vessels[v].path, limit.quantity,
                  limit.limit,     std::vector<int>(weeks, 0),    0};
  for (const AheadAnswer& y : years) {
    std::vector<bool> broken(weeks, false);
    for (std::size_t d = 0; d < y.vessels[v].days.size(); ++d) {
      const double value = limit.worst(y.vessels[v].days[d]);
      if (limit.wants_above ? value < limit.limit : value > limit.limit) broken[d / 7] = true;
    }
    bool any = false;
    for (std::size_t w = 0; w < weeks; ++w) {
      risk.years_by_week[w] += broken[w];
      any = any || broken[w];
    }
    risk.years += any;
  }
  return risk;
}

void tell_risks(const Loop& loop, const Years& years, SeasonAnswer& a) {
  for (const Limit& limit : limits_of(loop.limits))
    for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
      if (loop.vessels[v].kind != VesselKind::tank || years.front().vessels[v].dry) continue;
      SeasonRisk risk = risk_of(limit, years, v, a.weeks.size());
      if (risk.years > 0) a.risks.push_back(std::move(risk));
    }
  const auto weeks_broken = [](const SeasonRisk& r) {
    int sum = 0;
    for (const int n : r.years_by_week) sum += n;
    return sum;
  };
  std::stable_sort(a.risks.begin(), a.risks.end(), [&](const SeasonRisk& x, const SeasonRisk& y) {
    return std::pair{x.years, weeks_broken(x)} > std::pair{y.years, weeks_broken(y)};
  });
}

void tell_fish(const Loop& loop, const Years& years, const SeasonRequest& request, SeasonAnswer& a) {
  for (std::size_t g = 0; g < loop.fish.size(); ++g) {
    SeasonFish f{loop.fish[g].path, loop.fish[g].species, request.size.si(), {}, {}, {}};
    std::vector<std::optional<int>> reached;
    std::vector<double> mass, feed;
    for (const AheadAnswer& y : years) {
      const std::vector<double>& days = y.fish[g].mean_mass;
      const auto there = std::find_if(days.begin(), days.end(), [&](double m) { return m >= f.size; });
      reached.push_back(there == days.end() ? std::nullopt : std::optional(static_cast<int>(there - days.begin()) + 1));
      mass.push_back(days.back());
      double sum = 0.0;
      for (const double kg : y.fish[g].fed) sum += kg;
      feed.push_back(sum);
    }
    f.reaches_size = dates_of(reached, a.first);
    f.mass_at_end = spread_of(std::move(mass));
    f.feed = spread_of(std::move(feed));
    a.fish.push_back(std::move(f));
  }
}

int days_between(CivilDate from, CivilDate to) {
  int days = 0;
  for (CivilDate d = from; d < to; d = d.plus_days(1)) ++days;
  return days;
}

void tell_crops(const Loop& loop, const Years& years, SeasonAnswer& a) {
  for (std::size_t c = 0; c < loop.plantings.size(); ++c) {
    SeasonCrop crop{loop.plantings[c].path, loop.plantings[c].crop, {}, {}, {}};
    std::size_t most = 0;
    std::vector<double> fresh;
    for (const AheadAnswer& y : years) {
      most = std::max(most, y.plants[c].harvests.size());
      double sum = 0.0;
      for (const auto& cut : y.plants[c].harvests) sum += cut.fresh;
      fresh.push_back(sum);
    }
    for (std::size_t h = 0; h < most; ++h) {
      std::vector<std::optional<int>> days;
      for (const AheadAnswer& y : years)
        days.push_back(h < y.plants[c].harvests.size()
                           ? std::optional(days_between(a.first, y.plants[c].harvests[h].date))
                           : std::nullopt);
      crop.harvests.push_back(dates_of(days, a.first));
      for (const AheadAnswer& y : years)
        if (h < y.plants[c].harvests.size()) {
          crop.whole.push_back(y.plants[c].harvests[h].whole);
          break;
        }
    }
    crop.fresh = spread_of(std::move(fresh));
    a.crops.push_back(std::move(crop));
  }
}

void tell_shortages(const Loop& loop, const Years& years, SeasonAnswer& a) {
  if (loop.plantings.empty()) return;
  for (const Want& want : kWants) {
    const double least = want.mg_l / words::quantity_row(want.word).shown_scale;
    SeasonShortage s{want.word, least, false, {}, {}};
    std::vector<std::optional<int>> days;
    std::vector<double> ends;
    for (const AheadAnswer& y : years)
      for (const InWater& w : y.in_water) {
        if (w.word != want.word) continue;
        s.assumed = w.assumed;
        const auto under = std::find_if(w.days.begin(), w.days.end(), [&](double x) { return x < least; });
        days.push_back(w.start < least         ? std::optional(0)
                       : under == w.days.end() ? std::nullopt
                                               : std::optional(static_cast<int>(under - w.days.begin()) + 1));
        ends.push_back(w.days.back());
      }
    s.falls_below = dates_of(days, a.first);
    s.at_end = spread_of(std::move(ends));
    // What is short at the start alone, as feed and base soon bring more, is no shortage of the season.
    if (s.falls_below.years > 0 && s.at_end.low < least) a.shortages.push_back(std::move(s));
  }
}

/// What an account brought into the loop over a year's run.
double brought(const AheadAnswer& year, Ledger ledger, std::string_view account) {
  for (const LedgerTable& t : year.books)
    for (const LedgerLine& line : t.lines)
      if (t.ledger == ledger && line.account == account) return line.amount;
  return 0.0;
}

void tell_bill(const Loop& loop, const Years& years, SeasonAnswer& a) {
  constexpr double kBicarbonate = 100.115e-3, kHydroxide = 74.093e-3;  // kg/mol of KHCO3 and Ca(OH)2
  std::vector<double> water, cost, bicarbonate, hydroxide;
  for (const PumpPoint& pump : check(loop).pumps) a.bill.energy += pump.yearly.si() * a.days / 365.25;
  for (const AirLine& air : loop.airs)
    if (air.power) a.bill.energy += air.power->si() * a.days * 86400.0;
  const Prices& p = loop.prices;
  a.bill.priced = p.energy || p.water || p.feed;
  for (const AheadAnswer& y : years) {
    const double added = brought(y, Ledger::water, "source");
    bicarbonate.push_back(kBicarbonate * brought(y, Ledger::potassium, "dosed"));
    hydroxide.push_back(kHydroxide * brought(y, Ledger::calcium, "dosed"));
    double feed = 0.0;
    for (const FishAhead& f : y.fish)
      for (const double kg : f.fed) feed += kg;
    water.push_back(added);
    cost.push_back(p.energy.value_or(0.0) * a.bill.energy / 3.6e6 + p.water.value_or(0.0) * added +
                   p.feed.value_or(0.0) * feed);
  }
  a.bill.top_up = spread_of(std::move(water));
  a.bill.bicarbonate = spread_of(std::move(bicarbonate));
  a.bill.hydroxide = spread_of(std::move(hydroxide));
  a.bill.cost = spread_of(std::move(cost));
}

/// What the numbers of the first tank, the first fish and the first crop owe most to.
void tell_owed(const Loop& loop, const Years& years, const std::vector<Prior>& priors, const Rows& draws,
               SeasonAnswer& a) {
  const auto tell = [&](const std::string& what, const char* quantity, auto&& of) {
    std::vector<double> values;
    for (const AheadAnswer& y : years) values.push_back(of(y));
    const Spread spread = spread_of(values);
    a.owed.push_back({what, quantity, spread, owed_most(priors, draws, values, a.how.seed)});
  };
  const std::size_t v = looked_at(loop);
  const auto most = [v](const AheadAnswer& y, double sign, auto&& of) {
    double seen = -1e300;
    for (const VesselDay& day : y.vessels[v].days) seen = std::max(seen, sign * of(day));
    return sign * seen;
  };
  tell("coldest", "temperature",
       [&](const AheadAnswer& y) { return most(y, -1.0, [](const VesselDay& d) { return d.temperature_low.value; }); });
  tell("warmest", "temperature",
       [&](const AheadAnswer& y) { return most(y, 1.0, [](const VesselDay& d) { return d.temperature_high.value; }); });
  tell("least oxygen", "dissolved_oxygen",
       [&](const AheadAnswer& y) { return most(y, -1.0, [](const VesselDay& d) { return d.oxygen_low.value; }); });
  if (!a.fish.empty())
    tell(a.fish.front().path + " at the end", "mass",
         [](const AheadAnswer& y) { return y.fish.front().mean_mass.back(); });
  if (!a.crops.empty())
    tell(a.crops.front().path + " cut", "fresh_mass", [](const AheadAnswer& y) {
      double sum = 0.0;
      for (const auto& cut : y.plants.front().harvests) sum += cut.fresh;
      return sum;
    });
}

/// Years that could not be run to their end are told and left out.
void leave_out_stopped(Years& years, Rows& draws, SeasonAnswer& a) {
  for (std::size_t y = years.size(); y-- > 0;) {
    if (years[y].finished && !years[y].dates.empty()) continue;
    ++a.stopped;
    a.why_stopped = years[y].said;
    years.erase(years.begin() + static_cast<std::ptrdiff_t>(y));
    draws.erase(draws.begin() + static_cast<std::ptrdiff_t>(y));
  }
  a.years = static_cast<int>(years.size());
}

}  // namespace

SeasonAnswer season(const Loop& described, const std::vector<Weather>& weathers, const SeasonRequest& request) {
  const Loop loop = with_fish_to_come(described);
  const auto started = std::chrono::steady_clock::now();
  SeasonAnswer a;
  a.loop_name = loop.name;
  a.currency = loop.prices.currency;
  a.first = request.first;
  a.days = request.days;
  a.assumptions = loop.assumptions;
  // The weather is what differs from year to year: only what is not known of the loop is drawn.
  const std::vector<Prior> priors = request.drawn ? priors_of(loop, Weather{}, asked::months) : std::vector<Prior>{};
  Rows draws = draws_of_priors(weathers.size(), request.seed);
  Years years = run_years(loop, weathers, priors, draws, request);
  leave_out_stopped(years, draws, a);
  a.how = how_drawn(priors, a.years, a.stopped, request.seed,
                    size_of_runs(loop, request.days, static_cast<int>(weathers.size()), request.budget));
  if (!years.empty()) {
    tell_weeks(loop, years, a);
    tell_risks(loop, years, a);
    tell_fish(loop, years, request, a);
    tell_crops(loop, years, a);
    tell_shortages(loop, years, a);
    tell_bill(loop, years, a);
    if (!priors.empty()) tell_owed(loop, years, priors, draws, a);
  }
  a.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
  return a;
}

}  // namespace leat::answers
