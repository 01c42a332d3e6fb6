// leat check: is this plumbing sound, before a pipe is cut?
#pragma once

#include <optional>

#include "answers/finding.h"
#include "answers/mobile_water.h"
#include "model/flow/cycle.h"
#include "model/loop/loop.h"

namespace leat::answers {

/// One vessel with the pumps running, and after they have stopped. In a loop that switches `running` is the highest
/// level of its cycle, and `at_rest` the highest that a power cut at its worst moment leads to.
struct VesselLevels {
  std::string path;
  Length<> running, at_rest;  ///< levels
  Length<> lowest;            ///< of the cycle
  Length<> freeboard_running, freeboard_at_rest;
  Volume<> water;  ///< running, the mean
  Flow<> through;  ///< what comes in, the mean
  Frequency<> turnover;
};

struct PumpPoint {
  std::string path;
  Flow<> flow;         ///< while it runs, the mean
  Flow<> least, most;  ///< while it runs
  Length<> head;
  Power<> power;  ///< electric
  bool power_measured = false;
  Energy<> yearly;
  double share_of_largest = 0.0;  ///< of the flow without head
  double running = 1.0;           ///< share of the time that it runs
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

/// What an overflow, siphon, drain hole, weir or gravity return carries.
struct PassageState {
  std::string path;
  Flow<> flow;
};

/// One of the things that can fail, in words.
struct FailureLine {
  std::string fault;       ///< "the power fails"
  std::string spills;      ///< "sump.main after 3 min, 40 L", or "nothing"
  std::string dry;         ///< "pump.main after 10 min", or ""
  double fish_keep = 1.0;  ///< least share of its depth that a fish tank keeps
};

/// What switches in the loop, and how it repeats.
struct CycleSummary {
  bool switches = false;
  bool periodic = false;
  std::string said;  ///< why there is no cycle, or what hunts
  Duration<> period{};
  struct Bed {
    std::string path;
    double wet_share = 1.0;
    Flow<> through;
    double share_of_flow = 0.0;  ///< of all that enters gravel beds
  };
  std::vector<Bed> beds;
  std::string averaging;  ///< why the mean flows do not stand for it, or ""
};

struct CheckAnswer {
  std::string loop_name;
  CycleSummary cycle;
  std::optional<MobileWater> mobile;
  std::vector<FailureLine> failures;
  bool running_settled = true, rest_settled = true;
  std::vector<bool> ran_dry;  ///< pumps that sucked air before the levels had settled
  std::vector<VesselLevels> vessels;
  std::vector<PumpPoint> pumps;
  std::vector<PipeState> pipes;
  std::vector<OverflowState> overflows;
  std::vector<PassageState> passages;
  Volume<> drain_back;  ///< that comes to the vessels with pumps when the power fails
  Power<> power;
  Energy<> yearly;
  std::vector<Finding> findings;
  std::vector<model::Assumption> assumptions;
};

CheckAnswer check(const model::Loop& loop);

}  // namespace leat::answers
