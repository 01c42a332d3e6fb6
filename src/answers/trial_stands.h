// Inside leat trial: plants gathered to stands.
#pragma once

#include "answers/trial.h"

namespace leat::answers {

/// Puts every plant and cut of one crop and chapter into its stand, and what is left out with its reason.
void gather_stands(Trial& trial, const Plantings& plantings, const TrialRequest& request);

/// The treatment of a bed: as asked, or else its kind.
std::string treatment_of(const std::string& bed, const TrialRequest& request);

}  // namespace leat::answers
