// leat record --export and --import.
#pragma once

#include "doors/command/record_file.h"
#include "doors/command/verbs.h"

namespace leat::doors {

/// Writes what the filter lets through to a .csv or .jsonl file, or all of both and the chapters into a folder.
int export_record(const RecordFlags& flags, const record::Store& store, const Clock& clock,
                  const record::Filter& filter);

/// Takes in an export, or a table from elsewhere with --map.
int import_record(const RecordFlags& flags, const LoopOfRecord& loop);

}  // namespace leat::doors
