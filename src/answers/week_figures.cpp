#include "answers/week_figures.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "answers/plantings.h"
#include "record/phrase_parts.h"
#include "record/when.h"

namespace leat::answers {
namespace {

using record::Entry;

void append(std::vector<std::int64_t>& to, const std::vector<std::int64_t>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

Figure figure(std::string name, std::string label, double value, std::string unit, int places) {
  return {std::move(name), std::move(label), value, value, std::move(unit), places, {}};
}

/// Mean swing of the windows of one kind within a span; nothing without one.
std::optional<Figure> mean_swing(const std::vector<Window>& windows, WindowKind kind, record::Moment from,
                                 record::Moment to, std::string name, std::string label) {
  double sum = 0.0;
  int n = 0;
  std::vector<std::int64_t> entries;
  for (const Window& w : windows) {
    if (w.kind != kind || w.from < from || w.to > to) continue;
    sum += w.swing();
    ++n;
    append(entries, w.entries);
  }
  if (n == 0) return std::nullopt;
  Figure f = figure(std::move(name), fmt::format("{}, {} {} windows", label, n, window_word(kind)), sum / n, "K", 1);
  f.entries = std::move(entries);
  return f;
}

/// The last re-plumbing within the week: what lies before it is another loop.
std::optional<record::Moment> replumbed(const WeekAnswer& week) {
  std::optional<record::Moment> last;
  for (const Entry& e : week.changed)
    if (e.kind == record::Kind::chapter) last = e.from;
  return last;
}

/// Mean swings by kind of window: of this week, of the part before a re-plumbing, of the week before.
void add_swings(WeekAnswer& week, const WeekWindows& w) {
  constexpr record::Moment kFirst = std::numeric_limits<record::Moment>::min();
  constexpr record::Moment kLast = std::numeric_limits<record::Moment>::max();
  // The air is the same air on both sides of a re-plumbing.
  const auto cut = w.where == "outside" ? std::nullopt : replumbed(week);
  const auto put = [&](std::optional<Figure> f) {
    if (f) week.figures.push_back(std::move(*f));
  };
  for (const WindowKind kind : {WindowKind::whole_day, WindowKind::night}) {
    const std::string name = (kind == WindowKind::night ? "night-swing-" : "swing-") + w.where;
    put(mean_swing(w.now, kind, cut.value_or(kFirst), kLast, name,
                   "mean swing, " + w.where + (cut ? ", since the re-plumbing" : "")));
    if (cut)
      put(mean_swing(w.now, kind, kFirst, *cut, name + "-replumbed",
                     "mean swing, " + w.where + ", up to the re-plumbing"));
    put(mean_swing(w.before, kind, kFirst, kLast, name + "-before", "the same of the week before"));
  }
}

void add_extremes(WeekAnswer& week, const WeekWindows& w) {
  if (w.now.empty()) return;
  const auto less = [](const Window& a, const Window& b) { return a.low < b.low; };
  const auto more = [](const Window& a, const Window& b) { return a.high < b.high; };
  const Window& low = *std::min_element(w.now.begin(), w.now.end(), less);
  const Window& high = *std::max_element(w.now.begin(), w.now.end(), more);
  Figure lowest = figure("low-" + w.where, "lowest, " + w.where, low.low, "degC", 1);
  Figure highest = figure("high-" + w.where, "highest, " + w.where, high.high, "degC", 1);
  lowest.entries = low.entries;
  highest.entries = high.entries;
  week.figures.push_back(std::move(lowest));
  week.figures.push_back(std::move(highest));
  add_swings(week, w);
}

}  // namespace

void add_windows(WeekAnswer& week, const std::vector<Entry>& entries, const Clock& clock) {
  std::set<std::pair<std::string, std::string>> places;
  for (const Entry& e : entries)
    if (!e.extreme.empty() && (e.what == "temperature" || e.what == "air_temperature"))
      places.insert({e.what, e.where});
  const record::Moment length = week.to - week.from;
  for (const auto& [what, where] : places) {
    if ((what == "air_temperature") != (where == "outside")) continue;
    WeekWindows w{where, {}, {}};
    for (Window& one : windows_in(entries, clock, what, where).windows) {
      if (one.to >= week.from && one.to < week.to)
        w.now.push_back(std::move(one));
      else if (one.to >= week.from - length && one.to < week.from)
        w.before.push_back(std::move(one));
    }
    add_extremes(week, w);
    week.windows.push_back(std::move(w));
  }
}

void add_feed(WeekAnswer& week, const std::vector<Entry>& entries, const Clock& clock) {
  for (CivilDate d = week.first; d <= week.last; d = d.plus_days(1)) week.fed.push_back({d});
  Figure total = figure("fed", "fed in all", 0.0, "g", 0);
  for (const Entry& e : entries) {
    const auto grams = e.what == "fed" && e.kind == record::Kind::deed ? grams_of(e.amount) : std::nullopt;
    if (!grams || !in_week(week, e)) continue;
    const CivilDate date = clock.local(Instant{static_cast<double>(e.from) / 1000.0}).date;
    for (DayFed& day : week.fed)
      if (day.date == date) {
        day.grams += *grams;
        day.noted = true;
        day.entries.push_back(e.number);
      }
    *total.low += *grams;
    total.entries.push_back(e.number);
  }
  total.high = total.low;
  if (!total.entries.empty()) week.figures.push_back(std::move(total));
}

namespace {

/// Feed from one weighing to the next over what the fish that live gained.
void add_feed_over_gain(WeekAnswer& week, const std::vector<Entry>& entries, const FishLives& lives,
                        const WeighedFish& before, const WeighedFish& last) {
  const double alive = lives.entered - lives.died - lives.left, gain = alive * (last.grams - before.grams);
  double fed = 0.0;
  Figure f = figure("feed-gain-" + lives.where, "", 0.0, "", 2);
  f.entries = {before.entry, last.entry};
  for (const Entry& e : entries) {
    const auto grams =
        e.what == "fed" && e.kind == record::Kind::deed && e.where == lives.where ? grams_of(e.amount) : std::nullopt;
    if (!grams || e.from < before.at || e.from >= last.at) continue;
    fed += *grams;
    f.entries.push_back(e.number);
  }
  if (!(gain > 0.0) || !(fed > 0.0)) return;
  f.label = fmt::format("feed over gain since the weighing before, {}, {:.0f} g for {:.0f} fish that live", lives.where,
                        fed, alive);
  f.low = f.high = fed / gain;
  week.figures.push_back(std::move(f));
}

void add_growth(WeekAnswer& week, const std::vector<Entry>& entries, const FishLives& lives) {
  const auto& all = lives.weighed;
  if (all.empty() || all.back().at < week.from) return;
  Figure mass = figure("mass-" + lives.where, "mean mass of a fish, " + lives.where, all.back().grams, "g", 1);
  mass.entries = {all.back().entry};
  week.figures.push_back(std::move(mass));
  if (all.size() < 2 || all.back().at <= all[all.size() - 2].at) return;
  const WeighedFish &last = all.back(), &before = all[all.size() - 2];
  const double days = static_cast<double>(last.at - before.at) / 86.4e6;
  Figure growth = figure("growth-" + lives.where, "growth a day since the weighing before, " + lives.where,
                         100.0 * std::log(last.grams / before.grams) / days, "%", 2);
  growth.entries = {before.entry, last.entry};
  week.figures.push_back(std::move(growth));
  add_feed_over_gain(week, entries, lives, before, last);
}

}  // namespace

void add_lives(WeekAnswer& week, const std::vector<Entry>& entries, const record::Context& context,
               const std::vector<FishAtStart>& fish) {
  Figure died = figure("died", "fish that died", 0.0, "", 0);
  bool said_none = false;
  for (const Entry& e : entries) {
    if (!is_death_of_fish(e, context) || !in_week(week, e)) continue;
    said_none = said_none || e.count.value_or(0.0) == 0.0;
    *died.low += e.count.value_or(0.0);
    died.entries.push_back(e.number);
  }
  died.high = died.low;
  if (*died.low > 0.0 || said_none) week.figures.push_back(std::move(died));
  std::map<std::string, Figure> harvests;
  for (const Entry& e : entries) {
    const auto grams = e.what == "harvested" && in_week(week, e) ? grams_of(e.amount) : std::nullopt;
    if (!grams) continue;
    const bool each = e.amount.basis == "each";
    Figure& f = harvests.try_emplace(e.subject, figure("harvest-" + e.subject, "harvested, " + e.subject, 0.0, "g", 0))
                    .first->second;
    *f.low += *grams * (each ? e.count.value_or(1.0) : 1.0);
    f.high = f.low;
    f.entries.push_back(e.number);
  }
  for (auto& [crop, f] : harvests) week.figures.push_back(std::move(f));
  std::vector<Entry> until;
  for (const Entry& e : entries)
    if (e.from < week.to) until.push_back(e);
  for (const FishLives& lives : fish_lives(until, context, fish, 0.95)) add_growth(week, entries, lives);
}

void add_tests(WeekAnswer& week, const std::vector<Entry>& entries) {
  // One row for each thing, place, unit and basis: nothing is converted, and nothing that differs is put together.
  std::map<std::string, Figure> rows;
  for (const Entry& e : entries) {
    if (e.kind != record::Kind::reading || !e.extreme.empty() || !in_week(week, e) || !e.amount.high) continue;
    std::string unit = e.amount.unit + (e.amount.basis.empty() ? "" : " as " + e.amount.basis);
    std::string label = e.what;
    std::replace(label.begin(), label.end(), '_', ' ');
    std::string key = e.what + "-" + (e.where.empty() ? "loop" : e.where) + (unit.empty() ? "" : "-" + unit);
    for (char& c : key)
      if (c == ' ' || c == '/' || c == '%') c = '_';
    const auto [row, fresh] = rows.try_emplace(key, Figure{key,
                                                           label + (e.where.empty() ? "" : ", " + e.where),
                                                           e.amount.low,
                                                           e.amount.high,
                                                           unit,
                                                           e.what == "pH" ? 1 : 2,
                                                           {}});
    Figure& f = row->second;
    // A reading that is only "below" leaves the range open downwards.
    if (!fresh) {
      f.low = f.low && e.amount.low ? std::optional(std::min(*f.low, *e.amount.low)) : std::nullopt;
      f.high = std::max(*f.high, *e.amount.high);
    }
    f.entries.push_back(e.number);
  }
  for (auto& [key, f] : rows) week.figures.push_back(std::move(f));
}

void add_odd_and_next(WeekAnswer& week, const std::vector<Entry>& entries, const record::Context& context) {
  std::size_t silent = 0;
  for (CivilDate d = week.first; d <= week.last; d = d.plus_days(1)) {
    const record::Moment from = record::moment_of(context.clock, d, 0.0);
    const record::Moment to = record::moment_of(context.clock, d.plus_days(1), 0.0);
    const bool any = std::any_of(entries.begin(), entries.end(), [&](const Entry& e) {
      return e.from == e.to ? e.from >= from && e.from < to : e.to > from && e.from < to;
    });
    if (!any && to <= context.now) ++silent;  // today may have one to come
  }
  if (silent > 0 && week.odd.size() < 3)
    week.odd.push_back({fmt::format("{} {} without a note", silent, silent == 1 ? "day" : "days")});
  for (const Entry& e : week.words)
    if (week.odd.size() < 3 && std::any_of(e.said.begin(), e.said.end(), [](char c) { return c >= '0' && c <= '9'; }))
      week.odd.push_back({"a note with numbers that was kept as words, so it is in no figure", {e.number}});
  struct Wanted {
    const char *what, *say;
  };
  for (const Wanted& wanted : {Wanted{"alkalinity", "Test KH: none was noted this week, and it falls with every meal"},
                               Wanted{"ammonia", "Test ammonia: none was noted this week"},
                               Wanted{"nitrite", "Test nitrite: none was noted this week"},
                               Wanted{"pH", "Test pH: none was noted this week"}}) {
    const bool have =
        std::any_of(week.tests.begin(), week.tests.end(), [&](const Entry& e) { return e.what == wanted.what; });
    if (!have && week.next.size() < 3) week.next.push_back({wanted.say});
  }
}

}  // namespace leat::answers
