#include "model/weather/columns.h"

#include <fmt/core.h>

#include <algorithm>
#include <cctype>
#include <utility>

namespace leat::model {
namespace {

bool is_no_value(std::string_view text) {
  const std::string plain = plain_heading(text);
  return plain.empty() || plain == "na" || plain == "nan" || plain == "null" || plain == "-";
}

std::string listed(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i)
    text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  return text;
}

}  // namespace

Sheet::Sheet(std::string_view text, std::string_view file, std::span<const ColumnWord> words, double period_s,
             Problems& problems)
    : file_(file), words_(words), period_s_(period_s), problems_(problems), columns_(words.size()) {
  const std::size_t before = problems.size();
  table_ = read_csv(text, file, problems);
  broken_ = problems.size() > before;
  for (std::size_t i = 0; i < table_.header.fields.size(); ++i) take_heading(static_cast<int>(i));
  say_units();
}

void Sheet::take_heading(int index) {
  const CsvField& field = table_.header.fields[static_cast<std::size_t>(index)];
  const Heading heading = split_heading(words_, field.text);
  if (heading.word < 0) {
    if (!trim(field.text).empty()) unknown_.emplace_back(trim(field.text));
    return;
  }
  const ColumnWord& word = words_[static_cast<std::size_t>(heading.word)];
  Column& column = columns_[static_cast<std::size_t>(heading.word)];
  if (column.index >= 0) {
    const auto& first = table_.header.fields[static_cast<std::size_t>(column.index)];
    problems_.add({file_, table_.header.line, field.column, std::string(word.name),
                   fmt::format(R"("{}" holds the same as the column "{}"; keep one of them)", trim(field.text),
                               trim(first.text))});
    return;
  }
  column.heading = std::string(heading.name);
  column.index = index;
  if (!word.unit.empty() && !take_unit(word, column, heading.unit, field)) column.index = -2;
}

bool Sheet::take_unit(const ColumnWord& word, Column& column, std::string_view unit_text, const CsvField& field) {
  const Unit wanted = std::get<Unit>(read_unit(word.unit));
  const auto unit = unit_text.empty() ? wanted : read_weather_unit(unit_text);
  std::string wrong;
  if (const auto* bad = std::get_if<Unreadable>(&unit)) {
    wrong = bad->wrong;
  } else {
    column.unit = std::get<Unit>(unit);
    if (fit_unit(column.unit, wanted.dimension, word.per_row, period_s_)) return true;
    wrong = fmt::format(R"(has the unit "{}", which does not measure {})", unit_text, word.name);
  }
  problems_.add(
      {file_, table_.header.line, field.column, std::string(word.name),
       fmt::format("\"{}\" {}; write such as \"{} ({})\"", trim(field.text), wrong, column.heading, word.unit)});
  return false;
}

void Sheet::say_units() {
  std::map<std::string_view, std::vector<std::string>> by_unit;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].index < 0 || words_[i].unit.empty()) continue;
    const auto& field = table_.header.fields[static_cast<std::size_t>(columns_[i].index)];
    if (trim(field.text) == columns_[i].heading) by_unit[words_[i].unit].push_back(columns_[i].heading);
  }
  std::vector<std::string> parts;
  for (const auto& [unit, names] : by_unit) parts.push_back(fmt::format("{} in {}", listed(names), unit));
  if (!parts.empty())
    assumptions_.push_back(fmt::format("{} says no unit, so it is read with {}.", file_, listed(parts)));
  for (const std::string& name : unknown_) {
    const bool weather = plain_heading(name) == "weather";
    assumptions_.push_back(fmt::format("{}: the column \"{}\" is not read: {}.", file_, name,
                                       weather ? "such words say what fell or was noted, not how clear the sky was"
                                               : "nothing of that name is known"));
  }
}

bool Sheet::require(int index, std::string_view what) {
  const int found = columns_[static_cast<std::size_t>(index)].index;
  if (found >= 0) return true;
  if (found == -2 || table_.header.fields.empty()) return false;  // told already
  const ColumnWord& word = words_[static_cast<std::size_t>(index)];
  std::vector<std::string_view> known{word.name};
  known.insert(known.end(), word.also.begin(), word.also.end());
  std::string hint;
  for (const std::string& name : unknown_)
    if (hint.empty() && !nearest_word(plain_heading(name), known).empty())
      hint = fmt::format(R"( ("{}" is near))", name);
  problems_.add({file_, table_.header.line, 1, std::string(word.name),
                 fmt::format(R"(no column holds {}{}; name it "{}")", what, hint, word.name)});
  return false;
}

std::string_view Sheet::text(const CsvRow& row, int word) const {
  const int index = columns_[static_cast<std::size_t>(word)].index;
  if (index < 0 || static_cast<std::size_t>(index) >= row.fields.size()) return {};
  return trim(row.fields[static_cast<std::size_t>(index)].text);
}

bool Sheet::is_empty(const CsvRow& row, int word) const {
  return is_no_value(text(row, word));
}

std::optional<double> Sheet::number(const CsvRow& row, int index) {
  if (is_empty(row, index)) return std::nullopt;
  const Column& column = columns_[static_cast<std::size_t>(index)];
  const ColumnWord& word = words_[static_cast<std::size_t>(index)];
  const auto read = read_number(text(row, index));
  if (const auto* bad = std::get_if<Unreadable>(&read)) {
    const bool comma = bad->wrong.starts_with("has a decimal comma");
    complain_once(fmt::format("{} {}", word.name, bad->wrong), row, index, comma ? "has a decimal comma" : bad->wrong,
                  comma ? R"(write a point, such as "4.5")" : R"(write such as "4.5", or leave a missing value empty)");
    return std::nullopt;
  }
  const double si = std::get<double>(read) * column.unit.scale + column.unit.offset;
  const Unit shown = std::get<Unit>(read_unit(word.unit));
  const double value = (si - shown.offset) / shown.scale;
  if (value < word.low) {
    complain_once(fmt::format("{} low", word.name), row, index, fmt::format("is below {:g} {}", word.low, word.unit),
                  "leave a missing value empty");
    return std::nullopt;
  }
  if (value > word.high) {
    complain_once(fmt::format("{} high", word.name), row, index, fmt::format("is above {:g} {}", word.high, word.unit),
                  replaced(std::string(word.above), "{}", column.heading));
    return std::nullopt;
  }
  return si;
}

Problem Sheet::at(const CsvRow& row, int word) const {
  const std::size_t index = static_cast<std::size_t>(std::max(0, columns_[static_cast<std::size_t>(word)].index));
  const CsvField& field = row.fields[std::min(index, row.fields.size() - 1)];
  return {file_, row.line, field.column, std::string(heading(word)), {}};
}

void Sheet::complain(const CsvRow& row, int word, std::string_view wrong, std::string_view cure) {
  Problem problem = at(row, word);
  problem.said = fmt::format(R"("{}" {}; {})", text(row, word), wrong, cure);
  problems_.add(std::move(problem));
}

void Sheet::complain_once(std::string key, const CsvRow& row, int word, std::string_view wrong, std::string_view cure) {
  const auto [told, is_new] = repeated_.try_emplace(std::move(key));
  if (is_new)
    told->second = {at(row, word), std::string(text(row, word)), std::string(wrong), std::string(cure), 0};
  else
    ++told->second.more;
}

void Sheet::complain_of_column(int word, std::string said) {
  const int index = std::max(0, columns_[static_cast<std::size_t>(word)].index);
  problems_.add({file_, table_.header.line, table_.header.fields[static_cast<std::size_t>(index)].column,
                 std::string(heading(word)), std::move(said)});
}

void Sheet::finish() {
  for (auto& [key, told] : repeated_) {
    const std::string more =
        told.more == 0 ? "" : fmt::format(" ({} more {} likewise)", told.more, told.more == 1 ? "row" : "rows");
    told.problem.said = fmt::format(R"("{}" {}{}; {})", told.read, told.wrong, more, told.cure);
    problems_.add(std::move(told.problem));
  }
  repeated_.clear();
}

}  // namespace leat::model
