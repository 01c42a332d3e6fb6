#include "record/sensed.h"

#include <algorithm>

namespace leat::record {
namespace {

Entry reading_of(const Series& series, Moment at, double value) {
  Entry e;
  e.number = series.entry;
  e.noted = e.from = e.to = at;
  e.kind = Kind::reading;
  e.what = series.name.what;
  e.where = series.name.where;
  e.amount = {value, value, series.name.unit, series.name.basis, false};
  e.instrument = series.name.sensor.empty() ? "sensor" : series.name.sensor;
  return e;
}

Entry extreme_of(const Series& series, const Summary& day, const char* which, double value) {
  Entry e = reading_of(series, std::min(day.to - 1, series.last.at), value);
  e.extreme = which;
  e.since = std::max(day.from, series.first.at);
  return e;
}

}  // namespace

std::variant<std::vector<Entry>, Trouble> entries_and_sensed(const Store& store, const Clock& clock) {
  auto found = store.entries({});
  const auto series = all_series(store);
  if (const auto* trouble = std::get_if<Trouble>(&series)) return *trouble;
  auto* entries = std::get_if<std::vector<Entry>>(&found);
  if (!entries) return found;
  for (const Series& s : std::get<std::vector<Series>>(series)) {
    if (s.count == 0) continue;
    const auto days = days_of(store, s.number, s.first.at, s.last.at + 1, clock);
    if (const auto* trouble = std::get_if<Trouble>(&days)) return *trouble;
    for (const Summary& day : std::get<std::vector<Summary>>(days)) {
      entries->push_back(extreme_of(s, day, "min", day.low));
      entries->push_back(extreme_of(s, day, "max", day.high));
    }
    entries->push_back(reading_of(s, s.last.at, s.last.value));
  }
  return found;
}

}  // namespace leat::record
