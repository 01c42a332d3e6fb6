// Statements that should hold of a plumbing that runs, and of one that fails: each with value, limit, margin, source,
// and what to change.
#pragma once

#include "answers/check_study.h"

namespace leat::answers {

/// Appends all findings to the answer, worst first.
void judge_plumbing(const CheckStudy& study, CheckAnswer& answer);

void judge_flows(const CheckStudy& study, CheckAnswer& answer);
void judge_returns(const CheckStudy& study, CheckAnswer& answer);
void judge_beds(const CheckStudy& study, CheckAnswer& answer);
void judge_fish(const CheckStudy& study, CheckAnswer& answer);
void judge_sump(const CheckStudy& study, CheckAnswer& answer);
/// Failures too are told line by line.
void judge_failures(const CheckStudy& study, CheckAnswer& answer);

}  // namespace leat::answers
