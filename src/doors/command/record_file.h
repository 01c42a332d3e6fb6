// The record that belongs to a loop file, and what its reader must know of the loop. A loop file with mistakes is no
// reason to refuse a note.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "base/result/problem.h"
#include "record/places.h"
#include "record/store.h"

namespace leat::doors {

/// "yard/loop.toml" has "yard/loop.record.db".
std::string record_path(const std::string& loop_file);

struct LoopOfRecord {
  std::string text;  ///< of the file, whole
  record::Context context;
  std::string name{};                    ///< of the loop, as far as it could be read
  std::size_t mistakes = 0;              ///< in the loop file
  std::map<std::string, double> fish{};  ///< how many the file says are in each tank
  double fish_grams = 0.0;               ///< what they weigh by it
};
/// Reads the loop file as far as it can be read. Only one that is not there is a problem. `now` is a time, or empty for
/// the clock of this computer.
std::optional<LoopOfRecord> loop_of_record(const std::string& loop_file, const std::string& now, Problems& problems);

/// Seals what sensors read up to now, so that the head that is told covers it. A record that cannot be written is left.
void seal_by_now(const std::string& loop_file, record::Moment now);

/// Opens a record that must be there already.
std::optional<record::Store> open_record(const std::string& loop_file, bool to_write, std::string& why_not);

}  // namespace leat::doors
