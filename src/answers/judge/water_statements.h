// Statements that should hold of the water in the days ahead.
#pragma once

#include "answers/ahead.h"

namespace leat::answers {

/// Appends the findings, the one that is broken first or has least to spare at the front.
void judge_water(const model::Loop& loop, AheadAnswer& answer);

/// Whether fish that are moved meet a step that they bear, or are brought over slowly enough.
void judge_moves(const model::Loop& loop, AheadAnswer& answer);

}  // namespace leat::answers
