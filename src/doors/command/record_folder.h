// The whole record as a folder of plain files, and back.
#pragma once

#include "doors/command/record_tables.h"

namespace leat::doors {

/// Entries as a table and as lines, chapters, photos, the readings of each sensor, and their seals.
int export_folder(const std::string& folder, const std::vector<record::Entry>& entries, const record::Store& store,
                  const std::string& record_path, const Clock& clock);
/// All of that into the record: into an empty one it gives the same record.
int import_folder(const RecordFlags& flags, const LoopOfRecord& loop);
/// Entries of an export that are not there yet.
int import_entries(const RecordFlags& flags, const std::vector<record::Entry>& other);

}  // namespace leat::doors
