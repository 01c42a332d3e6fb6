// leat backup and leat restore.
#include <fmt/core.h>

#include <filesystem>
#include <utility>

#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "doors/command/verbs.h"
#include "record/backup.h"
#include "record/when.h"
#include "tell/record_text.h"

namespace leat::doors {
namespace {

/// "2026-11-25T074100", by the clock of the loop.
std::string date_of(const record::Context& context) {
  const CivilTime t = context.clock.local({static_cast<double>(context.now / 1000)});
  const int s = static_cast<int>(t.hour * 3600.0 + 0.5);
  return fmt::format("{}T{:02}{:02}{:02}", t.date.text(), s / 3600, s / 60 % 60, s % 60);
}

std::string backup_folder(const BackupFlags& flags) {
  if (!flags.folder.empty()) return flags.folder;
  return (std::filesystem::path(flags.loop).parent_path() / "backups").string();
}

std::optional<LoopOfRecord> loop_or_refuse(const BackupFlags& flags) {
  Problems problems;
  auto loop = loop_of_record(flags.loop, flags.now, problems);
  if (!problems.empty()) refused(problems);
  return loop;
}

}  // namespace

int verb_backup(const BackupFlags& flags) {
  const auto loop = loop_or_refuse(flags);
  if (!loop) return 2;
  if (flags.keep < 1) return refused("backup", fmt::format("--keep {} keeps nothing; write 1 or more", flags.keep));
  const std::string record = record_path(flags.loop);
  std::error_code none;
  if (!std::filesystem::exists(record, none))
    return refused("backup", fmt::format("{} is not there: nothing has been noted yet", record));
  seal_by_now(flags.loop, loop->context.now);
  const auto made =
      record::make_backup(record, backup_folder(flags), date_of(loop->context), static_cast<std::size_t>(flags.keep));
  if (const auto* trouble = std::get_if<record::Trouble>(&made)) return refused("backup", trouble->said);
  fmt::print("{}", tell::backup_text(std::get<record::Backup>(made)));
  return 0;
}

int verb_restore(const BackupFlags& asked) {
  BackupFlags flags = asked;
  // The one word that was said may be the backup.
  if (flags.file.empty() && flags.loop.ends_with(".db")) flags.file = std::exchange(flags.loop, "loop.toml");
  const auto loop = loop_or_refuse(flags);
  if (!loop) return 2;
  const std::string record = record_path(flags.loop), folder = backup_folder(flags);
  std::string from = flags.file;
  if (from.empty()) {
    const auto all = record::backups_of(record, folder);
    if (all.empty())
      return refused("restore",
                     fmt::format("no backup of {} lies in {}; name one, or its folder with --from", record, folder));
    from = all.back();
  }
  std::error_code none;
  if (!std::filesystem::exists(from, none)) return refused("restore", fmt::format("{} is not there", from));
  if (std::filesystem::equivalent(from, record, none))
    return refused("restore", fmt::format("{} is the record itself; name a backup", from));
  const auto done = record::restore(record, from, date_of(loop->context));
  if (const auto* trouble = std::get_if<record::Trouble>(&done)) return refused("restore", trouble->said);
  fmt::print("{}", tell::restored_text(std::get<record::Restored>(done), loop->context.clock));
  return 0;
}

}  // namespace leat::doors
