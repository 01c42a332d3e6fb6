// What making seals and looking at them share.
#pragma once

#include <map>

#include "record/seal.h"

namespace leat::record {

/// What of a day can be sealed: how many readings, and their digest.
struct DayHeld {
  std::int64_t count = 0;
  std::string digest;
};
DayHeld day_held(Database& db, std::int64_t series, Moment start);
/// By series and the day's start.
using DaysHeld = std::map<std::pair<std::int64_t, Moment>, DayHeld>;

/// A day's digest while its readings go by.
class DayDigest {
  std::string bytes_;
  std::int64_t count_ = 0;

 public:
  void add(const Sample& sample);
  std::int64_t count() const { return count_; }
  /// And begins anew.
  DayHeld finish();
};

/// What of the readings is not as it was sealed; empty when all is.
std::vector<std::string> faults_of_seals(Database& db, const DaysHeld& days);

/// What one sealing writes into its entry: a digest over its seals, whatever their order.
std::string digest_of(std::vector<Seal> seals);

SeriesName name_of_series(Database& db, std::int64_t series);

}  // namespace leat::record
