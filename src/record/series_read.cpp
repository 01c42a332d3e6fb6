// What is read from the sums: a chart, the whole of a stretch of time, civil days.
#include <fmt/core.h>

#include <algorithm>

#include "record/guarded.h"
#include "record/pyramid.h"
#include "record/series_parts.h"

namespace leat::record {
namespace {

/// Readings themselves in stretches of equal width, for a time too short for the lowest level.
std::vector<Summary> short_chart(Database& db, std::int64_t series, Moment from, Moment to, Moment width) {
  std::vector<Summary> all;
  each_sample(db, series, from, to, [&](const Summary& one) {
    const Moment start = from + (one.from - from) / width * width;
    if (all.empty() || all.back().from != start) all.push_back({start, start + width});
    take_in(all.back(), one);
  });
  return all;
}

/// The widest level of which at least so many lie in a stretch; -1 if even the lowest has fewer.
int level_for(Moment stretch, std::size_t points) {
  int level = -1;
  while (level + 1 < kLevels && stretch / width_of(level + 1) >= static_cast<Moment>(points)) ++level;
  return level;
}

Moment ceil_to(Moment at, Moment width) {
  const Moment down = floor_to(at, width);
  return down == at ? at : down + width;
}

/// Takes [from, to) in, both on the edge of a stretch of `level` or of the one below it.
void take_levels(Database& db, std::int64_t series, int level, Moment from, Moment to, Summary& all) {
  const auto take = [&](const Summary& s) { take_in(all, s); };
  const Moment above = level + 1 < kLevels ? width_of(level + 1) : 0;
  const Moment first = above ? ceil_to(from, above) : to, last = above ? floor_to(to, above) : to;
  if (!above || first >= last) return each_span(db, series, level, from, to, take);
  each_span(db, series, level, from, first, take);
  take_levels(db, series, level + 1, first, last, all);
  each_span(db, series, level, last, to, take);
}

/// The widest level that civil days of a clock are made of, over a stretch of time.
int level_of_days(const Clock& clock, Moment from, Moment to) {
  int level = 2;  // an hour
  for (Moment at = from; at <= to + 86'400'000; at += 30 * 86'400'000LL) {
    const double hours = clock.utc_offset_hours(Instant{1e-3 * static_cast<double>(at)});
    const auto quarters = static_cast<Moment>(hours * 4.0 + (hours < 0.0 ? -0.5 : 0.5));
    while (level > 0 && quarters % (Moment{1} << level) != 0) --level;
  }
  return level;
}

Moment start_of(const Clock& clock, const CivilDate& date) {
  return static_cast<Moment>(clock.instant({date, 0.0}).seconds * 1e3);
}

CivilDate date_of(const Clock& clock, Moment at) {
  return clock.local(Instant{1e-3 * static_cast<double>(at)}).date;
}

}  // namespace

std::string name_text(const SeriesName& n) {
  return fmt::format("{}{}{}", n.what, n.where.empty() ? "" : " at " + n.where,
                     n.sensor.empty() ? "" : " by " + n.sensor);
}

std::optional<Moment> first_difference(Database& db, std::int64_t series, Moment from, Moment to) {
  std::optional<Moment> first;
  each_span(db, series, 0, from, to, [&](const Summary& sums) {
    if (first) return;
    Summary held{sums.from, sums.to};
    each_sample(db, series, sums.from, sums.to, [&](const Summary& one) { take_in(held, one); });
    if (held != sums) first = sums.from;
  });
  return first;
}

std::variant<std::vector<Summary>, Trouble> chart_of(const Store& store, std::int64_t series, Moment from, Moment to,
                                                     std::size_t points) {
  return guarded([&] {
    std::vector<Summary> all;
    if (to <= from || points == 0) return all;
    const int level = level_for(to - from, points);
    if (level < 0)
      return short_chart(store.database(), series, from, to,
                         std::max<Moment>(1, (to - from) / static_cast<Moment>(points)));
    all.reserve(2 * points + 2);
    each_span(store.database(), series, level, floor_to(from, width_of(level)), to,
              [&](const Summary& s) { all.push_back(s); });
    return all;
  });
}

std::variant<Summary, Trouble> summary_of(const Store& store, std::int64_t series, Moment from, Moment to) {
  return guarded([&] {
    Summary all{from, to};
    Database& db = store.database();
    const auto take = [&](const Summary& s) { take_in(all, s); };
    const Moment first = ceil_to(from, width_of(0)), last = floor_to(to, width_of(0));
    if (first >= last) {
      each_sample(db, series, from, to, take);
      return all;
    }
    each_sample(db, series, from, first, take);
    take_levels(db, series, 0, first, last, all);
    each_sample(db, series, last, to, take);
    return all;
  });
}

std::variant<std::vector<Summary>, Trouble> days_of(const Store& store, std::int64_t series, Moment from, Moment to,
                                                    const Clock& clock) {
  return guarded([&] {
    std::vector<Summary> days;
    if (to <= from) return days;
    const Moment begins = start_of(clock, date_of(clock, from));
    const Moment ends = start_of(clock, date_of(clock, to - 1).plus_days(1));
    each_span(store.database(), series, level_of_days(clock, begins, ends), begins, ends, [&](const Summary& s) {
      if (days.empty() || s.from >= days.back().to) {
        const CivilDate date = date_of(clock, s.from);
        days.push_back({start_of(clock, date), start_of(clock, date.plus_days(1))});
      }
      take_in(days.back(), s);
    });
    return days;
  });
}

}  // namespace leat::record
