// What the water of the whole loop holds, day by day.
#pragma once

#include "answers/ahead.h"

namespace leat::answers {

/// `ends` are the states at the end of each day.
std::vector<InWater> in_water(const model::Loop& loop, const model::Equations& equations,
                              const std::vector<double>& start, const std::vector<std::vector<double>>& ends);

}  // namespace leat::answers
