// Tables from elsewhere: each cell becomes the phrase that its column stands for.
#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <iterator>
#include <map>
#include <set>

#include "base/words/letters.h"
#include "record/amounts.h"
#include "record/table.h"
#include "record/when.h"

namespace leat::record {
namespace {

std::string trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return std::string(text);
}

/// "31/12/2026" and "31.12.26" as "2026-12-31"; a text of another form as it is.
std::string year_first(const std::string& text, DateOrder order) {
  if (order == DateOrder::year_first) return text;
  std::string parts[3];
  std::size_t part = 0, at = 0;
  for (; at < text.size() && text[at] != ' '; ++at) {
    const char c = text[at];
    if (c >= '0' && c <= '9')
      parts[part] += c;
    else if ((c == '/' || c == '.' || c == '-') && part < 2)
      ++part;
    else
      return text;
  }
  if (parts[2].size() == 2) parts[2] = "20" + parts[2];
  if (parts[0].empty() || parts[1].empty() || parts[2].size() != 4) return text;
  const bool day_first = order == DateOrder::day_first;
  return fmt::format("{}-{}-{}{}", parts[2], day_first ? parts[1] : parts[0], day_first ? parts[0] : parts[1],
                     text.substr(at));
}

/// "Temp (C)" as "temp C", when that with a number is a phrase; "" if nothing is known of it.
std::string likely_meaning(const std::string& name, const Context& context) {
  const std::string plain = words::in_small_letters(name);
  const auto holds = [&](std::string_view word) { return plain.find(word) != std::string::npos; };
  if (holds("date") || plain == "day" || plain == "when") return "date";
  if (plain.starts_with("time") || plain == "clock" || plain == "hour") return "time";
  if (holds("note") || holds("remark") || holds("comment")) return "note";
  if (plain == "where" || plain == "tank" || plain == "bed" || plain == "vessel") return "where";
  const std::size_t open = name.find_first_of("([");
  const std::size_t close = open == std::string::npos ? open : name.find_first_of(")]", open);
  const std::string unit = close == std::string::npos ? "" : name.substr(open + 1, close - open - 1);
  const std::string word = trimmed(plain.substr(0, plain.find_first_of("([ ")));
  for (const std::string& behind : {unit, std::string(), std::string("g"), std::string("dKH")}) {
    const auto read = read_phrase(fmt::format("{} 7 {}", word, behind), context);
    if (read.size() == 1 && read[0].doubt.empty() && read[0].entries[0].kind != Kind::text)
      return behind.empty() ? word : word + " " + behind;
  }
  return "";
}

/// "9,1" as "9.1": where columns are parted by semicolons a comma between digits is a decimal one.
std::string with_point(std::string text) {
  const std::size_t comma = text.find(',');
  const auto digit = [&](std::size_t i) { return i < text.size() && text[i] >= '0' && text[i] <= '9'; };
  if (comma != std::string::npos && comma > 0 && text.rfind(',') == comma && digit(comma - 1) && digit(comma + 1))
    text[comma] = '.';
  return text;
}

/// Whether a cell says its unit itself: "55 g", "<0.25 mg/L".
bool has_unit(const std::string& cell) {
  const Tokens tokens = tokens_of(cell);
  std::size_t at = 0;
  const auto said = take_amount(tokens, at, tokens.size());
  return said && said->doubt.empty() && at == tokens.size() && !said->amount.unit.empty();
}

struct RowReader {
  const CsvTable& table;
  const std::vector<Column>& mapping;
  DateOrder order;
  const Context& context;
  std::string_view file;
  Problems& problems;

  std::string cell(const CsvRow& row, const Column& c) const {
    const auto at = static_cast<std::size_t>(table.column(c.column));
    return at < row.fields.size() ? trimmed(unguarded(row.fields[at].text)) : "";
  }

  std::string cell_as(const CsvRow& row, std::string_view as) const {
    for (const Column& c : mapping)
      if (c.as == as) return cell(row, c);
    return "";
  }

  std::optional<Span> when(const CsvRow& row) const {
    const std::string date = year_first(cell_as(row, "date"), order), time = cell_as(row, "time");
    const auto read = read_when(date + (time.empty() ? "" : " " + time), context.clock, context.now);
    if (const auto* span = std::get_if<Span>(&read); span && !date.empty() && span->from <= context.now) return *span;
    problems.add(
        {std::string(file), row.line, 1, "date",
         fmt::format("\"{}\" is no date that has been, or its form is another; write year-month-day, or say --dates "
                     "day or --dates month",
                     date + (time.empty() ? "" : " " + time))});
    return std::nullopt;
  }

  /// The words in front of the number and the unit behind it: "temperature" and "degC".
  static std::string phrase_of(const Column& c, const std::string& cell) {
    const std::size_t blank = c.as.find(' ');
    std::string unit = blank == std::string::npos ? "" : c.as.substr(blank + 1);
    if (has_unit(cell)) unit.erase(0, std::min(unit.find(' '), unit.size()));
    return fmt::format("{} {}{}{}", c.as.substr(0, blank), cell, unit.empty() ? "" : " ", trimmed(unit));
  }

  std::vector<Understood> read(const CsvRow& row) const {
    std::vector<Understood> found;
    const auto span = when(row);
    if (!span) return found;
    Context here = context;
    here.from = span->from;
    here.to = span->to;
    const std::string place = cell_as(row, "where");
    for (const Column& c : mapping) {
      std::string text = cell(row, c);
      if (c.as != "note" && table.separator == ';') text = with_point(text);
      if (text.empty() || c.as == "date" || c.as == "time" || c.as == "where") continue;
      const std::string phrase = c.as == "note" ? text : phrase_of(c, text);
      const std::string front = place.empty() ? "" : place + ": ";
      for (Understood& u : read_phrase(front + phrase, here)) {
        for (Entry& e : u.entries)
          if (e.said.starts_with(front)) e.said.erase(0, front.size());
        found.push_back(std::move(u));
      }
    }
    return found;
  }
};

/// A min/max thermometer is reset with each reading, in whatever order the rows stand.
void set_windows(std::vector<Understood>& rows) {
  std::map<std::pair<std::string, std::string>, std::set<Moment>> resets;
  for (const Understood& u : rows)
    for (const Entry& e : u.entries)
      if (!e.extreme.empty() && e.from == e.to) resets[{e.what, e.where}].insert(e.from);
  for (Understood& u : rows)
    for (Entry& e : u.entries) {
      if (e.extreme.empty() || e.since || e.from != e.to) continue;
      const std::set<Moment>& all = resets[{e.what, e.where}];
      const auto own = all.find(e.from);
      if (own != all.begin() && e.from - *std::prev(own) <= kLongestWindow) e.since = *std::prev(own);
    }
}

}  // namespace

std::string likely_mapping(const CsvTable& table, const Context& context) {
  std::string all;
  for (const CsvField& f : table.header.fields) {
    const std::string name = trimmed(f.text), meaning = likely_meaning(name, context);
    if (!meaning.empty()) all += fmt::format("{}{}={}", all.empty() ? "" : ", ", name, meaning);
  }
  return all.empty() ? "Date=date, Temp=temperature degC" : all;
}

std::vector<Column> read_mapping(std::string_view text, Problems& problems) {
  std::vector<Column> mapping;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(','), text.size());
    const std::string_view one = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    const std::size_t equals = one.rfind('=');
    Column c{trimmed(one.substr(0, equals)), equals == std::string_view::npos ? "" : trimmed(one.substr(equals + 1))};
    if (c.column.empty() || c.as.empty())
      problems.add({"--map", 0, 0, "",
                    fmt::format("\"{}\" is no column with its meaning; write such as \"Date=date, "
                                "Temp=temperature degC, Remarks=note\"",
                                trimmed(one))});
    else
      mapping.push_back(std::move(c));
  }
  return mapping;
}

std::vector<Understood> read_table(const CsvTable& table, const std::vector<Column>& mapping, DateOrder order,
                                   const Context& context, std::string_view file, Problems& problems) {
  std::string columns;
  for (const CsvField& f : table.header.fields) columns += (columns.empty() ? "" : ", ") + trimmed(f.text);
  for (const Column& c : mapping)
    if (table.column(c.column) < 0)
      problems.add({std::string(file), 1, 0, c.column, fmt::format("is no column of it; it has {}", columns)});
  const bool dated = std::any_of(mapping.begin(), mapping.end(), [](const Column& c) { return c.as == "date"; });
  if (!dated)
    problems.add({"--map", 0, 0, "",
                  fmt::format("names no column as date; the table has {}: write such as \"{}=date\"", columns,
                              table.header.fields.empty() ? "Date" : trimmed(table.header.fields[0].text))});
  std::vector<Understood> all;
  if (!problems.empty()) return all;
  const RowReader reader{table, mapping, order, context, file, problems};
  for (const CsvRow& row : table.rows)
    for (Understood& u : reader.read(row)) all.push_back(std::move(u));
  set_windows(all);
  return all;
}

}  // namespace leat::record
