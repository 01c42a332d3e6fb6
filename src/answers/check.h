// leat check: is this plumbing sound, before a pipe is cut?
#pragma once

#include <optional>

#include "answers/finding.h"
#include "model/flow/plumbing.h"
#include "model/loop/loop.h"

namespace leat::answers {

/// One vessel with the pumps running, and after they have stopped.
struct VesselLevels {
  std::string path;
  Length<> running, at_rest;  ///< levels
  Length<> freeboard_running, freeboard_at_rest;
  Volume<> water;  ///< running
  Flow<> through;  ///< what comes in
  Frequency<> turnover;
};

struct PumpPoint {
  std::string path;
  Flow<> flow;
  Length<> head;
  Power<> power;  ///< electric
  bool power_measured = false;
  Energy<> yearly;
  double share_of_largest = 0.0;  ///< of the flow without head
};

struct PipeState {
  std::string path;
  Flow<> flow;
  Velocity<> velocity;
  double reynolds = 0.0, friction_factor = 0.0;
  Length<> loss;
};

struct OverflowState {
  std::string path;
  Flow<> flow;
  Length<> over_rim, sleeve_loss;
  Velocity<> sleeve_velocity;
  Length<> standpipe_level;  ///< where the water stands in the standpipe
  Flow<> drowns_at;
  double falling = 0.0;  ///< V / sqrt(g D) in the falling part, as if full
};

struct CheckAnswer {
  std::string loop_name;
  bool running_settled = true, rest_settled = true;
  std::vector<bool> ran_dry;  ///< pumps that sucked air before the levels had settled
  std::vector<VesselLevels> vessels;
  std::vector<PumpPoint> pumps;
  std::vector<PipeState> pipes;
  std::vector<OverflowState> overflows;
  Volume<> drain_back;  ///< that comes to the vessels with pumps when the power fails
  Power<> power;
  Energy<> yearly;
  std::vector<Finding> findings;
  std::vector<model::Assumption> assumptions;
};

CheckAnswer check(const model::Loop& loop);

}  // namespace leat::answers
