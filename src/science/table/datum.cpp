#include "science/table/datum.h"

#include <algorithm>
#include <cctype>

#include "base/csv.h"
#include "base/units/parse.h"

namespace leat::science {
namespace {

std::string_view first_word(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  return text.substr(0, text.find(' '));
}

std::optional<double> number(std::string_view text) {
  const auto read = read_number(text);
  if (const double* value = std::get_if<double>(&read)) return *value;
  return std::nullopt;
}

bool same_word(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return std::tolower(static_cast<unsigned char>(c)); };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](char x, char y) { return lower(x) == lower(y); });
}

/// Whether a comma-separated list holds the word.
bool lists(std::string_view list, std::string_view word) {
  while (!list.empty()) {
    const std::size_t comma = list.find(',');
    std::string_view item = list.substr(0, comma);
    while (!item.empty() && item.front() == ' ') item.remove_prefix(1);
    if (same_word(item, word)) return true;
    if (comma == std::string_view::npos) return false;
    list.remove_prefix(comma + 1);
  }
  return false;
}

}  // namespace

std::vector<Datum> read_data(std::string_view csv) {
  Problems problems;
  std::vector<Datum> data;
  for (CsvRow& row : read_csv(csv, "", problems).rows) {
    row.fields.resize(5);
    auto* field = row.fields.data();
    data.push_back({std::move(field[0].text), std::move(field[1].text), std::move(field[2].text),
                    std::move(field[3].text), std::move(field[4].text)});
  }
  return data;
}

std::optional<Span> read_span(std::string_view value) {
  const std::string_view text = first_word(value);
  if (const auto plain = number(text)) return Span{*plain, *plain};
  if (const std::size_t slash = text.find('/'); slash != std::string_view::npos) {
    const auto over = number(text.substr(0, slash)), under = number(text.substr(slash + 1));
    if (!over || !under || *under == 0.0) return std::nullopt;
    return Span{*over / *under, *over / *under};
  }
  if (const std::size_t dash = text.find('-', 1); dash != std::string_view::npos) {
    const auto low = number(text.substr(0, dash)), high = number(text.substr(dash + 1));
    if (low && high) return Span{*low, *high};
  }
  return std::nullopt;
}

std::vector<std::pair<double, double>> read_points(std::string_view value) {
  std::vector<std::pair<double, double>> points;
  for (std::string_view word = first_word(value); !word.empty(); word = first_word(value)) {
    const std::size_t colon = word.find(':');
    if (colon == std::string_view::npos) return {};
    const auto x = number(word.substr(0, colon)), y = number(word.substr(colon + 1));
    if (!x || !y) return {};
    points.emplace_back(*x, *y);
    value = value.substr(static_cast<std::size_t>(word.data() + word.size() - value.data()));
  }
  return points;
}

const Datum* find_datum(std::span<const Datum> table, std::string_view name, std::string_view key) {
  const auto found =
      std::find_if(table.begin(), table.end(), [&](const Datum& d) { return d.name == name && d.key == key; });
  return found == table.end() ? nullptr : &*found;
}

std::vector<std::string_view> datum_names(std::span<const Datum> table) {
  std::vector<std::string_view> names;
  for (const Datum& d : table)
    if (std::find(names.begin(), names.end(), d.name) == names.end()) names.push_back(d.name);
  return names;
}

std::string_view resolve_name(std::span<const Datum> table, std::string_view written) {
  for (const Datum& d : table)
    if (same_word(d.name, written)) return d.name;
  for (const Datum& d : table)
    if (d.key == "also" && lists(d.value, written)) return d.name;
  return {};
}

std::string_view DatumRows::text(std::string_view key) const {
  const Datum* row = find_datum(table, name, key);
  return row ? std::string_view(row->value) : std::string_view();
}

std::optional<Span> DatumRows::span(std::string_view key, double scale) const {
  const auto read = read_span(text(key));
  return read ? std::optional(Span{read->low * scale, read->high * scale}) : std::nullopt;
}

std::optional<double> DatumRows::number(std::string_view key, double scale) const {
  const auto read = read_span(text(key));
  return read ? std::optional((take == Take::low ? read->low : read->middle()) * scale) : std::nullopt;
}

std::optional<Temperature<>> DatumRows::temperature(std::string_view key) const {
  const auto read = number(key);
  return read ? std::optional(Temperature<>::from_celsius(*read)) : std::nullopt;
}

}  // namespace leat::science
