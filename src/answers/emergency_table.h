// Time that fish have without power, worked out beforehand: to be looked up without a network.
#pragma once

#include <string>
#include <vector>

#include "answers/drawdown.h"

namespace leat::answers {

/// Time from the failure over water temperature, stock and state of the fish, for one tank of this loop as it rests.
struct EmergencyTable {
  std::string tank;
  OxygenLevels levels;
  struct Row {
    double temperature_c, stock;  ///< stock as a share of today's
    Mass<> fish;
    FishState state;
    TimeBand to_low, to_danger;
  };
  std::vector<Row> rows;
  std::vector<std::string> assumed;  ///< for all rows
};

/// One for each tank with fish. Oxygen 90 % of saturation at the start; temperatures over what the limits span. It is
/// read in a hurry, so its first time is the cautious end: one time in twenty it is sooner.
std::vector<EmergencyTable> emergency_tables(const model::Loop& loop, const Draws& draws = {400});

}  // namespace leat::answers
