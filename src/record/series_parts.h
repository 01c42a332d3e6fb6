// What the files about series share.
#pragma once

#include "record/pyramid.h"
#include "record/series.h"
#include "record/sqlite.h"

namespace leat::record {

/// Hands each stored summary of a level whose start lies in [from, to) on.
template <class Take>
void each_span(Database& db, std::int64_t series, int level, Moment from, Moment to, Take&& take) {
  if (from >= to) return;
  const Reuse rows(db,
                   "SELECT start, count, low, high, sum, rest FROM span WHERE series = ? AND level = ? AND start >= ? "
                   "AND start < ? ORDER BY start");
  rows->bind(series).bind(std::int64_t{level}).bind(from).bind(to);
  const Moment width = width_of(level);
  while (rows->step()) {
    const Moment start = rows->whole(0);
    take(Summary{start, start + width, rows->whole(1), rows->real(2), rows->real(3), rows->real(4), rows->real(5)});
  }
}

/// Each reading of a stretch of time, in order.
template <class Take>
void each_sample(Database& db, std::int64_t series, Moment from, Moment to, Take&& take) {
  if (from >= to) return;
  const Reuse rows(db, "SELECT at, value FROM sample WHERE series = ? AND at >= ? AND at < ? ORDER BY at");
  rows->bind(series).bind(from).bind(to);
  while (rows->step()) take(summary_of_one({rows->whole(0), rows->real(1)}));
}

/// What of the readings does not agree with their sums and seals, and how many there are.
struct ReadingsLooked {
  std::int64_t count = 0;
  std::vector<std::string> faults;
};
std::variant<ReadingsLooked, Trouble> look_at_readings(const Store& store, const Progress& progress);

/// The number of a series; begun, with the entry that says so, when it is not there. Within a transaction of the
/// caller's.
std::int64_t series_for(Database& db, const SeriesName& name, Moment first, Moment now);

/// "temperature at tank.nursery by probe 1"
std::string name_text(const SeriesName& name);

/// The first quarter of an hour in a stretch of time whose sums are not those of its readings.
std::optional<Moment> first_difference(Database& db, std::int64_t series, Moment from, Moment to);

}  // namespace leat::record
