#include "doors/command/record_verbs.h"

#include <CLI/CLI.hpp>

#include "doors/command/add_verb.h"
#include "doors/command/verbs.h"

namespace leat::doors {
namespace {

void note_flags(CLI::App& verb, NoteFlags& flags) {
  verb.add_option("words", flags.words, "the loop's file (default loop.toml), then what to note: \"fed 60 g\"");
  verb.add_option("--at", flags.at, "when it was so: \"07:30\", \"yesterday\", \"this morning\" (default now)");
  verb.add_option("--kit", flags.kit, "what it was read with, \"drop kit\"");
  verb.add_option("--photo", flags.photos, "a picture to keep with it, JPEG, PNG, WebP or HEIC")
      ->take_all()
      ->expected(1);
  verb.add_flag("--dry-run", flags.dry, "say what is understood and keep nothing");
  verb.add_option("--key", flags.key, "a name of this sending, 8 to 64 letters: sent twice it is kept once");
  verb.add_flag("--json", flags.json, "the answer as JSON");
  verb.footer("Wrong? leat record --correct NUMBER \"what is right\"; \"nothing\" if it never was.");
}

void record_flags(CLI::App& verb, RecordFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--since", flags.since, "from this time on: \"2026-11-20\", \"yesterday\"");
  verb.add_option("--until", flags.until, "up to this time");
  verb.add_option("--what", flags.what, "only these: fed, pH, died, a subject such as rocket, or reading, deed");
  verb.add_option("--where", flags.where, "only at this part of the loop: \"raft 1\", tank.nursery");
  verb.add_option("--search", flags.search, "only what holds all of these words; a|b is either");
  verb.add_option("--latest", flags.latest, "how many at most, the latest (default 40)");
  verb.add_flag("--all", flags.all, "every one");
  verb.add_flag("--superseded", flags.superseded, "what was corrected or withdrawn as well");
  verb.add_option("--correct", flags.correct, "the number of an entry and what should stand there")->expected(2);
  verb.add_option("--why", flags.why, "the reason for --correct");
  verb.add_option("--export", flags.export_to, "write it to a .csv or .jsonl file, or all of it to a folder");
  verb.add_option("--import", flags.import_from,
                  "take in an export (its folder, .csv, .jsonl), or with --map a table from elsewhere");
  verb.add_option("--map", flags.map, "what its columns are: \"Date=date, Temp=temperature degC, Text=note\"");
  verb.add_option("--dates", flags.dates, "what stands first in its dates: year, day or month (default year)");
  verb.add_flag("--dry-run", flags.dry, "say what --import would take in and keep nothing");
  verb.add_flag("--verify", flags.verify, "look at every entry again and print the head of the chain");
  verb.add_option("--head", flags.head, "a head you kept, which --verify must find in it");
  verb.add_flag("--sensors", flags.sensors, "what sensors sent, a line each");
  verb.add_option("--points", flags.points, "one sensor as a table of about so many rows: low, mean, high");
  verb.add_flag("--json", flags.json, "what was found as JSON");
}

void backup_flags(CLI::App& verb, BackupFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("--to", flags.folder, "folder (default backups, beside the loop's file)");
  verb.add_option("--keep", flags.keep, "how many to keep; the oldest go (default 10)");
}

void restore_flags(CLI::App& verb, BackupFlags& flags) {
  add_loop(verb, flags.loop);
  verb.add_option("backup", flags.file, "the backup (default the latest)");
  verb.add_option("--from", flags.folder, "folder of the backups (default backups, beside the loop's file)");
}

}  // namespace

void add_record_verbs(CLI::App& app, int& code) {
  add_verb(app, code, "note", verb_note, note_flags);
  add_verb(app, code, "record", verb_record, record_flags);
}

void add_backup_verbs(CLI::App& app, int& code) {
  add_verb(app, code, "backup", verb_backup, backup_flags);
  add_verb(app, code, "restore", verb_restore, restore_flags);
}

}  // namespace leat::doors
