// Loops that a grower might plumb, good or ill, as the text that he would write.
#pragma once

#include <string>

#include "tests/random/choices.h"

namespace leat::random {

/// One to four tanks, raft and gravel beds, one sump or two, one to three pumps, and everything that leads water
/// between them. Sizes are spread evenly over their logarithm. Every number is one that somebody could have measured.
std::string random_loop(Choices& choices);

}  // namespace leat::random
