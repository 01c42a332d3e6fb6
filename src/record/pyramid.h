// The sums over readings: quarters of an hour, and each level twice as wide as the one below. Kept in the transaction
// that adds the readings.
#pragma once

#include "record/series.h"
#include "record/sqlite.h"

namespace leat::record {

inline constexpr int kLevels = 12;  ///< 15 min to 15 min * 2^11, three weeks
/// Width of a level. The lowest divides every offset of a clock from UTC, so that civil days are made of whole ones.
constexpr Moment width_of(int level) {
  return Moment{15 * 60'000} << level;
}
/// The start of the stretch that a moment lies in, before 1970 too.
constexpr Moment floor_to(Moment at, Moment width) {
  const Moment rest = at % width;
  return at - (rest < 0 ? rest + width : rest);
}

/// Takes another summary in. Sums are kept as two numbers (Knuth's exact sum of two), so the order does not show.
void take_in(Summary& all, const Summary& other);
Summary summary_of_one(const Sample& sample);

/// Joins neighbours, in the order of time, that lie in one stretch of a level.
std::vector<Summary> joined(std::span<const Summary> below, int level);

/// Adds fresh readings, in the order of time, to all levels.
void sum_up(Database& db, std::int64_t series, std::span<const Sample> fresh);

}  // namespace leat::record
