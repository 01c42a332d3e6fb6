// Heat that a whole loop takes up for a degree.
#pragma once

#include "model/loop/loop.h"

namespace leat::answers {

/// J/K: its water as it stands at rest, and the stones around it (2.2 MJ/m3/K, common practice). Walls and soil are
/// left out.
double heat_capacity_of(const model::Loop& loop);

}  // namespace leat::answers
