// What this server did, for a program that watches it: OpenMetrics text.
#pragma once

#include <string>
#include <vector>

#include "doors/page/work.h"

namespace leat::doors {

struct LastReading {
  std::string what, where, unit;
  double value = 0.0;
  double at_s = 0.0;  ///< seconds since 1970
};

struct Served {
  long requests = 0, refused = 0, too_large = 0;
  long connections = 0, listeners = 0;
  long entries = -1;  ///< of the record; -1: there is none
  double since_s = 0.0;
  std::vector<LastReading> readings;
};

std::string metrics_text(const Served& served, const WorkCounts& work, std::size_t waiting);

}  // namespace leat::doors
