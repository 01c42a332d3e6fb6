#include "answers/compare.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace leat::answers {
namespace {

using namespace model;

/// A value as it was written, lists joined.
std::string written(const Said& said) {
  if (!said.text.empty()) return said.text;
  std::string all;
  for (const std::string& word : said.words) all += (all.empty() ? "" : ", ") + word;
  if (!all.empty()) return all;
  if (!said.hours.empty() || !said.points.empty()) return "a list";
  return fmt::format("{:g}", said.number);
}

bool same(const Said& a, const Said& b) {
  return a.number == b.number && a.words == b.words && a.hours == b.hours && a.points == b.points &&
         (a.text == b.text || (a.words.empty() && a.hours.empty() && a.points.empty() && a.number != 0.0));
}

std::vector<PartChange::Key> differing_keys(const Component& now, const Component& plan) {
  std::set<std::string> names;
  for (const auto& [key, said] : now.values) names.insert(key);
  for (const auto& [key, said] : plan.values) names.insert(key);
  std::vector<PartChange::Key> keys;
  for (const std::string& name : names) {
    const Said *a = now.find(name), *b = plan.find(name);
    if (a && b && same(*a, *b)) continue;
    keys.push_back({name, a ? written(*a) : "", b ? written(*b) : ""});
  }
  return keys;
}

std::vector<PartChange> part_changes(const Description& now, const Description& plan) {
  std::vector<PartChange> changes;
  for (const Component& c : plan.components) {
    const Component* before = now.find(c.path());
    PartChange change{before ? PartChange::What::changed : PartChange::What::added, c.path(), {}};
    if (before) {
      change.keys = differing_keys(*before, c);
      if (change.keys.empty()) continue;
    } else {
      for (const auto& [key, said] : c.values) change.keys.push_back({key, "", written(said)});
    }
    changes.push_back(std::move(change));
  }
  for (const Component& c : now.components)
    if (!plan.find(c.path())) changes.push_back({PartChange::What::removed, c.path(), {}});
  return changes;
}

const Finding* find(const CheckAnswer& a, const std::string& statement, const std::string& path) {
  for (const Finding& f : a.findings)
    if (f.statement == statement && f.path == path) return &f;
  return nullptr;
}

int badness(const Finding* f) {
  if (!f) return 0;
  return f->verdict == Verdict::bad ? 3 : f->verdict == Verdict::tight ? 2 : f->verdict == Verdict::cannot_tell ? 1 : 0;
}

std::vector<CheckChange> check_changes(const CheckAnswer& now, const CheckAnswer& plan) {
  std::vector<CheckChange> changes;
  const auto add = [&](const Finding* a, const Finding* b) {
    const Finding& named = b ? *b : *a;
    if (badness(a) == badness(b)) return;
    CheckChange change{named.statement, named.path, std::nullopt, std::nullopt};
    if (a) change.now = *a;
    if (b) change.plan = *b;
    changes.push_back(std::move(change));
  };
  for (const Finding& f : plan.findings) add(find(now, f.statement, f.path), &f);
  for (const Finding& f : now.findings)
    if (!find(plan, f.statement, f.path)) add(&f, nullptr);
  const auto worse_by = [](const CheckChange& c) {
    return badness(c.plan ? &*c.plan : nullptr) - badness(c.now ? &*c.now : nullptr);
  };
  std::stable_sort(changes.begin(), changes.end(),
                   [&](const CheckChange& a, const CheckChange& b) { return worse_by(a) > worse_by(b); });
  return changes;
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
  one.oxygen_low = 1e9;
  one.coldest = 1e9;
  for (const VesselAhead& vessel : ahead.vessels) {
    if (vessel.path != path) continue;
    for (const VesselDay& day : vessel.days) {
      one.warmest = std::max(one.warmest, day.temperature_high.value);
      one.coldest = std::min(one.coldest, day.temperature_low.value);
      one.swing = std::max(one.swing, day.swing);
      one.oxygen_low = std::min(one.oxygen_low, day.oxygen_low.value);
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

/// No if a check of the plan fails; yes, if, where one is tight that was not before or still is.
void judge(CompareAnswer& a) {
  const auto reasons_of = [&](Verdict verdict, bool only_new) {
    for (const Finding& f : a.plan.findings) {
      if (f.verdict != verdict) continue;
      const Finding* before = find(a.now, f.statement, f.path);
      const bool is_new = badness(before) < badness(&f);
      if (is_new == only_new) a.reasons.push_back(fmt::format("{}: {}{}", f.path, f.reason, is_new ? "" : " (as now)"));
    }
  };
  const auto any = [&](Verdict verdict) {
    return std::any_of(a.plan.findings.begin(), a.plan.findings.end(),
                       [&](const Finding& f) { return f.verdict == verdict; });
  };
  if (!a.plan.running_settled) {
    a.verdict = Verdict::bad;
    a.reasons.push_back("the plan's levels find no rest");
  }
  if (any(Verdict::bad)) {
    a.verdict = Verdict::bad;
    reasons_of(Verdict::bad, true);
    reasons_of(Verdict::bad, false);
  } else if (a.verdict != Verdict::bad && any(Verdict::tight)) {
    a.verdict = Verdict::tight;
    reasons_of(Verdict::tight, true);
    reasons_of(Verdict::tight, false);
  }
}

}  // namespace

CompareAnswer compare(const Side& now, const Side& plan, const Weather& weather, const AheadRequest& request) {
  CompareAnswer a;
  a.now_name = now.loop.name;
  a.plan_name = plan.loop.name;
  a.now = check(now.loop);
  a.plan = check(plan.loop);
  const AheadRequest middle{request.first, request.days, false};
  a.now_ahead = ahead(now.loop, weather, middle);
  a.plan_ahead = ahead(plan.loop, weather, middle);
  OutageRequest power;
  power.fault = {Fault::Kind::power, "power"};
  a.now_outage = outage(now.loop, power);
  a.plan_outage = outage(plan.loop, power);
  a.parts = part_changes(now.description, plan.description);
  a.checks = check_changes(a.now, a.plan);
  a.tanks = tank_sides(now, plan, a);
  a.water_now = water_of(now.loop);
  a.water_plan = water_of(plan.loop);
  judge(a);
  return a;
}

}  // namespace leat::answers
