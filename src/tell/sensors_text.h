// What sensors sent: which there are, and a stretch of one as a table.
#pragma once

#include <string>

#include "base/time/civil.h"
#include "record/series.h"

namespace leat::tell {

std::string sensors_text(const std::vector<record::Series>& all, const Clock& clock);
std::string sensors_json(const std::vector<record::Series>& all);
std::string stretch_text(const record::Series& series, const std::vector<record::Summary>& points, const Clock& clock);
std::string stretch_json(const record::Series& series, const std::vector<record::Summary>& points);

}  // namespace leat::tell
