// What the files about series share.
#pragma once

#include "record/series.h"
#include "record/sqlite.h"

namespace leat::record {

/// The number of a series; begun, with the entry that says so, when it is not there. Within a transaction of the
/// caller's.
std::int64_t series_for(Database& db, const SeriesName& name, Moment first, Moment now);

/// "temperature at tank.nursery by probe 1"
std::string name_text(const SeriesName& name);

/// The first quarter of an hour in a stretch of time whose sums are not those of its readings.
std::optional<Moment> first_difference(Database& db, std::int64_t series, Moment from, Moment to);

}  // namespace leat::record
