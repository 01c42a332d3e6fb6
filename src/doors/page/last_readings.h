// The last readings of the record, for a monitor.
#pragma once

#include <string>
#include <vector>

#include "doors/page/metrics.h"

namespace leat::doors {

/// The newest reading of each kind at each place, of the last thousand and of every sensor; and how many entries there are,
/// -1 for no record. A reading without a number that stands on its own ("below 0.25") is left out.
std::vector<LastReading> last_readings(const std::string& record_path, long& entries);

}  // namespace leat::doors
