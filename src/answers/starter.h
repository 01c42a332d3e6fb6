// leat new: a loop's file from what a grower can say in ten minutes; the rest guessed, and marked as guessed.
#pragma once

#include <string>
#include <vector>

#include "base/result/problem.h"

namespace leat::answers {

/// Everything as typed, with its unit; empty: guessed.
struct StarterRequest {
  std::string name, latitude, longitude, altitude, time_zone;
  std::string fish, count, mass, plant;
  std::string tank, depth, sump;
  std::string raft, gravel;  ///< areas; "none": there is no such bed
  std::string flow;          ///< what arrives at the tank, by bucket and watch: "1200 L/h" or "10 L in 30 s"
  std::string low, high;     ///< of the water, last night
};

struct Guess {
  std::string path, value;  ///< "tank.main.volume", "1000 L"
  std::string why, better;  ///< the reason, and what would sharpen it
};

struct Starter {
  std::string text;
  std::vector<Guess> guesses;
  Problems problems;  ///< each with the key that it stands at; the text is then no good
};

Starter starter(const StarterRequest& request);

}  // namespace leat::answers
