#include "record/schema.h"

#include <fmt/core.h>

#include <array>

namespace leat::record {
namespace {

// Each step is run once, in order, in one transaction with its number. A step that was released is never edited.
constexpr std::array kSteps = {
    R"sql(
CREATE TABLE entry (
  number INTEGER PRIMARY KEY CHECK (number > 0),
  noted INTEGER NOT NULL,
  happened_from INTEGER NOT NULL,
  happened_to INTEGER NOT NULL CHECK (happened_to >= happened_from),
  kind TEXT NOT NULL CHECK (kind IN ('reading', 'deed', 'chapter', 'text', 'withdrawn')),
  what TEXT NOT NULL,
  place TEXT NOT NULL,
  towards TEXT NOT NULL,
  subject TEXT NOT NULL,
  count REAL,
  low REAL,
  high REAL CHECK (high >= low),
  unit TEXT NOT NULL,
  basis TEXT NOT NULL,
  about INTEGER NOT NULL CHECK (about IN (0, 1)),
  extreme TEXT NOT NULL CHECK (extreme IN ('', 'min', 'max')),
  window_from INTEGER,
  instrument TEXT NOT NULL,
  said TEXT NOT NULL,
  supersedes INTEGER REFERENCES entry (number) CHECK (supersedes < number),
  why TEXT NOT NULL,
  chain TEXT NOT NULL CHECK (length(chain) = 64)
) STRICT;
CREATE TABLE chapter (
  entry INTEGER PRIMARY KEY REFERENCES entry (number),
  description TEXT NOT NULL
) STRICT;
CREATE TRIGGER entry_in_order BEFORE INSERT ON entry
  WHEN NEW.number <> (SELECT coalesce(max(number), 0) + 1 FROM entry)
  BEGIN SELECT raise(ABORT, 'entries are added at the end only'); END;
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT raise(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entry_kept BEFORE DELETE ON entry BEGIN SELECT raise(ABORT, 'entries are never erased'); END;
CREATE TRIGGER chapter_stays BEFORE UPDATE ON chapter BEGIN SELECT raise(ABORT, 'entries are never changed'); END;
CREATE TRIGGER chapter_kept BEFORE DELETE ON chapter BEGIN SELECT raise(ABORT, 'entries are never erased'); END;
)sql",
    R"sql(
CREATE INDEX entry_by_time ON entry (happened_from);
CREATE INDEX entry_by_superseded ON entry (supersedes) WHERE supersedes IS NOT NULL;
)sql",
    R"sql(
CREATE TABLE sending (
  key TEXT PRIMARY KEY CHECK (length(key) BETWEEN 8 AND 64),
  first INTEGER NOT NULL REFERENCES entry (number),
  last INTEGER NOT NULL REFERENCES entry (number) CHECK (last >= first)
) STRICT;
CREATE TRIGGER sending_stays BEFORE UPDATE ON sending BEGIN SELECT raise(ABORT, 'sendings are never changed'); END;
CREATE TRIGGER sending_kept BEFORE DELETE ON sending BEGIN SELECT raise(ABORT, 'sendings are never erased'); END;
)sql",
    R"sql(
CREATE TABLE series (
  number INTEGER PRIMARY KEY,
  entry INTEGER NOT NULL UNIQUE REFERENCES entry (number),
  what TEXT NOT NULL CHECK (what <> ''),
  place TEXT NOT NULL,
  sensor TEXT NOT NULL,
  unit TEXT NOT NULL,
  basis TEXT NOT NULL,
  UNIQUE (what, place, sensor, unit, basis)
) STRICT;
CREATE TABLE sample (
  series INTEGER NOT NULL REFERENCES series (number),
  at INTEGER NOT NULL,
  value REAL NOT NULL,
  PRIMARY KEY (series, at)
) STRICT, WITHOUT ROWID;
CREATE TABLE span (
  series INTEGER NOT NULL,
  level INTEGER NOT NULL,
  start INTEGER NOT NULL,
  count INTEGER NOT NULL CHECK (count > 0),
  low REAL NOT NULL,
  high REAL NOT NULL CHECK (high >= low),
  sum REAL NOT NULL,
  rest REAL NOT NULL,
  PRIMARY KEY (series, level, start)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER series_stays BEFORE UPDATE ON series BEGIN SELECT raise(ABORT, 'series are never changed'); END;
CREATE TRIGGER series_kept BEFORE DELETE ON series BEGIN SELECT raise(ABORT, 'series are never erased'); END;
CREATE TRIGGER sample_stays BEFORE UPDATE ON sample BEGIN SELECT raise(ABORT, 'readings are never changed'); END;
CREATE TRIGGER sample_kept BEFORE DELETE ON sample BEGIN SELECT raise(ABORT, 'readings are never erased'); END;
)sql",
    R"sql(
CREATE TABLE sealing (
  entry INTEGER PRIMARY KEY REFERENCES entry (number),
  upto INTEGER NOT NULL
) STRICT;
CREATE TABLE seal (
  series INTEGER NOT NULL REFERENCES series (number),
  start INTEGER NOT NULL,
  entry INTEGER NOT NULL REFERENCES sealing (entry),
  count INTEGER NOT NULL CHECK (count > 0),
  digest TEXT NOT NULL CHECK (length(digest) = 64),
  PRIMARY KEY (series, start, entry)
) STRICT, WITHOUT ROWID;
CREATE TABLE unsealed (
  series INTEGER NOT NULL,
  start INTEGER NOT NULL,
  PRIMARY KEY (series, start)
) STRICT, WITHOUT ROWID;
INSERT INTO unsealed SELECT DISTINCT series, start - (start % 86400000 + 86400000) % 86400000 FROM span WHERE level = 0;
CREATE TRIGGER sealing_stays BEFORE UPDATE ON sealing BEGIN SELECT raise(ABORT, 'seals are never changed'); END;
CREATE TRIGGER sealing_kept BEFORE DELETE ON sealing BEGIN SELECT raise(ABORT, 'seals are never erased'); END;
CREATE TRIGGER seal_stays BEFORE UPDATE ON seal BEGIN SELECT raise(ABORT, 'seals are never changed'); END;
CREATE TRIGGER seal_kept BEFORE DELETE ON seal BEGIN SELECT raise(ABORT, 'seals are never erased'); END;
)sql"};

[[noreturn]] void refuse(const Database& db, const std::string& why) {
  throw Failed(fmt::format("{}: {}", db.path(), why));
}

void raise_format(Database& db, int to) {
  Transaction transaction(db);
  // Another leat may have been quicker.
  for (auto format = db.number("PRAGMA user_version"); format < to; ++format) {
    db.run(kSteps.at(static_cast<std::size_t>(format)));
    db.run(fmt::format("PRAGMA user_version = {}", format + 1).c_str());
    db.run(fmt::format("PRAGMA application_id = {}", kApplication).c_str());
  }
  transaction.commit();
}

void set_up(Database& db) {
  db.run("PRAGMA foreign_keys = ON");
  if (db.text("PRAGMA journal_mode = WAL") != "wal")
    refuse(db,
           "this disk cannot keep the log that makes a note safe (network drives cannot); keep the loop file on a "
           "disk of this computer");
  db.run("PRAGMA synchronous = FULL");
}

}  // namespace

bool is_empty(Database& db) {
  return db.number("SELECT count(*) FROM sqlite_schema") == 0 && db.number("PRAGMA user_version") == 0;
}

int newest_format() {
  return static_cast<int>(kSteps.size());
}

void look_at(Database& db) {
  if (db.number("PRAGMA application_id") != kApplication)
    refuse(db, "it is no record of leat; name another file, or move it away");
  const auto format = db.number("PRAGMA user_version");
  if (format > newest_format())
    refuse(db,
           fmt::format("it was written by a newer leat (format {}, this one knows {}); nothing was touched. Use the "
                       "newer program",
                       format, newest_format()));
}

void prepare(Database& db) {
  const bool fresh = is_empty(db);
  if (!fresh) look_at(db);
  set_up(db);
  if (db.number("PRAGMA user_version") < newest_format()) raise_format(db, newest_format());
}

void make_format(Database& db, int format) {
  set_up(db);
  raise_format(db, format);
}

}  // namespace leat::record
