// What does not fit, in words.
#pragma once

#include <string>

#include "answers/odd.h"

namespace leat::tell {

/// "Entries 12, 15 and 17", or "" for none.
std::string entries_named(const std::vector<std::int64_t>& entries);
std::string oddity_text(const learn::Oddity& oddity, const Clock& clock, int number);
/// The few to tell, or all that was ever seen.
std::string odd_text(const answers::OddAnswer& answer, const Clock& clock, bool all);
std::string odd_json(const answers::OddAnswer& answer, bool all);

}  // namespace leat::tell
