// Statements that should hold of a plumbing that runs: each with value, limit, margin, source, and what to change.
#pragma once

#include "answers/check.h"

namespace leat::answers {

/// Appends the findings to the answer, worst first.
void judge_plumbing(const model::Loop& loop, CheckAnswer& answer);

}  // namespace leat::answers
