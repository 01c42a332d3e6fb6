// Entries of the record in words.
#pragma once

#include <string>

#include "answers/note.h"
#include "answers/record.h"
#include "base/result/problem.h"
#include "base/time/civil.h"
#include "record/backup.h"
#include "record/entry.h"

namespace leat::tell {

/// "fed 60 g", "ammonia 0.25 to 0.5 mg/L, basis not said", without place and time.
std::string entry_words(const record::Entry& entry);
/// The whole in one line: words, path, time, and what it supersedes.
std::string entry_line(const record::Entry& entry, const Clock& clock);

/// What was understood and kept, a line each; what is not plain with the sentence that would complete it.
std::string note_text(const answers::NoteAnswer& answer, const Clock& clock, const std::string& loop_file);

struct ListShown {
  std::vector<record::Entry> entries;
  std::int64_t in_record = 0;          ///< entries of the record, all
  bool narrowed = false;               ///< by a filter
  bool cut = false;                    ///< only the latest
  std::optional<std::size_t> found{};  ///< how many held the words that were looked for
};
std::string list_text(const ListShown& list, const Clock& clock);
std::string corrected_text(const answers::Corrected& corrected, const Clock& clock);
std::string verified_text(const record::Verified& found, const std::string& path, const std::string& kept_head,
                          const Clock& clock);
std::string backup_text(const record::Backup& made);
std::string restored_text(const record::Restored& done, const Clock& clock);
/// Rows of a table from elsewhere: how many are plain, and the first that are not.
std::string import_text(const std::vector<record::Understood>& rows, const Clock& clock, bool dry);

std::string note_json(const answers::NoteAnswer& answer, const Clock& clock);
std::string list_json(const ListShown& list, const Clock& clock);
std::string corrected_json(const answers::Corrected& corrected, const Clock& clock);

std::string record_jsonl(const std::vector<record::Entry>& entries);
std::vector<record::Entry> read_record_jsonl(std::string_view text, std::string_view file, Problems& problems);

}  // namespace leat::tell
