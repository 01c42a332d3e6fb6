// The record as JSON lines: one object an entry, fields that are empty left out.
#include <fmt/core.h>

#include "base/units/parse.h"
#include "tell/json_writer.h"
#include "tell/record_text.h"

namespace leat::tell {
namespace {

using nlohmann::ordered_json;

/// Refuses anything deeper than one object, so that hostile depth costs nothing.
bool is_flat(int depth, nlohmann::json::parse_event_t, nlohmann::json&) {
  return depth <= 1;
}

std::string text_of(const nlohmann::json& value) {
  if (value.is_string()) return value.get<std::string>();
  if (value.is_number_integer()) return std::to_string(value.get<std::int64_t>());
  if (value.is_number()) return shortest(value.get<double>());
  return "";
}

}  // namespace

ordered_json entry_json(const record::Entry& e) {
  ordered_json j = ordered_json::object();
  for (const auto& [name, field] : record::fields_of(e)) {
    if (field.empty()) continue;
    const auto number = read_number(field);
    if (record::is_number(name) && std::holds_alternative<double>(number))
      j[std::string(name)] = std::get<double>(number);
    else
      j[std::string(name)] = field;
  }
  for (const char* whole : {"number", "supersedes"})
    if (j.contains(whole)) j[whole] = static_cast<std::int64_t>(j[whole].get<double>());
  return j;
}

std::string record_jsonl(const std::vector<record::Entry>& entries) {
  std::string text;
  for (const record::Entry& e : entries) {
    text += entry_json(e).dump(-1, ' ', false, ordered_json::error_handler_t::replace) + "\n";
  }
  return text;
}

std::vector<record::Entry> read_record_jsonl(std::string_view text, std::string_view file, Problems& problems) {
  std::vector<record::Entry> entries;
  for (int line = 1; !text.empty(); ++line) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view one = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (one.find_first_not_of(" \t\r") == std::string_view::npos) continue;
    const auto j = nlohmann::json::parse(one.begin(), one.end(), is_flat, false);
    if (!j.is_object()) {
      problems.add(
          {std::string(file), line, 1, "", "is no line of a record; each is one object, such as {\"number\": 1, ...}"});
      continue;
    }
    record::Entry e;
    for (const auto& [name, value] : j.items())
      if (const auto trouble = record::set_field(e, name, text_of(value)))
        problems.add({std::string(file), line, 1, name, trouble->said});
    if (const auto fault = record::fault_of(e)) problems.add({std::string(file), line, 1, "", fault->said});
    entries.push_back(std::move(e));
  }
  return entries;
}

}  // namespace leat::tell
