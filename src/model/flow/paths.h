// Who sends water to whom: the vessel-to-vessel flows of a running loop, junctions mixed away.
#pragma once

#include <vector>

#include "model/flow/plumbing.h"

namespace leat::model {

/// Water that runs from one vessel to another.
struct FlowPath {
  int from = 0, to = 0;
  Flow<> flow;
  Length<> fall{};           ///< through the air at its end
  bool by_overflow = false;  ///< over a rim: follows what comes in; otherwise pumped or driven by level
};

std::vector<FlowPath> flow_paths(const Loop& loop, const Plumbing& plumbing, const Settled& running);
std::vector<FlowPath> flow_paths(const Plumbing& plumbing, const std::vector<Length<>>& levels, const Flows& flows);

}  // namespace leat::model
