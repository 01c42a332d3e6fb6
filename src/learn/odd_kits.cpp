#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/letters.h"
#include "learn/kit.h"
#include "learn/odd.h"

namespace leat::learn {
namespace {

/// Water that fed fish live in gains nitrate that beds do not take, and the kit says the same each time.
void always_the_same(const std::vector<const Reading*>& readings, const History& history, const Expected& expected,
                     std::vector<Oddity>& found) {
  std::size_t from = 0;
  for (std::size_t i = 1; i < readings.size(); ++i) {
    if (readings[i]->typed != readings[from]->typed || readings[i]->unit != readings[from]->unit) {
      from = i;
      continue;
    }
    const Moment start = readings[from]->at, end = readings[i]->at;
    const double days = static_cast<double>(end - start) / static_cast<double>(kDay);
    double feed = 0.0;
    bool changed = false;
    for (const Deed& d : history.deeds) {
      if (d.at <= start || d.at > end) continue;
      if (d.what == "fed") feed += d.grams.value_or(0.0);
      changed = changed || d.what == "changed_water";
    }
    const double least = 0.7 * 25.5e-3 * feed * (expected.protein / 0.45) - 2.0 * expected.planted * days;
    const double rise = 1e3 * least / expected.water, step = between(*readings[i], step_of(readings)).width();
    if (i - from + 1 < 4 || changed || rise <= 1.5 * step) continue;
    Oddity o{"kit_stands_still", Weight::wrong_number, readings[i]->where, start, end};
    o.what = fmt::format("nitrate {:g} {} {} times running", readings[i]->typed, readings[i]->unit, i - from + 1);
    o.reason = fmt::format(
        "feed alone should have raised it by {:.0f} mg/L as N, more than a step of this kit ({:.0f})", rise, step);
    o.action = "shake the reagents hard, look at their date, and test water of a known strength";
    for (std::size_t k = from; k <= i; ++k) o.rests_on.push_back(readings[k]->entry);
    found.push_back(std::move(o));
    return;
  }
}

/// A kit that was said to be past its date goes on being used.
void past_its_date(const History& history, std::vector<Oddity>& found) {
  std::vector<std::string> told;
  for (const Reading& r : history.readings) {
    const std::string kit = words::in_small_letters(r.instrument);
    if (kit.find("expired") == std::string::npos && kit.find("past its date") == std::string::npos &&
        kit.find("out of date") == std::string::npos)
      continue;
    if (std::find(told.begin(), told.end(), r.what) != told.end()) continue;
    told.push_back(r.what);
    found.push_back({"kit_past_its_date",
                     Weight::wrong_number,
                     r.where,
                     r.at,
                     r.at,
                     fmt::format("{} read with a kit past its date", r.what),
                     "old reagent mostly reads too little",
                     "a fresh kit, or one test of both beside each other",
                     {r.entry}});
  }
}

struct Gap {
  Moment at = 0;
  double gap = 0.0;
  std::vector<std::int64_t> entries;
};

/// pH of an evening less that of the dawn after it.
std::vector<Gap> night_gaps(const History& history, const Expected& expected) {
  std::vector<Gap> gaps;
  const auto pH = history.of("pH");
  for (std::size_t i = 1; i < pH.size(); ++i) {
    const double dusk = expected.hour_of(pH[i - 1]->at), dawn = expected.hour_of(pH[i]->at);
    const bool night = dusk >= 14.0 && dusk <= 22.0 && dawn >= 3.0 && dawn <= 10.0 && pH[i]->where == pH[i - 1]->where;
    if (night && pH[i]->at - pH[i - 1]->at < 20 * kHour)
      gaps.push_back({pH[i]->at, pH[i - 1]->value() - pH[i]->value(), {pH[i - 1]->entry, pH[i]->entry}});
  }
  return gaps;
}

/// A bloom on its way to a night without oxygen: two of three signs.
void bloom(const History& history, const Expected& expected, std::vector<Oddity>& found) {
  const auto lids = history.of("lid_depth");
  const auto gaps = night_gaps(history, expected);
  Moment told = -1;
  const auto lid_before = [&](Moment at) -> std::pair<const Reading*, const Reading*> {
    const Reading *last = nullptr, *most = nullptr;
    for (const Reading* l : lids) {
      if (l->at > at || at - l->at > 14 * kDay) continue;
      last = l;
      if (!most || l->value() > most->value()) most = l;
    }
    return {last, most};
  };
  std::vector<Moment> looks;
  for (const Gap& g : gaps) looks.push_back(g.at);
  for (const Reading* l : lids) looks.push_back(l->at);
  std::sort(looks.begin(), looks.end());
  for (const Moment at : looks) {
    if (told >= 0 && at - told < 7 * kDay) continue;
    const Gap *last = nullptr, *first = nullptr;
    for (const Gap& g : gaps) {
      if (g.at > at || at - g.at > 21 * kDay) continue;
      if (!first) first = &g;
      last = &g;
    }
    const bool widens = last && at - last->at < 3 * kDay && last->gap >= 0.5 && last->gap >= first->gap + 0.2;
    const auto [lid, most] = lid_before(at);
    const bool murky = lid && lid->value() <= 0.7 * most->value() && at - lid->at < 4 * kDay;
    const bool still = expected.warm_still_night.value_or(false);
    if ((widens ? 1 : 0) + (murky ? 1 : 0) + (still ? 1 : 0) < 2 || (!widens && !murky)) continue;
    told = at;
    Oddity o{"bloom", Weight::danger, expected.fish_tank, at, at};
    o.what = "a bloom is growing: oxygen may be low before dawn";
    if (widens) o.reason += fmt::format("pH falls by {:.1f} overnight", last->gap);
    if (murky)
      o.reason += fmt::format("{}the lid is gone at {:.0f} cm, {:.0f} cm before", o.reason.empty() ? "" : "; ",
                              lid->value(), most->value());
    if (still) o.reason += "; a warm still night comes";
    o.action = "read oxygen at dusk and three hours later and ask leat night; air on tonight, shade tomorrow";
    if (widens) o.rests_on = last->entries;
    if (murky) o.rests_on.push_back(lid->entry);
    found.push_back(std::move(o));
  }
}

}  // namespace

std::vector<Oddity> odd_kits(const History& history, const Expected& expected) {
  std::vector<Oddity> found;
  for (const std::string& where : history.places_of("nitrate"))
    always_the_same(history.of("nitrate", where), history, expected, found);
  past_its_date(history, found);
  bloom(history, expected, found);
  return found;
}

std::vector<Oddity> odd_rounds(const History& history, const Expected& expected, Moment now) {
  std::vector<Oddity> found;
  if (history.empty()) return found;
  // Whether something was noted between 4 and 10 in the morning of a day.
  const int first = expected.date_of(history.moments.front()).serial(), last = expected.date_of(now).serial();
  std::vector<bool> round(static_cast<std::size_t>(std::max(0, last - first) + 1), false);
  for (const Moment m : history.moments) {
    const double hour = expected.hour_of(m);
    if (hour >= 4.0 && hour < 10.0) round[static_cast<std::size_t>(expected.date_of(m).serial() - first)] = true;
  }
  const int complete = static_cast<int>(round.size()) - (expected.hour_of(now) < 10.0 ? 1 : 0);
  bool told = false;
  for (int d = 15; d < complete; ++d) {
    const auto at = round.begin() + d;
    const auto usual = std::count(at - 15, at - 1, true);
    if (at[-1] || at[0]) told = false;
    if (at[-1] || at[0] || usual < 10 || told) continue;
    told = true;
    const CivilDate date = expected.date_of(history.moments.front()).plus_days(d);
    const auto seen = static_cast<Moment>(1e3 * expected.clock.instant({date, 10.0}).seconds);
    found.push_back({"silence",
                     Weight::round,
                     "",
                     seen - kDay,
                     seen,
                     "nothing was noted on two mornings running",
                     fmt::format("on {} of the 14 mornings before there was a round", usual),
                     "if you were there, all is well: a word is enough. If not, somebody should look at the fish today",
                     {}});
  }
  return found;
}

}  // namespace leat::learn
