#include "record/backup.h"

#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "record/photo.h"
#include "record/schema.h"
#include "record/table.h"

namespace leat::record {
namespace {

namespace fs = std::filesystem;

/// On the disk, and not only on its way.
void sync(const std::string& path) {
  const int file = ::open(path.c_str(), O_RDONLY);
  if (file < 0) return;
  ::fsync(file);
  ::close(file);
}

std::string in(const std::string& folder, const std::string& name) {
  return folder == "." ? name : (fs::path(folder) / name).string();
}

std::string folder_of(const std::string& path) {
  const std::string folder = fs::path(path).parent_path().string();
  return folder.empty() ? "." : folder;
}

/// A name that nothing has yet.
std::string free_name(const std::string& start, const std::string& end) {
  std::error_code none;
  std::string name = start + end;
  for (int i = 2; fs::exists(name, none); ++i) name = fmt::format("{}_{}{}", start, i, end);
  return name;
}

std::string stem_of(const std::string& record) {
  return fs::path(record).stem().string();  // "loop.record"
}

void remove_with_log(const std::string& path) {
  std::error_code none;
  for (const char* end : {"", "-wal", "-shm", "-journal"}) fs::remove(path + end, none);
}

/// Copies a record into a new file without a log beside it.
void copy(const std::string& from, const std::string& to) {
  Database source(from, Access::read);
  look_at(source);
  Database target(to, Access::create);
  source.copy_into(target);
  target.run("PRAGMA journal_mode = DELETE");
}

/// Photos of a record that lies in some folder, a backup or not: one folder for all copies.
std::string photos_beside(const std::string& path, const std::string& record) {
  return in(folder_of(path), fs::path(photo_folder(record)).filename().string());
}

/// Copies the photos that a record speaks of; trouble when one of them is not whole.
std::optional<Trouble> bring_photos(const std::string& record, const std::string& from, const std::string& to) {
  auto store = Store::open_to_read(record);
  if (auto* trouble = std::get_if<Trouble>(&store)) return *trouble;
  return copy_photos(std::get<Store>(store), from, to);
}

std::variant<Verified, Trouble> look(const std::string& path) {
  auto store = Store::open_to_read(path);
  if (auto* trouble = std::get_if<Trouble>(&store)) return *trouble;
  auto found = std::get<Store>(store).verify();
  if (const auto* v = std::get_if<Verified>(&found); v && !v->faults.empty())
    return Trouble{fmt::format("{}: {}", path, v->faults[0])};
  return found;
}

std::vector<Entry> all_entries(const std::string& path) {
  auto store = Store::open_to_read(path);
  if (std::holds_alternative<Trouble>(store)) return {};
  auto found = std::get<Store>(store).entries({.superseded = true});
  auto* entries = std::get_if<std::vector<Entry>>(&found);
  if (!entries) return {};
  std::sort(entries->begin(), entries->end(), [](const Entry& a, const Entry& b) { return a.number < b.number; });
  return std::move(*entries);
}

/// The record that was, under another name: as a copy if it can be read, as it is if not.
std::string set_aside(const std::string& record, const std::string& date) {
  std::error_code none;
  if (!fs::exists(record, none)) return "";
  const std::string kept = free_name(in(folder_of(record), stem_of(record) + ".before-restore-" + date), ".db");
  try {
    copy(record, kept);
    if (std::holds_alternative<Verified>(look(kept))) return kept;
  } catch (const Failed&) {
  }
  remove_with_log(kept);
  fs::rename(record, kept, none);
  if (none) throw Failed(fmt::format("{}: it cannot be set aside ({}); nothing was touched", record, none.message()));
  if (fs::exists(record + "-wal", none)) fs::rename(record + "-wal", kept + "-wal", none);
  fs::remove(record + "-shm", none);
  return kept;
}

}  // namespace

std::vector<std::string> backups_of(const std::string& record, const std::string& folder) {
  std::vector<std::string> found;
  std::error_code none;
  for (const auto& file : fs::directory_iterator(folder, none)) {
    const std::string name = file.path().filename().string();
    // A date follows at once, so that nothing else of that name is ever removed.
    const std::string start = stem_of(record) + ".20";
    if (name.starts_with(start) && name.ends_with(".db")) found.push_back(in(folder, name));
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::variant<Backup, Trouble> make_backup(const std::string& record, const std::string& folder, const std::string& date,
                                          std::size_t keep) {
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) return Trouble{fmt::format("{}: the folder cannot be made ({})", folder, error.message())};
  const std::string part = in(folder, fmt::format("{}.part-{}", stem_of(record), ::getpid()));
  try {
    copy(record, part);
    auto found = look(part);
    if (const auto* trouble = std::get_if<Trouble>(&found)) {
      remove_with_log(part);
      return Trouble{fmt::format("the copy was looked at and is not sound, so it was thrown away ({})", trouble->said)};
    }
    if (auto trouble = bring_photos(part, photo_folder(record), photos_beside(part, record))) {
      remove_with_log(part);
      return Trouble{
          fmt::format("no backup was made: {}. leat record --verify tells all that is wrong", trouble->said)};
    }
    sync(part);
    Backup made{free_name(in(folder, stem_of(record) + "." + date), ".db"), std::get<Verified>(found), {}};
    fs::rename(part, made.path);
    sync(folder);
    auto all = backups_of(record, folder);
    for (std::size_t i = 0; all.size() - i > std::max<std::size_t>(keep, 1); ++i) {
      if (all[i] == made.path) continue;
      remove_with_log(all[i]);
      made.removed.push_back(all[i]);
    }
    return made;
  } catch (const Failed& failed) {
    remove_with_log(part);
    return Trouble{failed.what()};
  } catch (const fs::filesystem_error& failed) {
    remove_with_log(part);
    return Trouble{fmt::format("{}: {}", folder, failed.code().message())};
  }
}

std::variant<Restored, Trouble> restore(const std::string& record, const std::string& backup, const std::string& date) {
  auto found = look(backup);
  if (const auto* trouble = std::get_if<Trouble>(&found))
    return Trouble{fmt::format("the backup is not sound, so nothing was touched ({})", trouble->said)};
  Restored done{backup, "", std::get<Verified>(found), 0, {}};
  try {
    const auto before = all_entries(record);
    done.was = static_cast<std::int64_t>(before.size());
    done.missing = merged(all_entries(backup), before).fresh;
    if (auto trouble = bring_photos(backup, photos_beside(backup, record), photo_folder(record)))
      return Trouble{fmt::format("the backup is not sound, so nothing was touched: {}", trouble->said)};
    done.kept = set_aside(record, date);
    {
      Database source(backup, Access::read), target(record, Access::create);
      source.copy_into(target);
      prepare(target);
    }
    sync(record);
    sync(folder_of(record));
    auto now = look(record);
    if (const auto* trouble = std::get_if<Trouble>(&now))
      return Trouble{fmt::format("the record is not sound after it ({}); the one that was is kept as {}", trouble->said,
                                 done.kept)};
    done.found = std::get<Verified>(now);
    return done;
  } catch (const Failed& failed) {
    return Trouble{done.kept.empty() ? failed.what()
                                     : fmt::format("{}; the record that was is kept as {}", failed.what(), done.kept)};
  }
}

}  // namespace leat::record
