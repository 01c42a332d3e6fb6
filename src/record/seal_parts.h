// What making seals and looking at them share.
#pragma once

#include "record/seal.h"

namespace leat::record {

/// What of a day can be sealed: how many readings, and their digest.
struct DayHeld {
  std::int64_t count = 0;
  std::string digest;
};
DayHeld day_held(Database& db, std::int64_t series, Moment start);

/// What one sealing writes into its entry: a digest over its seals, whatever their order.
std::string digest_of(std::vector<Seal> seals);

SeriesName name_of_series(Database& db, std::int64_t series);

}  // namespace leat::record
