// What sensors read, for answers that reason on entries: the lowest and the highest of each civil day, and the latest.
#pragma once

#include "record/series.h"

namespace leat::record {

/// All entries that stand, and behind them what the sensors say, as readings that carry the number of the entry in
/// which their sensor began. The record itself is not changed.
std::variant<std::vector<Entry>, Trouble> entries_and_sensed(const Store& store, const Clock& clock);

}  // namespace leat::record
