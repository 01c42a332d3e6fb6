// What must hold of every loop, however it is plumbed.
#pragma once

#include <string>
#include <vector>

#include "tests/random/choices.h"

namespace leat::random {

struct Seen {
  std::vector<std::string> wrong;  ///< each statement that did not hold, with its numbers
  std::string cycle;               ///< steady, periodic, mean, none
  bool hunts = false, spills = false, dries = false, siphons = false, turns = false;
  long steps = 0;
  int faults = 0;
};

/// Reads the text and follows its water: at rest, through its cycle, six hours, and `most_faults` of its faults (all of
/// them below 0), chosen by `choices`.
Seen look_at(const std::string& text, Choices& choices, int most_faults);

}  // namespace leat::random
