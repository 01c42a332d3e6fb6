// Entries that hold certain words, as they are shown.
#pragma once

#include <string>
#include <vector>

#include "base/time/civil.h"
#include "record/entry.h"

namespace leat::tell {

/// The entries that hold each of the words, whatever their order and capitals; `a|b` is either. Looked for in the line
/// of an entry, in what was typed, and in the reason of a correction.
std::vector<record::Entry> entries_that_hold(std::vector<record::Entry> entries, const std::string& words,
                                             const Clock& clock);

}  // namespace leat::tell
