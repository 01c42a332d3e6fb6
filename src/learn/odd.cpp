#include "learn/odd.h"

#include <algorithm>

namespace leat::learn {

std::vector<Oddity> oddities(const History& history, const Expected& expected, Moment now) {
  const History known = history.until(now);
  std::vector<Oddity> all;
  const auto add = [&all](std::vector<Oddity> found) {
    std::move(found.begin(), found.end(), std::back_inserter(all));
  };
  add(odd_thermometer(known, expected));
  add(odd_units(known, expected));
  add(odd_books(known, expected));
  add(odd_water(known, expected));
  add(odd_fish(known, expected));
  add(odd_kits(known, expected));
  add(odd_rounds(known, expected, now));
  std::stable_sort(all.begin(), all.end(), [](const Oddity& a, const Oddity& b) { return a.seen < b.seen; });
  return all;
}

std::vector<Oddity> to_tell(const std::vector<Oddity>& all, Moment since, std::size_t most) {
  std::vector<Oddity> told;
  for (auto o = all.rbegin(); o != all.rend(); ++o) {
    if (o->seen < since) continue;
    const bool known = std::any_of(told.begin(), told.end(),
                                   [&](const Oddity& t) { return t.kind == o->kind && t.where == o->where; });
    if (!known) told.push_back(*o);
  }
  std::stable_sort(told.begin(), told.end(), [](const Oddity& a, const Oddity& b) { return a.weight < b.weight; });
  if (told.size() > most) told.resize(most);
  return told;
}

}  // namespace leat::learn
