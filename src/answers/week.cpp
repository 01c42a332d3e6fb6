#include "answers/week.h"

#include <algorithm>
#include <set>

#include "answers/week_figures.h"
#include "record/phrase_parts.h"
#include "record/when.h"

namespace leat::answers {
namespace {

using record::Entry;
using record::Kind;

bool is_catch(const Entry& e, const record::Context& context) {
  return (e.what == "harvested" || e.what == "sold") && record::is_fish(context, e.subject);
}

bool is_change(const Entry& e, const record::Context& context) {
  if (e.kind == Kind::chapter) return e.what != "begun";
  static const std::set<std::string> kWhat = {"moved",   "stocked",       "power",     "pump",
                                              "cleaned", "changed_water", "topped_up", "dosed"};
  return e.kind == Kind::deed && (kWhat.contains(e.what) || is_catch(e, context));
}

bool is_of_plants(const Entry& e, const record::Context& context) {
  static const std::set<std::string> kWhat = {"planted", "substituted", "harvested", "sold"};
  const bool in_bed = e.where.find("bed.") != std::string::npos;
  const bool of_beds = (in_bed && e.what == "weighed") || (e.what == "died" && !is_death_of_fish(e, context));
  return e.kind == Kind::deed && !is_catch(e, context) && (kWhat.contains(e.what) || of_beds);
}

void sort_in(WeekAnswer& w, const Entry& e, const record::Context& context) {
  if (is_of_plants(e, context)) {
    w.plants.push_back(e);
  } else if (is_change(e, context)) {
    w.changed.push_back(e);
  } else if (e.kind == Kind::deed && e.what == "died") {
    if (e.count.value_or(1.0) > 0.0) w.died.push_back(e);
  } else if (e.kind == Kind::reading && e.extreme.empty()) {
    w.tests.push_back(e);
  } else if (e.kind == Kind::text) {
    w.words.push_back(e);
  }
}

/// Every entry of the week, and those of other weeks that a figure names.
void cite(WeekAnswer& w, const std::vector<Entry>& entries) {
  std::set<std::int64_t> named;
  for (const Figure& f : w.figures) named.insert(f.entries.begin(), f.entries.end());
  for (const auto* lines : {&w.odd, &w.next})
    for (const WeekLine& line : *lines) named.insert(line.entries.begin(), line.entries.end());
  // What a sensor read carries the number of the entry in which it began; of another week that one is enough.
  for (const Entry& e : entries) {
    const bool of_week = in_week(w, e);
    if (of_week || named.contains(e.number)) w.cited.push_back(e);
    if (!of_week) named.erase(e.number);
  }
}

}  // namespace

const Figure* WeekAnswer::find(std::string_view name) const {
  const auto found = std::find_if(figures.begin(), figures.end(), [&](const Figure& f) { return f.name == name; });
  return found == figures.end() ? nullptr : &*found;
}

bool in_week(const WeekAnswer& week, const record::Entry& e) {
  return e.from == e.to ? e.from >= week.from && e.from < week.to : e.to > week.from && e.from < week.to;
}

WeekAnswer week(const std::vector<Entry>& all, const record::Context& context, const WeekRequest& request) {
  std::vector<Entry> entries = all;
  std::stable_sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
    return a.from != b.from ? a.from < b.from : a.number < b.number;
  });
  WeekAnswer w;
  w.last = request.last;
  w.first = request.last.plus_days(1 - request.days);
  w.from = record::moment_of(context.clock, w.first, 0.0);
  w.to = record::moment_of(context.clock, w.last.plus_days(1), 0.0);
  w.in_record = entries.size();
  for (const Entry& e : entries)
    if (in_week(w, e)) sort_in(w, e, context);
  w.odd.assign(request.odd.begin(), request.odd.begin() + std::min<std::ptrdiff_t>(3, std::ssize(request.odd)));
  add_windows(w, entries, context.clock);
  add_feed(w, entries, context.clock);
  add_lives(w, entries, context, request.fish);
  add_tests(w, entries);
  add_odd_and_next(w, entries, context);
  w.next.insert(w.next.begin(), request.ahead.begin(), request.ahead.end());
  cite(w, entries);
  return w;
}

}  // namespace leat::answers
