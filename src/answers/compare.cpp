#include "answers/compare.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "answers/priors.h"

namespace leat::answers {
namespace {

using namespace model;

const Finding* find(const std::vector<Finding>& findings, const std::string& statement, const std::string& path) {
  for (const Finding& f : findings)
    if (f.statement == statement && f.path == path) return &f;
  return nullptr;
}

int badness(const Finding* f) {
  if (!f) return 0;
  return f->verdict == Verdict::bad ? 3 : f->verdict == Verdict::tight ? 2 : f->verdict == Verdict::cannot_tell ? 1 : 0;
}

std::vector<CheckChange> check_changes(const std::vector<Finding>& now, const std::vector<Finding>& plan) {
  using What = CheckChange::What;
  std::vector<CheckChange> changes;
  for (const Finding& f : plan) {
    const Finding* before = find(now, f.statement, f.path);
    if (before && badness(before) == badness(&f)) continue;
    const What what = !before ? What::added : badness(before) < badness(&f) ? What::worse : What::better;
    changes.push_back({what, f.statement, f.path, before ? std::optional(*before) : std::nullopt, f});
  }
  for (const Finding& f : now)
    if (!find(plan, f.statement, f.path)) changes.push_back({What::gone, f.statement, f.path, f, std::nullopt});
  std::stable_sort(changes.begin(), changes.end(), [](const CheckChange& a, const CheckChange& b) {
    const auto worst = [](const CheckChange& c) { return c.plan ? -badness(&*c.plan) : 0; };
    return std::pair(a.what, worst(a)) < std::pair(b.what, worst(b));
  });
  return changes;
}

/// Both findings of the plumbing and of the days.
std::vector<Finding> all_findings(const CheckAnswer& check, const AheadAnswer& ahead) {
  std::vector<Finding> all = check.findings;
  all.insert(all.end(), ahead.findings.begin(), ahead.findings.end());
  return all;
}

/// Less than a hundredth apart is within what two runs differ by for no reason.
bool differ(std::optional<double> a, std::optional<double> b) {
  if (!a || !b) return a.has_value() != b.has_value();
  return std::abs(*a - *b) > 0.01 * std::max(std::abs(*a), std::abs(*b)) + 1e-9;
}

/// What each part of a list does, by path; the parts of the plan first, then those that are gone.
class Differences {
  std::vector<Difference> all_;

 public:
  template <class Part, class Value>
  void add(Difference::Of of, const char* what, const char* quantity, const std::vector<Part>& now,
           const std::vector<Part>& plan, Value value) {
    const auto in = [&](const std::vector<Part>& list, const std::string& path) -> std::optional<double> {
      for (const Part& part : list)
        if (part.path == path) return value(part);
      return std::nullopt;
    };
    std::vector<std::string> paths;
    for (const auto* list : {&plan, &now})
      for (const Part& part : *list)
        if (std::find(paths.begin(), paths.end(), part.path) == paths.end()) paths.push_back(part.path);
    for (const std::string& path : paths)
      if (const auto a = in(now, path), b = in(plan, path); differ(a, b))
        all_.push_back({of, path, what, quantity, a, b});
  }
  /// Of the same part together, in the order of vessels, pumps, pipes.
  std::vector<Difference> by_part() && {
    std::vector<std::pair<Difference::Of, std::string>> order;
    for (const Difference& d : all_)
      if (std::find(order.begin(), order.end(), std::pair(d.of, d.path)) == order.end())
        order.emplace_back(d.of, d.path);
    std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    const auto place = [&](const Difference& d) {
      return std::find(order.begin(), order.end(), std::pair(d.of, d.path)) - order.begin();
    };
    std::stable_sort(all_.begin(), all_.end(),
                     [&](const Difference& a, const Difference& b) { return place(a) < place(b); });
    return std::move(all_);
  }
};

std::vector<Difference> differences(const CheckAnswer& now, const CheckAnswer& plan) {
  using Of = Difference::Of;
  Differences d;
  const auto vessel = [&](const char* what, const char* quantity, auto value) {
    d.add(Of::vessel, what, quantity, now.vessels, plan.vessels, value);
  };
  vessel("water", "water", [](const VesselLevels& v) { return v.water.si(); });
  vessel("level", "level", [](const VesselLevels& v) { return v.running.si(); });
  vessel("flow in", "flow", [](const VesselLevels& v) { return v.through.si(); });
  const auto pump = [&](const char* what, const char* quantity, auto value) {
    d.add(Of::pump, what, quantity, now.pumps, plan.pumps, value);
  };
  pump("flow", "flow", [](const PumpPoint& p) { return p.flow.si(); });
  pump("head", "head", [](const PumpPoint& p) { return p.head.si(); });
  pump("power", "power", [](const PumpPoint& p) { return p.power.si(); });
  pump("a year", "energy", [](const PumpPoint& p) { return p.yearly.si(); });
  const auto pipe = [&](const char* what, const char* quantity, auto value) {
    d.add(Of::pipe, what, quantity, now.pipes, plan.pipes, value);
  };
  pipe("flow", "flow", [](const PipeState& p) { return p.flow.si(); });
  pipe("speed", "velocity", [](const PipeState& p) { return p.velocity.si(); });
  pipe("head lost", "freeboard", [](const PipeState& p) { return p.loss.si(); });
  const auto over = [&](const char* what, const char* quantity, auto value) {
    d.add(Of::pipe, what, quantity, now.overflows, plan.overflows, value);
  };
  over("flow", "flow", [](const OverflowState& o) { return o.flow.si(); });
  over("over its rim", "freeboard", [](const OverflowState& o) { return (o.over_rim + o.sleeve_loss).si(); });
  return std::move(d).by_part();
}

TankSides::One tank_of(const Loop& loop, const CheckAnswer& check, const AheadAnswer& ahead, const OutageAnswer& outage,
                       const std::string& path) {
  TankSides::One one;
  const int v = loop.vessel_index(path);
  if (v < 0) return one;
  one.there = true;
  const VesselLevels& level = check.vessels[static_cast<std::size_t>(v)];
  one.flow = level.through;
  one.turnover = level.turnover;
  for (const VesselAhead& vessel : ahead.vessels) {
    if (vessel.path != path) continue;
    for (const VesselDay& day : vessel.days) {
      one.warmest = one.ran ? std::max(one.warmest, day.temperature_high.value) : day.temperature_high.value;
      one.coldest = one.ran ? std::min(one.coldest, day.temperature_low.value) : day.temperature_low.value;
      one.swing = std::max(one.swing, day.swing);
      one.oxygen_low = one.ran ? std::min(one.oxygen_low, day.oxygen_low.value) : day.oxygen_low.value;
      one.ran = true;
    }
  }
  for (const Drawdown& d : outage.fish)
    if (d.tank == path)
      for (const TimeLeft& t : d.states)
        if (t.state == FishState::fed) one.to_danger = t.to_danger.likely;
  return one;
}

std::vector<TankSides> tank_sides(const Side& now, const Side& plan, const CompareAnswer& a) {
  std::vector<TankSides> tanks;
  std::set<std::string> seen;
  for (const Loop* loop : {&now.loop, &plan.loop})
    for (const Vessel& vessel : loop->vessels) {
      if (vessel.kind != VesselKind::tank || !seen.insert(vessel.path).second) continue;
      tanks.push_back({vessel.path, tank_of(now.loop, a.now, a.now_ahead, a.now_outage, vessel.path),
                       tank_of(plan.loop, a.plan, a.plan_ahead, a.plan_outage, vessel.path)});
    }
  return tanks;
}

Volume<> water_of(const Loop& loop) {
  return water_in(loop, levels_at_rest(loop));
}

/// What could not be run to its end, of one side.
void tell_unfinished(const char* side, const CheckAnswer& check, const AheadAnswer& ahead, const OutageAnswer& outage,
                     CompareAnswer& a) {
  const auto tell = [&](bool finished, const std::string& what, const std::string& said) {
    if (finished) return;
    a.whole = false;
    a.reasons.push_back(fmt::format("{}: {}{}", side, what, said.empty() ? "" : ": " + said));
  };
  tell(check.running_settled, "the levels find no rest", check.cycle.said);
  tell(ahead.finished && !ahead.vessels.empty(), "its days could not all be followed", ahead.said);
  tell(outage.finished, "its power cut could not be followed to its end", outage.said);
}

void tell_reasons(Verdict verdict, CompareAnswer& a) {
  for (const bool is_new : {true, false})
    for (const Finding& f : a.plan_findings) {
      if (f.verdict != verdict) continue;
      const Finding* before = find(a.now_findings, f.statement, f.path);
      if ((badness(before) < badness(&f)) == is_new)
        a.reasons.push_back(fmt::format("{}: {}{}", f.path, f.reason, is_new ? "" : " (as now)"));
    }
}

/// The draws behind both sides: of what either does not know.
struct BothDrawn {
  std::vector<Prior> priors;
  std::vector<std::vector<double>> draws;
};

BothDrawn both_drawn(const Side& now, const Side& plan, const Weather& weather, const AheadRequest& request) {
  BothDrawn both{priors_of(plan.loop, weather),
                 draws_of_priors(static_cast<std::size_t>(request.members), request.seed)};
  for (const Prior& p : priors_of(now.loop, weather))
    if (std::none_of(both.priors.begin(), both.priors.end(), [&](const Prior& q) { return q.column == p.column; }))
      both.priors.push_back(p);
  return both;
}

/// One number in each pair of runs that finished on both sides.
SureSides sure_sides(const BothDrawn& both, const Bands& now, const Bands& plan, const TankBands& before,
                     const TankBands& after, const char* what, const char* quantity, double TankBands::Run::*of,
                     bool wants_high) {
  SureSides s{before.path, what, quantity, wants_high, {}, {}, {}, 0, 0, {}};
  std::vector<double> here, there, more;
  std::vector<std::vector<double>> draws;
  for (std::size_t i = 0; i < now.ran.size(); ++i) {
    const auto same = std::lower_bound(plan.ran.begin(), plan.ran.end(), now.ran[i]);
    if (same == plan.ran.end() || *same != now.ran[i]) continue;
    here.push_back(before.runs[i].*of);
    there.push_back(after.runs[static_cast<std::size_t>(same - plan.ran.begin())].*of);
    more.push_back(there.back() - here.back());
    draws.push_back(both.draws[now.ran[i]]);
    // Below this two runs differ by no more than their own steps.
    const double least = std::string_view(quantity) == "temperature" ? 0.05 : 0.01 * std::abs(here.back());
    s.better += wants_high ? more.back() > least : more.back() < -least;
  }
  s.pairs = static_cast<int>(more.size());
  s.owed = owed_most(both.priors, draws, more, now.seed);
  s.now = spread_of(std::move(here));
  s.plan = spread_of(std::move(there));
  s.difference = spread_of(std::move(more));
  return s;
}

void add_crossings(const Bands& bands, std::optional<int> CrossedSides::*side, SureHowFar& sure) {
  for (const Crossing& c : bands.crossings) {
    auto there = std::find_if(sure.crossed.begin(), sure.crossed.end(), [&](const CrossedSides& k) {
      return k.path == c.path && k.quantity == c.quantity && k.limit == c.limit && k.wants_above == c.wants_above;
    });
    if (there == sure.crossed.end())
      there = sure.crossed.insert(there, {c.path, c.quantity, c.limit, c.wants_above, {}, {}});
    (*there).*side = c.members;
  }
}

std::optional<SureHowFar> sure_how_far(const BothDrawn& both, const CompareAnswer& a) {
  if (!a.now_ahead.bands || !a.plan_ahead.bands) return std::nullopt;
  const Bands &now = *a.now_ahead.bands, &plan = *a.plan_ahead.bands;
  if (now.tanks.empty() || plan.tanks.empty()) return std::nullopt;
  EnsembleSize size = now.size;
  size.about += plan.size.about;
  SureHowFar sure{now.members, plan.members, {}, {}, {}};
  sure.how =
      how_drawn(both.priors, std::min(now.members, plan.members), std::max(now.stopped, plan.stopped), plan.seed, size);
  using Run = TankBands::Run;
  for (const TankBands& before : now.tanks)
    for (const TankBands& after : plan.tanks) {
      if (before.path != after.path) continue;
      const auto add = [&](const char* what, const char* quantity, double Run::*of, bool wants_high) {
        SureSides s = sure_sides(both, now, plan, before, after, what, quantity, of, wants_high);
        if (s.pairs >= 3) sure.tanks.push_back(std::move(s));
      };
      add("coldest", "temperature", &Run::coldest, true);
      add("warmest", "temperature", &Run::warmest, false);
      add("least oxygen", "dissolved_oxygen", &Run::least_oxygen, true);
      add("most ammonia", "ammonia", &Run::most_ammonia, false);
    }
  add_crossings(now, &CrossedSides::now, sure);
  add_crossings(plan, &CrossedSides::plan, sure);
  const auto has = [](const Bands& bands, const std::string& path) {
    return std::any_of(bands.tanks.begin(), bands.tanks.end(), [&](const TankBands& t) { return t.path == path; });
  };
  for (CrossedSides& c : sure.crossed) {
    if (!c.now && has(now, c.path)) c.now = 0;
    if (!c.plan && has(plan, c.path)) c.plan = 0;
  }
  return sure;
}

/// To a kilometre or so, and by the same clock in winter and in summer.
bool same_place(const Place& a, const Place& b) {
  const auto near = [](double x, double y) { return std::abs(x - y) < 0.01; };
  return near(a.latitude_deg, b.latitude_deg) && near(a.longitude_deg, b.longitude_deg) &&
         near(a.altitude.si(), b.altitude.si()) &&
         near(a.clock.standard_offset_hours(2026), b.clock.standard_offset_hours(2026)) &&
         near(a.clock.utc_offset_hours({1.7828e9}), b.clock.utc_offset_hours({1.7828e9}));  // a day of July
}

/// No if a check of the plan fails; yes, if, where one is tight. What did not end leaves it open, unless it is a no
/// already.
void judge(CompareAnswer& a) {
  const auto any = [&](Verdict verdict) {
    return std::any_of(a.plan_findings.begin(), a.plan_findings.end(),
                       [&](const Finding& f) { return f.verdict == verdict; });
  };
  a.verdict = any(Verdict::bad) ? Verdict::bad : any(Verdict::tight) ? Verdict::tight : Verdict::good;
  tell_reasons(a.verdict, a);
  tell_unfinished("the plan", a.plan, a.plan_ahead, a.plan_outage, a);
  if (!a.whole && a.verdict != Verdict::bad) a.verdict = Verdict::cannot_tell;
  tell_unfinished("today's loop", a.now, a.now_ahead, a.now_outage, a);
}

}  // namespace

CompareAnswer compare(const Side& now, const Side& described, const Weather& weather, const AheadRequest& request) {
  CompareAnswer a;
  Loop there = described.loop;
  if (!same_place(now.loop.site.place, there.site.place)) {
    there.site.place = now.loop.site.place;
    a.assumed.push_back(
        "the plan stands where today's loop does, under the same weather, though its file says otherwise");
  }
  const Side plan{described.description, there};
  a.now_name = now.loop.name;
  a.plan_name = plan.loop.name;
  a.now = check(now.loop);
  a.plan = check(plan.loop);
  AheadRequest middle{request.first, request.days, false};
  middle.members = request.members;
  middle.seed = request.seed;
  middle.budget = request.budget;
  a.now_ahead = ahead(now.loop, weather, middle);
  a.plan_ahead = ahead(plan.loop, weather, middle);
  OutageRequest power;
  power.fault = {Fault::Kind::power, "power"};
  a.now_outage = outage(now.loop, power);
  a.plan_outage = outage(plan.loop, power);
  a.parts = part_changes(now.description, plan.description);
  a.bill = bill_of(now, plan);
  a.now_findings = all_findings(a.now, a.now_ahead);
  a.plan_findings = all_findings(a.plan, a.plan_ahead);
  a.checks = check_changes(a.now_findings, a.plan_findings);
  a.differences = differences(a.now, a.plan);
  a.tanks = tank_sides(now, plan, a);
  a.sure = sure_how_far(both_drawn(now, plan, weather, request), a);
  a.water_now = water_of(now.loop);
  a.water_plan = water_of(plan.loop);
  judge(a);
  return a;
}

}  // namespace leat::answers
