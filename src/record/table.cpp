#include "record/table.h"

#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "base/units/parse.h"
#include "record/seal.h"
#include "record/when.h"

namespace leat::record {
namespace {

constexpr std::string_view kLocal = "when";

bool starts_formula(const std::string& cell) {
  return !cell.empty() && std::string_view("=+-@\t\r'").find(cell.front()) != std::string_view::npos;
}

bool is_plain_number(const std::string& cell) {
  return std::holds_alternative<double>(read_number(cell));
}

std::string said_of(const Entry& e) {
  std::string all;
  for (const auto& [name, text] : fields_of(e))
    if (name != "number" && name != "supersedes") all += fmt::format("{} {}\n", text.size(), text);
  return all;
}

}  // namespace

std::string guarded(const std::string& cell) {
  return starts_formula(cell) && !is_plain_number(cell) ? "'" + cell : cell;
}

std::string unguarded(const std::string& cell) {
  const bool guard = cell.size() > 1 && cell.front() == '\'' && starts_formula(cell.substr(1));
  return guard ? cell.substr(1) : cell;
}

std::string csv_of(const std::vector<Entry>& entries, const Clock& clock) {
  std::string text(kLocal);
  for (const std::string_view name : field_names()) text += fmt::format(",{}", name);
  text += "\n";
  for (const Entry& e : entries) {
    text += csv_field(span_text(clock, {e.from, e.to}));
    for (const auto& field : fields_of(e)) text += "," + csv_field(guarded(field.second));
    text += "\n";
  }
  return text;
}

bool is_own_table(const CsvTable& table) {
  return std::all_of(field_names().begin(), field_names().end(),
                     [&](std::string_view name) { return table.column(name) >= 0; });
}

std::vector<Entry> entries_of(const CsvTable& table, std::string_view file, Problems& problems) {
  std::vector<Entry> entries;
  for (const CsvRow& row : table.rows) {
    Entry e;
    for (const std::string_view name : field_names()) {
      const auto column = static_cast<std::size_t>(table.column(name));
      if (column >= row.fields.size()) continue;
      const CsvField& field = row.fields[column];
      if (const auto trouble = set_field(e, name, unguarded(field.text)))
        problems.add({std::string(file), row.line, field.column, std::string(name), trouble->said});
    }
    if (const auto fault = fault_of(e)) problems.add({std::string(file), row.line, 1, "", fault->said});
    entries.push_back(std::move(e));
  }
  return entries;
}

Merge merged(const std::vector<Entry>& held, const std::vector<Entry>& other) {
  Merge merge;
  // As many as there are: two alike in one record are two.
  std::map<std::string, std::vector<std::int64_t>> known;
  for (auto e = held.rbegin(); e != held.rend(); ++e) known[said_of(*e)].push_back(e->number);
  std::map<std::int64_t, std::int64_t> number;  // of the other record, to ours
  auto next = static_cast<std::int64_t>(held.size());
  for (const Entry& e : other) {
    if (const auto found = known.find(said_of(e)); found != known.end() && !found->second.empty()) {
      number[e.number] = found->second.back();
      found->second.pop_back();
      ++merge.known;
      continue;
    }
    // What another record sealed is no part of this one: its readings are sealed here as they come.
    if (!held.empty() && is_seal(e)) continue;
    Entry fresh = e;
    number[e.number] = fresh.number = ++next;
    if (e.supersedes) {
      const auto at = number.find(*e.supersedes);
      fresh.supersedes = at == number.end() ? std::nullopt : std::optional(at->second);
    }
    merge.fresh.push_back(std::move(fresh));
  }
  return merge;
}

}  // namespace leat::record
