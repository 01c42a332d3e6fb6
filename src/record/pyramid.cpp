#include "record/pyramid.h"

#include <algorithm>

namespace leat::record {
namespace {

/// Statements that are made once for all levels of one addition.
struct Spans {
  Statement found, put;
  std::int64_t series;

  Spans(Database& db, std::int64_t of)
      : found(db, "SELECT count, low, high, sum, rest FROM span WHERE series = ? AND level = ? AND start = ?"),
        put(db, "INSERT OR REPLACE INTO span VALUES (?,?,?,?,?,?,?,?)"),
        series(of) {}

  void add(int level, Summary s) {
    found.bind(series).bind(std::int64_t{level}).bind(s.from);
    if (found.step()) {
      const Summary held{s.from, s.to, found.whole(0), found.real(1), found.real(2), found.real(3), found.real(4)};
      take_in(s, held);
    }
    found.reset();
    put.bind(series).bind(std::int64_t{level}).bind(s.from).bind(s.count).bind(s.low).bind(s.high);
    put.bind(s.sum).bind(s.rest);
    put.step();
    put.reset();
  }
};

}  // namespace

Summary summary_of_one(const Sample& s) {
  return {s.at, s.at + 1, 1, s.value, s.value, s.value, 0.0};
}

void take_in(Summary& all, const Summary& other) {
  if (other.count == 0) return;
  const bool first = all.count == 0;
  all.low = first ? other.low : std::min(all.low, other.low);
  all.high = first ? other.high : std::max(all.high, other.high);
  all.count += other.count;
  // Knuth, The Art of Computer Programming, vol. 2, 4.2.2: sum + error is a + b exactly.
  const double sum = all.sum + other.sum, part = sum - all.sum;
  const double error = (all.sum - (sum - part)) + (other.sum - part) + (all.rest + other.rest);
  all.sum = sum + error;
  all.rest = error - (all.sum - sum);
}

std::vector<Summary> joined(std::span<const Summary> below, int level) {
  std::vector<Summary> all;
  const Moment width = width_of(level);
  for (Summary s : below) {
    s.from = floor_to(s.from, width);
    s.to = s.from + width;
    if (!all.empty() && all.back().from == s.from)
      take_in(all.back(), s);
    else
      all.push_back(s);
  }
  return all;
}

void sum_up(Database& db, std::int64_t series, std::span<const Sample> fresh) {
  std::vector<Summary> level_below;
  level_below.reserve(fresh.size());
  for (const Sample& s : fresh) level_below.push_back(summary_of_one(s));
  Spans spans(db, series);
  for (int level = 0; level < kLevels; ++level) {
    level_below = joined(level_below, level);
    for (const Summary& s : level_below) spans.add(level, s);
  }
}

}  // namespace leat::record
