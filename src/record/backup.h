// Copies of the record that were looked at, and the way back to one of them.
#pragma once

#include "record/store.h"

namespace leat::record {

struct Backup {
  std::string path;
  Verified found;                    ///< what a look at the copy found
  std::vector<std::string> removed;  ///< older ones beyond the number to keep
};

/// Copies the record into a folder, dated, while it may be in use; looks at the copy before it gets its name; then
/// removes the oldest beyond `keep`. A copy with a fault is thrown away and is a trouble.
std::variant<Backup, Trouble> make_backup(const std::string& record, const std::string& folder, const std::string& date,
                                          std::size_t keep);

/// Backups of a record in a folder, the oldest first.
std::vector<std::string> backups_of(const std::string& record, const std::string& folder);

struct Restored {
  std::string from, kept;      ///< the backup, and where the record that was is kept; empty if there was none
  Verified found;              ///< the record as it is now
  std::int64_t was = 0;        ///< entries before; 0 when the old file could not be read
  std::vector<Entry> missing;  ///< entries of the old record that the backup does not hold
};

/// Puts a backup in the record's place. The record that was is kept beside it under its date, even if it is damaged.
std::variant<Restored, Trouble> restore(const std::string& record, const std::string& backup, const std::string& date);

}  // namespace leat::record
