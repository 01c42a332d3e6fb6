#include "doors/command/record_tables.h"

#include <fmt/core.h>

#include <filesystem>

#include "answers/record.h"
#include "doors/command/files.h"
#include "doors/command/record_folder.h"
#include "doors/command/refused.h"
#include "doors/listen/meaning.h"
#include "record/sensor_table.h"
#include "record/table.h"
#include "tell/record_text.h"

namespace leat::doors {
namespace {

using record::Entry;

/// Entries that a file made by --export holds; nothing when it is a table from elsewhere.
std::optional<std::vector<Entry>> exported(const RecordFlags& flags, const std::string& text, const CsvTable& table,
                                           Problems& problems) {
  if (flags.import_from.ends_with(".jsonl")) return tell::read_record_jsonl(text, flags.import_from, problems);
  if (flags.map.empty() && record::is_own_table(table)) return record::entries_of(table, flags.import_from, problems);
  return std::nullopt;
}

int keep(const RecordFlags& flags, std::vector<Entry>& entries, const std::string& told) {
  if (!flags.dry && !entries.empty()) {
    auto store = record::Store::open(record_path(flags.loop));
    if (const auto* trouble = std::get_if<record::Trouble>(&store)) return refused("record", trouble->said);
    if (const auto trouble = std::get<record::Store>(store).append(entries)) return refused("record", trouble->said);
  }
  fmt::print("{}", told);
  return 0;
}

int import_batches(const RecordFlags& flags, const LoopOfRecord& loop, const std::vector<record::Batch>& batches) {
  std::size_t readings = 0;
  for (const record::Batch& b : batches) readings += b.samples.size();
  const std::string sensors = fmt::format("{} sensor{}", batches.size(), batches.size() == 1 ? "" : "s");
  if (flags.dry) {
    fmt::print("Would take in {} readings of {}.\n", readings, sensors);
    return 0;
  }
  auto store = record::Store::open(record_path(flags.loop));
  if (const auto* trouble = std::get_if<record::Trouble>(&store)) return refused("record", trouble->said);
  const auto put = record::put_batches(std::get<record::Store>(store), batches, loop.context.now);
  if (const auto* trouble = std::get_if<record::Trouble>(&put)) return refused("record", trouble->said);
  fmt::print("Took in {} readings of {}; {} were in the record already.\n", std::get<record::Put>(put).fresh, sensors,
             std::get<record::Put>(put).known);
  return 0;
}

int import_senml(const RecordFlags& flags, const LoopOfRecord& loop, const std::string& text) {
  Problems problems;
  const auto meanings = read_name_meanings(flags.map, loop.context, problems);
  const Senml pack = read_senml(text, flags.import_from, loop.context.now, problems);
  const auto batches = batches_of(pack, meanings, loop.context, flags.import_from, problems);
  if (!problems.empty()) return refused(problems);
  if (pack.no_number > 0) fmt::print("{} records hold no number and are left out.\n", pack.no_number);
  return import_batches(flags, loop, batches);
}

int import_foreign(const RecordFlags& flags, const LoopOfRecord& loop, const CsvTable& table) {
  Problems problems;
  if (flags.map.empty())
    return refused(
        "record",
        fmt::format("{} is no table of leat: say what its columns are, and look first with --dry-run, such as "
                    "--map \"{}\"",
                    flags.import_from, record::likely_mapping(table, loop.context)));
  auto order = record::DateOrder::year_first;
  if (flags.dates == "day") order = record::DateOrder::day_first;
  if (flags.dates == "month") order = record::DateOrder::month_first;
  const auto mapping = record::read_mapping(flags.map, problems);
  const auto rows = record::read_table(table, mapping, order, loop.context, flags.import_from, problems);
  if (!problems.empty()) return refused(problems);
  std::vector<Entry> entries;
  for (const record::Understood& u : rows)
    for (const Entry& e : u.entries) entries.push_back(e);
  return keep(flags, entries, tell::import_text(rows, loop.context.clock, flags.dry));
}

}  // namespace

int export_record(const RecordFlags& flags, const record::Store& store, const Clock& clock,
                  const record::Filter& filter) {
  const auto found = answers::whole_record(store, filter);
  if (const auto* trouble = std::get_if<record::Trouble>(&found)) return refused("record", trouble->said);
  const auto& entries = std::get<std::vector<Entry>>(found);
  const std::string& to = flags.export_to;
  const bool csv = to.ends_with(".csv"), jsonl = to.ends_with(".jsonl");
  if (!csv && !jsonl) return export_folder(to, entries, store, record_path(flags.loop), clock);
  std::string why_not;
  if (!write_new_file(to, csv ? record::csv_of(entries, clock) : tell::record_jsonl(entries), why_not))
    return refused("record", why_not);
  fmt::print("Wrote {} entries to {}.\n", entries.size(), to);
  return 0;
}

int import_record(const RecordFlags& flags, const LoopOfRecord& loop) {
  Problems problems;
  if (!flags.dates.empty() && flags.dates != "year" && flags.dates != "day" && flags.dates != "month")
    problems.add({"--dates", 0, 0, "",
                  fmt::format("\"{}\" is not known; write year, day or month: what stands first", flags.dates)});
  std::error_code none;
  if (problems.empty() && std::filesystem::is_directory(flags.import_from, none)) return import_folder(flags, loop);
  const auto text = read_file(flags.import_from, problems);
  if (!problems.empty()) return refused(problems);
  if (flags.import_from.ends_with(".senml") || flags.import_from.ends_with(".json"))
    return import_senml(flags, loop, *text);
  CsvTable table;
  if (!flags.import_from.ends_with(".jsonl")) table = read_csv(*text, flags.import_from, problems);
  if (problems.empty() && flags.map.empty() && record::is_sensor_table(table)) {
    const auto batches = record::batches_of(table, flags.import_from, problems);
    return problems.empty() ? import_batches(flags, loop, batches) : refused(problems);
  }
  const auto own = problems.empty() ? exported(flags, *text, table, problems) : std::nullopt;
  if (!problems.empty()) return refused(problems);
  return own ? import_entries(flags, *own) : import_foreign(flags, loop, table);
}

}  // namespace leat::doors
