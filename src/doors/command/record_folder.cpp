#include "doors/command/record_folder.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

#include "answers/record.h"
#include "doors/command/files.h"
#include "doors/command/record_file.h"
#include "doors/command/refused.h"
#include "record/photo.h"
#include "record/sensor_table.h"
#include "record/table.h"
#include "tell/record_text.h"

namespace leat::doors {
namespace {

namespace fs = std::filesystem;
using record::Entry;

bool write(const std::string& path, const std::string& text) {
  std::string why_not;
  if (write_new_file(path, text, why_not)) return true;
  refused("record", why_not);
  return false;
}

std::string in(const std::string& folder, const std::string& name) {
  return (fs::path(folder) / name).string();
}

/// What the record holds already; nothing of one that is not there.
std::vector<Entry> held(const std::string& path, std::string& why_not) {
  std::error_code none;
  if (!std::filesystem::exists(path, none)) return {};
  const auto store = record::Store::open_to_read(path);
  if (const auto* trouble = std::get_if<record::Trouble>(&store)) return why_not = trouble->said, std::vector<Entry>();
  auto found = answers::whole_record(std::get<record::Store>(store));
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) return why_not = trouble->said, std::vector<Entry>();
  return std::move(std::get<std::vector<Entry>>(found));
}

/// Sensors' tables of a folder, in the order of their numbers.
std::vector<std::string> sensor_tables(const std::string& folder) {
  std::vector<std::pair<long, std::string>> found;
  std::error_code none;
  for (const auto& file : fs::directory_iterator(folder, none)) {
    const std::string name = file.path().filename().string();
    if (name.starts_with("sensor-") && name.ends_with(".csv"))
      found.push_back({std::atol(name.c_str() + 7), file.path().string()});
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> paths;
  for (auto& one : found) paths.push_back(std::move(one.second));
  return paths;
}

/// What a folder of an export holds.
struct Folder {
  std::vector<Entry> entries;
  std::vector<record::Seal> seals;
  std::vector<record::Batch> batches;
  std::int64_t readings = 0;
};

Folder read_folder(const std::string& folder, Problems& problems) {
  Folder all;
  const std::string entries = in(folder, "record.jsonl"), seals = in(folder, "seals.csv");
  if (const auto text = read_file(entries, problems)) all.entries = tell::read_record_jsonl(*text, entries, problems);
  std::error_code none;
  if (fs::exists(seals, none))
    if (const auto text = read_file(seals, problems))
      all.seals = record::seals_of(read_csv(*text, seals, problems), seals, problems);
  for (const std::string& path : sensor_tables(folder)) {
    const auto text = read_file(path, problems);
    if (!text) continue;
    for (record::Batch& b : record::batches_of(read_csv(*text, path, problems), path, problems)) {
      all.readings += static_cast<std::int64_t>(b.samples.size());
      all.batches.push_back(std::move(b));
    }
  }
  return all;
}

/// Photos, seals and readings, once the entries are in.
int take_rest(const RecordFlags& flags, const LoopOfRecord& loop, Folder& all) {
  auto opened = record::Store::open(record_path(flags.loop));
  if (const auto* trouble = std::get_if<record::Trouble>(&opened)) return refused("record", trouble->said);
  auto& store = std::get<record::Store>(opened);
  const auto no_photos =
      record::copy_photos(store, in(flags.import_from, "photos"), record::photo_folder(record_path(flags.loop)));
  if (no_photos) return refused("record", no_photos->said);
  const auto sealed = record::put_seals(store, all.seals);
  if (const auto* trouble = std::get_if<record::Trouble>(&sealed)) return refused("record", trouble->said);
  const auto put = record::put_batches(store, std::move(all.batches), loop.context.now);
  if (const auto* trouble = std::get_if<record::Trouble>(&put)) return refused("record", trouble->said);
  if (all.readings > 0)
    fmt::print("Took in {} readings of sensors; {} were in the record already.\n", std::get<record::Put>(put).fresh,
               std::get<record::Put>(put).known);
  return 0;
}

}  // namespace

int export_folder(const std::string& folder, const std::vector<Entry>& entries, const record::Store& store,
                  const std::string& record_path, const Clock& clock) {
  const auto found = record::all_series(store);
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) return refused("record", trouble->said);
  const auto& sensors = std::get<std::vector<record::Series>>(found);
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error)
    return refused("record", fmt::format("{} cannot be made ({}); name a folder or a file ending in .csv or .jsonl",
                                         folder, error.message()));
  if (!write(in(folder, "record.csv"), record::csv_of(entries, clock))) return 2;
  if (!write(in(folder, "record.jsonl"), tell::record_jsonl(entries))) return 2;
  for (const Entry& e : entries)
    if (!e.description.empty() && !write(in(folder, fmt::format("chapter-{}.toml", e.number)), e.description)) return 2;
  if (const auto trouble = record::copy_photos(store, record::photo_folder(record_path), in(folder, "photos")))
    return refused("record", trouble->said);
  for (const record::Series& s : sensors) {
    const auto read = record::samples_of(store, s.number, s.first.at, s.last.at + 1);
    if (const auto* trouble = std::get_if<record::Trouble>(&read)) return refused("record", trouble->said);
    const record::Batch batch{s.name, std::get<std::vector<record::Sample>>(read)};
    if (!write(in(folder, fmt::format("sensor-{}.csv", s.number)), record::csv_of(batch))) return 2;
  }
  const auto seals = record::all_seals(store);
  if (const auto* trouble = std::get_if<record::Trouble>(&seals)) return refused("record", trouble->said);
  const auto& sealed = std::get<std::vector<record::Seal>>(seals);
  if (!sealed.empty() && !write(in(folder, "seals.csv"), record::csv_of(sealed))) return 2;
  fmt::print("Wrote {} entries to {}: record.csv, record.jsonl, and the loop file of each chapter.\n", entries.size(),
             folder);
  return 0;
}

int import_entries(const RecordFlags& flags, const std::vector<Entry>& other) {
  std::string why_not;
  const auto own = held(record_path(flags.loop), why_not);
  if (!why_not.empty()) return refused("record", why_not);
  auto merge = record::merged(own, other);
  if (!flags.dry && !merge.fresh.empty()) {
    auto store = record::Store::open(record_path(flags.loop));
    if (const auto* trouble = std::get_if<record::Trouble>(&store)) return refused("record", trouble->said);
    if (const auto trouble = std::get<record::Store>(store).append(merge.fresh))
      return refused("record", trouble->said);
  }
  fmt::print("{} {} entries; {} were in the record already.\n", flags.dry ? "Would take in" : "Took in",
             merge.fresh.size(), merge.known);
  return 0;
}

int import_folder(const RecordFlags& flags, const LoopOfRecord& loop) {
  Problems problems;
  Folder all = read_folder(flags.import_from, problems);
  if (!problems.empty()) return refused(problems);
  if (const int code = import_entries(flags, all.entries); code != 0) return code;
  if (!flags.dry) return take_rest(flags, loop, all);
  if (all.readings > 0) fmt::print("Would take in {} readings of sensors.\n", all.readings);
  return 0;
}

}  // namespace leat::doors
