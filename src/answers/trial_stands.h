// Inside leat trial: plants gathered to stands, and what is made of them.
#pragma once

#include "answers/trial.h"

namespace leat::answers {

/// Puts every plant and cut of one crop and chapter into its stand, and what is left out with its reason.
void gather_stands(Trial& trial, const Plantings& plantings, const TrialRequest& request);

/// Treatments in the order of the stands.
std::vector<std::string> treatments_in(const Trial& trial);

/// Every pair of treatments on every basis.
void compare_treatments(Trial& trial, double level);
/// How many originals lived, and how long.
void count_lived(Trial& trial, const Plantings& plantings, const TrialRequest& request);
/// Growth of each bed that was weighed more than once.
void measure_growth(Trial& trial, const Plantings& plantings, const TrialRequest& request);

/// The treatment of a bed: as asked, or else its kind.
std::string treatment_of(const std::string& bed, const TrialRequest& request);

}  // namespace leat::answers
