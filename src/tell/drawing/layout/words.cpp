// What is written under each vessel.
#include <fmt/core.h>

#include <algorithm>

#include "base/words/quantities.h"
#include "tell/drawing/layout/sheet.h"
#include "tell/drawing/layout/text.h"

namespace leat::tell::drawing {
namespace {

constexpr double kLongestWord = 110.0;

/// Marks that do not fit behind a name go on lines of their own, three to a line.
void add_line(std::vector<WordLine>& lines, WordLine line, std::vector<Mark> marks, std::size_t fit) {
  if (marks.size() <= fit) {
    line.marks = std::move(marks);
    lines.push_back(std::move(line));
    return;
  }
  lines.push_back(std::move(line));
  for (std::size_t i = 0; i < marks.size(); i += 3) {
    const auto from = marks.begin() + static_cast<std::ptrdiff_t>(i);
    lines.push_back({"", false, Icon::none, {from, from + std::min<std::ptrdiff_t>(3, marks.end() - from)}});
  }
}

std::string short_name(const std::string& path, bool bold = false) {
  return cut(name_of(path), kLongestWord, kPlain, bold);
}

std::vector<WordLine> words_of(const model::Loop& loop, const answers::CheckAnswer& answer, const Marks& marks, int v,
                               bool narrow) {
  std::vector<WordLine> lines;
  const std::string& path = loop.vessels[at(v)].path;
  if (!narrow) lines.push_back({kind_of(path)});
  add_line(lines, {short_name(path, true), true}, marks_on(marks, path), narrow ? 0 : 1);
  for (const answers::VesselLevels& level : answer.vessels)
    if (level.path == path)
      lines.push_back(
          {narrow ? fmt::format("{:.2f}", level.running.si()) : words::shown_text("level", level.running.si()), false,
           Icon::level});
  for (const model::Pump& pump : loop.pumps)
    if (pump.vessel == v) add_line(lines, {short_name(pump.path), false, Icon::pump}, marks_on(marks, pump.path), 2);
  for (const model::Source& source : loop.sources)
    if (source.vessel == v)
      add_line(lines, {short_name(source.path), false, Icon::source}, marks_on(marks, source.path), 2);
  for (const model::AirLine& air : loop.airs)
    if (air.vessel == v) add_line(lines, {short_name(air.path), false, Icon::air}, marks_on(marks, air.path), 2);
  for (const model::FishGroup& fish : loop.fish)
    if (fish.vessel == v)
      lines.push_back({fmt::format("{:.0f} {}", fish.count, short_name(fish.path)), false, Icon::fish});
  return lines;
}

/// The widest line, the height of all.
Box box_of(const std::vector<WordLine>& lines) {
  Box box;
  for (const WordLine& line : lines) box.right = std::max(box.right, line.width());
  box.bottom = kLineHeight * static_cast<double>(lines.size());
  return box;
}

}  // namespace

void word_columns(Sheet& sheet, const model::Loop& loop, const answers::CheckAnswer& answer, const Marks& marks,
                  bool narrow) {
  for (Column& column : sheet.columns) {
    const Part& part = sheet.graph.parts[at(column.part)];
    const Scale& scale = sheet.levels.scale;
    column.body = {0.0, sheet.levels.bars, 0.0, sheet.levels.bars};
    column.foot = sheet.levels.bars + 6.0;
    if (part.kind != PartKind::vessel) continue;
    column.body.top = scale.y(part.rim);
    column.body.bottom = scale.y(part.floor);
    column.label.lines = words_of(loop, answer, marks, part.index, narrow);
    column.label.box = box_of(column.label.lines);
    column.label.box.top += column.body.bottom + 6.0;
    column.label.box.bottom += column.body.bottom + 6.0;
    column.foot = column.label.box.bottom;
  }
}

}  // namespace leat::tell::drawing
