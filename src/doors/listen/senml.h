// Sensor Measurement Lists (RFC 8428) in JSON: a pack of records, each made whole by the base fields before it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result/problem.h"
#include "record/entry.h"

namespace leat::doors {

/// A record without base fields and without relative times (RFC 8428, 4.6).
struct SenmlRecord {
  std::string name, unit;
  record::Moment at = 0;
  double value = 0.0;
};

struct Senml {
  std::vector<SenmlRecord> records;
  std::size_t no_number = 0;  ///< records that hold words, yes or no, bytes or a sum only; left out
};

/// Reads a pack. A time below 2^28 seconds counts from now. What is wrong comes with the number of its record.
Senml read_senml(std::string_view text, std::string_view file, record::Moment now, Problems& problems);

}  // namespace leat::doors
