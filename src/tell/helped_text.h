// Whether a change helped, in words and as JSON.
#pragma once

#include <string>

#include "answers/helped.h"

namespace leat::tell {

std::string helped_text(const answers::HelpedAnswer& answer, const Clock& clock);
std::string helped_json(const answers::HelpedAnswer& answer, const Clock& clock);

}  // namespace leat::tell
