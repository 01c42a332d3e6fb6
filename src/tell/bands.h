// The bands of an answer, as text and as JSON.
#pragma once

#include <string>

#include "answers/ahead.h"

namespace leat::tell {

/// Low, middle and high as "9.1 (8.4 to 9.9) mg/L".
std::string spread_text(std::string_view word, const answers::Spread& s);
/// How sure a run is: bands of each tank day by day, chances to cross a limit, what they owe most to.
std::string bands_text(const answers::AheadAnswer& answer);
/// "How sure: 100 runs, each with 9 things that nobody knows drawn anew (seed 1) ...", with what the size is chosen
/// for.
std::string how_drawn_text(const answers::HowDrawn& how, const char* runs, std::size_t width = 100);
/// What each number, or difference of two, owes most to, with how sure each is.
std::string owed_text(const std::vector<answers::OwedMost>& all, double by_chance, bool differences = false,
                      std::size_t width = 100);
/// What was drawn, each with its width and source, and what goes together.
std::string drawn_text(const std::vector<answers::Drawn>& drawn, const std::vector<answers::DrawnTogether>& together);

}  // namespace leat::tell
