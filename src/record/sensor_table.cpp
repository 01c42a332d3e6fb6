#include "record/sensor_table.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "base/units/parse.h"
#include "record/table.h"

namespace leat::record {
namespace {

constexpr std::array<std::string_view, 7> kColumns = {"what", "where", "sensor", "unit", "basis", "at", "value"};

std::string cell(const CsvTable& table, const CsvRow& row, std::string_view name) {
  const auto at = static_cast<std::size_t>(table.column(name));
  return at < row.fields.size() ? unguarded(row.fields[at].text) : "";
}

/// Milliseconds since 1970 of "2026-11-25T07:41:00.000Z", through the one reader of times that entries have.
std::optional<Moment> moment_of(const std::string& text) {
  Entry e;
  if (text.empty() || set_field(e, "from", text)) return std::nullopt;
  return e.from;
}

std::optional<Sample> sample_of(const CsvTable& table, const CsvRow& row, std::string_view file, Problems& problems) {
  const std::string at = cell(table, row, "at"), value = cell(table, row, "value");
  const auto moment = moment_of(at);
  const auto number = read_number(value);
  if (!moment)
    problems.add({std::string(file), row.line, 1, "at",
                  fmt::format("\"{}\" is no time; write such as 2026-11-25T07:41:00.000Z", at)});
  if (std::holds_alternative<Unreadable>(number))
    problems.add({std::string(file), row.line, 1, "value",
                  fmt::format("\"{}\" {}; write such as 9.5", value, std::get<Unreadable>(number).wrong)});
  if (!moment || !std::holds_alternative<double>(number)) return std::nullopt;
  return Sample{*moment, std::get<double>(number)};
}

}  // namespace

std::string csv_of(const Batch& batch) {
  std::string text;
  for (const std::string_view name : kColumns) text += fmt::format("{}{}", text.empty() ? "" : ",", name);
  text += "\n";
  std::string front;
  const SeriesName& n = batch.name;
  for (const std::string* field : {&n.what, &n.where, &n.sensor, &n.unit, &n.basis})
    front += csv_field(guarded(*field)) + ",";
  for (const Sample& s : batch.samples) text += front + utc_text(s.at) + "," + shortest(s.value) + "\n";
  return text;
}

bool is_sensor_table(const CsvTable& table) {
  return std::all_of(kColumns.begin(), kColumns.end(), [&](std::string_view name) { return table.column(name) >= 0; });
}

std::string csv_of(const std::vector<Seal>& seals) {
  std::string text = "entry,what,where,sensor,unit,basis,start,count,digest\n";
  for (const Seal& s : seals) {
    text += std::to_string(s.entry) + ",";
    for (const std::string* field : {&s.name.what, &s.name.where, &s.name.sensor, &s.name.unit, &s.name.basis})
      text += csv_field(guarded(*field)) + ",";
    text += fmt::format("{},{},{}\n", utc_text(s.start), s.count, s.digest);
  }
  return text;
}

std::vector<Seal> seals_of(const CsvTable& table, std::string_view file, Problems& problems) {
  std::vector<Seal> all;
  for (const CsvRow& row : table.rows) {
    const auto of = [&](std::string_view name) { return table.column(name) < 0 ? "" : cell(table, row, name); };
    const auto start = moment_of(of("start"));
    const auto entry = read_number(of("entry")), count = read_number(of("count"));
    const bool whole = std::holds_alternative<double>(entry) && std::holds_alternative<double>(count);
    if (!start || !whole || of("what").empty() || of("digest").size() != 64) {
      problems.add({std::string(file), row.line, 1, "", "is no seal; leave the table as it was exported"});
      continue;
    }
    all.push_back({static_cast<std::int64_t>(std::get<double>(entry)),
                   {of("what"), of("where"), of("sensor"), of("unit"), of("basis")},
                   *start,
                   static_cast<std::int64_t>(std::get<double>(count)),
                   of("digest")});
  }
  return all;
}

std::vector<Batch> batches_of(const CsvTable& table, std::string_view file, Problems& problems) {
  std::vector<Batch> all;
  for (const CsvRow& row : table.rows) {
    const auto sample = sample_of(table, row, file, problems);
    const auto of = [&](std::string_view name) { return cell(table, row, name); };
    const SeriesName name{of("what"), of("where"), of("sensor"), of("unit"), of("basis")};
    if (name.what.empty())
      problems.add({std::string(file), row.line, 1, "what", "is empty; write what was read, such as temperature"});
    if (!sample) continue;
    auto found = std::find_if(all.begin(), all.end(), [&](const Batch& b) { return b.name == name; });
    if (found == all.end()) found = all.insert(all.end(), Batch{name, {}});
    found->samples.push_back(*sample);
  }
  return all;
}

}  // namespace leat::record
