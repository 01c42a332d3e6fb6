// The bands of an answer, as text and as JSON.
#pragma once

#include <string>

#include "answers/ahead.h"

namespace leat::tell {

/// Low, middle and high as "9.1 (8.4 to 9.9) mg/L".
std::string spread_text(std::string_view word, const answers::Spread& s);
/// How sure a run is: bands of each tank day by day, chances to cross a limit, what they owe most to.
std::string bands_text(const answers::AheadAnswer& answer);
/// What was drawn, each with its width and source.
std::string drawn_text(const std::vector<answers::Drawn>& drawn);

}  // namespace leat::tell
