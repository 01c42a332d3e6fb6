// Small classical networks by hand methods: pipes that meet in one point, and loops after Hardy Cross. The program's
// own networks are solved by numerics/network.h.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "science/hydraulics/pipe_sizing.h"

namespace leat::science {

/// Head of a point where branches from vessels meet, so that their flows add to nothing.
///
/// levels         of the vessels
/// flow_of_drop   flow from vessel i to the point at a drop of head; odd and rising
Length<> junction_head(std::span<const Length<>> levels,
                       const std::function<Flow<>(std::size_t branch, Length<> drop)>& flow_of_drop);

/// One pipe of a loop: h = R Q|Q|, the flow positive the way the loop is walked.
struct LoopPipe {
  HeadPerFlowSquared<> resistance;
  Flow<> flow;
};

/// Correction of a loop's flows: dQ = - sum R Q|Q| / sum 2 R |Q|.
/// source   Cross 1936
Flow<> hardy_cross_correction(std::span<const LoopPipe> loop);

/// Flows that balance at every point but not yet round every loop.
struct LoopNetwork {
  struct Member {
    std::size_t pipe;
    int direction;  ///< +1 walked with the pipe's flow, -1 against it
  };
  std::vector<HeadPerFlowSquared<>> resistances;
  std::vector<Flow<>> flows;
  std::vector<std::vector<Member>> loops;
};

enum class LoopUpdate {
  simultaneous,  ///< all corrections from the flows before the round
  successive     ///< each loop sees the corrections before it
};

/// The flows after so many rounds, or settled to 1e-12 of the largest.
LoopNetwork hardy_cross(LoopNetwork network, int rounds, LoopUpdate update = LoopUpdate::simultaneous);

}  // namespace leat::science
