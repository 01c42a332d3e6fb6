// The plantings in words, as JSON and as a table of plants.
#pragma once

#include <string>

#include "answers/trial.h"
#include "base/time/civil.h"

namespace leat::tell {

std::string trial_text(const answers::TrialAnswer& answer, const Clock& clock);
/// What can honestly be said of one trial in one sentence; "" when two treatments were not compared.
std::string trial_sentence(const answers::Trial& trial);
std::string trial_json(const answers::TrialAnswer& answer, const Clock& clock);
/// One row a plant, with its fate and the entries that say so.
std::string trial_csv(const answers::TrialAnswer& answer, const Clock& clock);

}  // namespace leat::tell
