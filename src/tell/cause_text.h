// What killed the fish, in words.
#pragma once

#include <string>

#include "answers/cause.h"

namespace leat::tell {

std::string cause_text(const answers::CauseAnswer& answer, const Clock& clock);
std::string cause_json(const answers::CauseAnswer& answer);

}  // namespace leat::tell
