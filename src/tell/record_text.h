// Entries of the record in words.
#pragma once

#include <string>

#include "answers/note.h"
#include "base/time/civil.h"
#include "record/entry.h"

namespace leat::tell {

/// "fed 60 g", "ammonia 0.25 to 0.5 mg/L, basis not said", without place and time.
std::string entry_words(const record::Entry& entry);
/// The whole in one line: words, path, time, and what it supersedes.
std::string entry_line(const record::Entry& entry, const Clock& clock);

/// What was understood and kept, a line each; what is not plain with the sentence that would complete it.
std::string note_text(const answers::NoteAnswer& answer, const Clock& clock, const std::string& loop_file);

}  // namespace leat::tell
