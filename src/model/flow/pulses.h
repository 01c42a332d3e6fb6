// A settled cycle cut into stretches in each of which flows and volumes may be taken as constant.
#pragma once

#include <vector>

#include "model/flow/cycle.h"

namespace leat::model {

/// A part of a cycle.
struct Stretch {
  double from = 0.0, to = 0.0;  ///< s since the cycle began
  std::vector<double> flows;    ///< mean, of each path, m3/s
  std::vector<double> water;    ///< mean, of each vessel, m3
};

struct Pulses {
  double period = 0.0;          ///< s
  double phase = 0.0;           ///< s from the moment at which timers were set to the beginning of a cycle
  std::vector<FlowPath> paths;  ///< every pair of vessels between which water ran; mean flow, and mean fall of what ran
  std::vector<Stretch> stretches;

  std::size_t vessels() const { return stretches.front().water.size(); }
  /// The stretch that is on, or begins, at a time since the timers were set.
  std::size_t at(double clock) const;
  /// When each stretch begins between two times on that clock.
  std::vector<double> beginnings(double from, double to) const;
};

/// Needs a cycle with a period. A new stretch begins where something switches, and where a flow has changed by a
/// twentieth of the cycle's largest or a volume by a twentieth of its mean.
Pulses pulses_of(const Plumbing& plumbing, const Cycle& cycle);

}  // namespace leat::model
