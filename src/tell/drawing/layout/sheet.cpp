#include "tell/drawing/layout/sheet.h"

#include <algorithm>

#include "tell/drawing/layout/text.h"

namespace leat::tell::drawing {
namespace {

void settle_columns(Sheet& sheet, const model::Loop& loop, const Marks& marks, bool narrow) {
  place_columns(sheet, loop, narrow);
  route(sheet);
  place_fixtures(sheet);
  place_labels(sheet, marks);
}

/// Around all that is drawn; its right side is known.
void set_area(Sheet& sheet) {
  sheet.area.left = 0.0;
  const auto take = [&](double top, double bottom) {
    sheet.area.top = std::min(sheet.area.top, top - 12.0);
    sheet.area.bottom = std::max(sheet.area.bottom, bottom + 12.0);
  };
  for (const Column& column : sheet.columns) {
    take(column.body.top, column.body.bottom);
    if (!column.label.lines.empty()) take(column.label.box.top, column.label.box.bottom);
  }
  for (const Line& line : sheet.routes)
    for (const Point& p : line) take(p.y, p.y);
  for (const Label& label : sheet.labels) take(label.box.top, label.box.bottom);
}

}  // namespace

Marks marks_of(const std::vector<answers::Finding>& findings) {
  Marks marks;
  int number = 0;
  for (const answers::Finding& f : findings)
    if (f.verdict != answers::Verdict::good) marks[f.path].push_back({++number, f.verdict});
  return marks;
}

std::vector<Mark> marks_on(const Marks& marks, const std::string& path) {
  const auto it = marks.find(path);
  return it == marks.end() ? std::vector<Mark>{} : it->second;
}

const Column& Sheet::column_of(int part) const {
  return columns[at(order.places[at(part)])];
}

const Slot* Sheet::slot(int part, Slot::What what, int item) const {
  const Column& column = column_of(part);
  for (const auto* list : {&column.left, &column.middle, &column.right, &column.below})
    for (const Slot& slot : *list)
      if (slot.what == what && slot.item == item) return &slot;
  return nullptr;
}

Sheet make_sheet(const model::Loop& loop, const answers::CheckAnswer& answer, bool narrow) {
  const Marks marks = marks_of(answer.findings);
  Sheet sheet;
  sheet.graph = graph_of(loop, answer);
  sheet.levels.scale = scale_of(sheet.graph);
  const bool bars = sheet.graph.parts.size() > loop.vessels.size();
  sheet.levels.bars = -36.0;
  sheet.levels.lowest_over = bars ? -64.0 : -42.0;
  sheet.order = order_of(sheet.graph, sheet.levels.scale);
  sheet.columns.resize(sheet.graph.parts.size());
  for (std::size_t part = 0; part < sheet.columns.size(); ++part)
    sheet.columns[at(sheet.order.places[part])].part = static_cast<int>(part);
  word_columns(sheet, loop, answer, marks, narrow);
  sheet.levels = levels_of(sheet);
  set_nozzles(sheet);
  fill_slots(sheet, loop);
  settle_columns(sheet, loop, marks, narrow);
  if (!sheet.left_out.empty()) settle_columns(sheet, loop, marks, narrow);
  if (narrow && sheet.area.right > kWidest) {
    sheet.room_wanted.assign(sheet.room_wanted.size(), 0.0);
    settle_columns(sheet, loop, marks, narrow);
  }
  set_area(sheet);
  return sheet;
}

}  // namespace leat::tell::drawing
