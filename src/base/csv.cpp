#include "base/csv.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "base/words/letters.h"

namespace leat {
namespace {

std::string plain_name(std::string_view text) {
  std::string name = words::in_small_letters(text);
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!name.empty() && blank(name.front())) name.erase(name.begin());
  while (!name.empty() && blank(name.back())) name.pop_back();
  return name;
}

char likely_separator(std::string_view text) {
  const std::string_view header = text.substr(0, text.find('\n'));
  char best = ',';
  std::ptrdiff_t most = 0;
  for (const char candidate : {',', ';', '\t'}) {
    const auto n = std::count(header.begin(), header.end(), candidate);
    if (n > most) {
      most = n;
      best = candidate;
    }
  }
  return best;
}

/// Walks the text once, knowing where it is.
struct Reader {
  std::string_view text;
  char separator;
  std::string_view file;
  Problems& problems;
  std::size_t at = 0;
  int line = 1;
  int column = 1;

  bool done() const { return at >= text.size(); }
  char peek() const { return text[at]; }
  char take() {
    const char c = text[at++];
    if (c == '\n') {
      ++line;
      column = 1;
    } else {
      ++column;
    }
    return c;
  }

  CsvField quoted_field() {
    CsvField field{{}, column, true};
    const int start_line = line;
    take();
    while (!done()) {
      const char c = take();
      if (c != '"') {
        field.text += c;
      } else if (!done() && peek() == '"') {
        field.text += take();
      } else {
        while (!done() && peek() != separator && peek() != '\n') take();
        return field;
      }
    }
    problems.add(
        {std::string(file), start_line, field.column, "", "a quoted field is never closed; add a \" at its end"});
    return field;
  }

  CsvField field() {
    if (!done() && peek() == '"') return quoted_field();
    CsvField plain{{}, column, false};
    while (!done() && peek() != separator && peek() != '\n') plain.text += take();
    if (plain.text.ends_with('\r')) plain.text.pop_back();
    return plain;
  }

  CsvRow row() {
    CsvRow row{line, {}};
    row.fields.push_back(field());
    while (!done() && peek() == separator) {
      take();
      row.fields.push_back(field());
    }
    if (!done()) take();
    return row;
  }
};

bool is_blank_row(const CsvRow& row) {
  return std::all_of(row.fields.begin(), row.fields.end(),
                     [](const CsvField& f) { return !f.quoted && plain_name(f.text).empty(); });
}

}  // namespace

int CsvTable::column(std::string_view name) const {
  for (std::size_t i = 0; i < header.fields.size(); ++i)
    if (plain_name(header.fields[i].text) == plain_name(name)) return static_cast<int>(i);
  return -1;
}

CsvTable read_csv(std::string_view text, std::string_view file, Problems& problems) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  CsvTable table;
  table.separator = likely_separator(text);
  Reader reader{text, table.separator, file, problems};
  bool have_header = false;
  while (!reader.done()) {
    CsvRow row = reader.row();
    if (is_blank_row(row)) continue;
    if (!have_header) {
      table.header = std::move(row);
      have_header = true;
      continue;
    }
    if (row.fields.size() > table.header.fields.size())
      problems.add({std::string(file), row.line, row.fields[table.header.fields.size()].column, "",
                    fmt::format("the row has {} fields but the header has {}; quote a field that holds a '{}'",
                                row.fields.size(), table.header.fields.size(), table.separator)});
    table.rows.push_back(std::move(row));
  }
  if (!have_header)
    problems.add(
        {std::string(file), 0, 0, "", "is empty; its first line must name the columns, such as \"date,min,max\""});
  return table;
}

std::string csv_field(std::string_view text) {
  if (text.find_first_of(",;\"\r\n\t") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

}  // namespace leat
