// The limits that the water of fish tanks is held against.
#pragma once

#include <functional>
#include <vector>

#include "answers/ahead.h"

namespace leat::answers {

/// Danger of too little oxygen, of the limit: as `leat outage` has it.
inline constexpr double kDangerOfLimit = 0.6;

/// One limit on one quantity of the fish tanks.
struct Limit {
  const char* statement;
  const char* quantity;
  double limit;
  bool wants_above;
  double room;  ///< less than this to spare is tight
  std::function<double(const VesselDay&)> worst;
  std::function<double(const VesselDay&)> hour;  ///< empty: no hour belongs to it
  const char* action;
  const char* source;
};

/// All of them, in the order in which they are told.
std::vector<Limit> limits_of(const model::Limits& limits);

}  // namespace leat::answers
