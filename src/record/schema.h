// The tables of the record, and how an older file becomes one of today. docs/record.md describes them.
#pragma once

#include "record/sqlite.h"

namespace leat::record {

/// "leat", in the file's head (application_id), so that other SQLite files are not taken for a record.
inline constexpr std::int64_t kApplication = 0x6C656174;
/// The format that this program writes; SQLite keeps it as user_version.
int newest_format();

/// Sets up a connection for writing: log, durability, keys; makes the tables or brings them up to the newest format.
void prepare(Database& db);
/// Nothing has been put into it yet, not even its tables.
bool is_empty(Database& db);
/// Whether it is a record that this program can read; throws if not.
void look_at(Database& db);
/// An older format, for tests: the tables as they were made up to it.
void make_format(Database& db, int format);

}  // namespace leat::record
