// Causes that lie in what was done or seen: new water, chlorine, metal, illness, animals, hands.
#include <fmt/core.h>

#include <algorithm>

#include "answers/cause.h"
#include "learn/of_fish.h"

namespace leat::answers {
namespace {

using learn::Deed;
using learn::kDay;
using learn::kHour;

/// Top-ups and changes in the hours before.
std::vector<const Deed*> new_water(const Scene& s, double hours) {
  auto all = s.deeds("topped_up", hours);
  for (const Deed* d : s.deeds("changed_water", hours)) all.push_back(d);
  return all;
}

double litres_of(const Scene& s, const Deed& d) {
  return d.litres.value_or(d.share * s.water_litres);
}

}  // namespace

Cause chlorine_poisoned(const Scene& s) {
  Cause c{"chlorine",
          "chlorine or chloramine of new water",
          {},
          "total chlorine in the tap; ammonia and KH over the next days, since it kills the filter too",
          Standing::open};
  for (const learn::Reading* r : s.readings("chlorine", 72.0, 24.0)) {
    if (r->low > 0.019)
      c.evidence.push_back(
          {3, fmt::format("chlorine {:.2g} mg/L; 0.019 is the acute limit (EPA 1985)", r->value()), {r->entry}});
    else
      c.evidence.push_back({-2, fmt::format("chlorine {:.2g} mg/L", r->value()), {r->entry}});
  }
  const auto fresh = new_water(s, 24.0);
  const auto treated = s.said({"dechlor", "thiosulf", "thiosulph", "aged water", "rain water", "rainwater"}, 96.0);
  for (const Deed* d : fresh) {
    const double litres = litres_of(s, *d), share = litres / std::max(1.0, s.water_litres);
    if (share < 0.02) continue;
    c.evidence.push_back({treated.empty() ? 2 : 1,
                          fmt::format("{:.0f} L of new water, {:.0f} % of all, within a day before{}", litres,
                                      100.0 * share, treated.empty() ? "; nothing says that the chlorine was out" : ""),
                          {d->entry}});
  }
  if (!treated.empty() && !fresh.empty()) c.evidence.push_back({-2, "it was said to be free of chlorine", treated});
  if (new_water(s, 72.0).empty()) c.evidence.push_back({-2, "no new water was noted in three days"});
  return c;
}

Cause water_was_changed(const Scene& s) {
  Cause c{"shock", "a jump of pH or temperature", {}, "pH and temperature of old and new water", Standing::open};
  for (const Deed* d : s.deeds("changed_water", 24.0)) {
    const double share = litres_of(s, *d) / std::max(1.0, s.water_litres);
    if (share >= 0.2)
      c.evidence.push_back(
          {2, fmt::format("{:.0f} % of the water was changed within a day before", 100.0 * share), {d->entry}});
  }
  for (const Deed* d : s.deeds("dosed", 24.0))
    c.evidence.push_back({1, fmt::format("{} was dosed within a day before", d->subject), {d->entry}});
  const auto pH = s.readings("pH", 24.0);
  if (pH.size() >= 2) {
    const auto [low, high] =
        std::minmax_element(pH.begin(), pH.end(), [](auto a, auto b) { return a->value() < b->value(); });
    const double jump = (*high)->value() - (*low)->value();
    c.evidence.push_back({jump >= 1.5   ? 2
                          : jump >= 1.0 ? 1
                                        : -1,
                          fmt::format("pH moved by {:.1f} within a day", jump),
                          {(*low)->entry, (*high)->entry}});
  }
  const bool quiet =
      s.deeds("changed_water", 48.0).empty() && s.deeds("dosed", 48.0).empty() && s.deeds("moved", 48.0).empty();
  if (quiet) c.evidence.push_back({-2, "nothing was changed, dosed or moved in two days"});
  return c;
}

Cause metal_was_in_it(const Scene& s) {
  Cause c{"metal",
          "copper or another metal or poison",
          {},
          "copper in the water; look for brass, new fittings, wood treatment, sprays nearby",
          Standing::open};
  const auto words = s.said(
      {"copper", "brass", "algicide", "spray", "weed killer", "galvanised", "zinc", "treated timber"}, 14.0 * 24.0);
  if (!words.empty()) c.evidence.push_back({2, "metal or a spray was noted", words});
  if (!s.deeds("replumbed", 7.0 * 24.0).empty())
    c.evidence.push_back({1, "the plumbing is new", {s.deeds("replumbed", 7.0 * 24.0).front()->entry}});
  return c;
}

Cause illness_took_them(const Scene& s) {
  Cause c{"illness",
          "illness or parasites",
          {},
          "a few of the freshly dead, cooled and not frozen, to a vet or laboratory",
          Standing::open};
  double before = 0.0;
  std::vector<std::int64_t> entries;
  for (const Deed* d : s.deeds("died", 10.0 * 24.0)) {
    if (!learn::is_death_of_fish(*d, s.history)) continue;
    if (std::find(s.answer.deaths.begin(), s.answer.deaths.end(), d->entry) != s.answer.deaths.end()) continue;
    before += d->count.value_or(0.0);
    if (d->count.value_or(0.0) > 0.0) entries.push_back(d->entry);
  }
  if (entries.size() >= 2)
    c.evidence.push_back({2, fmt::format("{:.0f} more died on the ten days before: a few a day", before), entries});
  const double share = s.answer.toll.before > 0.0 ? s.answer.toll.dead / s.answer.toll.before : 0.0;
  if (share > 0.15 && entries.empty())
    c.evidence.push_back(
        {-2, fmt::format("{:.0f} % died at once, and none in the ten days before", 100.0 * share), s.answer.deaths});
  const auto signs =
      s.said({"sores", "fungus", "white spot", "flashing", "ulcer", "cotton", "frayed fin"}, 10.0 * 24.0);
  if (!signs.empty()) c.evidence.push_back({2, "signs of illness were noted", signs});
  return c;
}

Cause animals_or_handling(const Scene& s) {
  Cause c{
      "handling", "hands, moves or animals", {}, "marks on the bodies; a net over the tank; a count", Standing::open};
  for (const char* what : {"moved", "weighed", "stocked"})
    for (const Deed* d : s.deeds(what, 48.0))
      c.evidence.push_back({1, fmt::format("fish were {} within two days before", what), {d->entry}});
  const auto animals = s.said({"heron", "mink", "otter", "cat ", "bird", "jumped"});
  if (!animals.empty()) c.evidence.push_back({2, "animals or jumping were noted", animals});
  if (c.evidence.empty()) c.evidence.push_back({-1, "no move, weighing or animal was noted in two days"});
  if (s.answer.toll.dead >= 5.0) c.evidence.push_back({-1, "many bodies at once", s.answer.deaths});
  return c;
}

}  // namespace leat::answers
