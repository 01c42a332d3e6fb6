// The scale, vessels with what is in them, and words.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/text.h"
#include "tell/drawing/parts.h"

namespace leat::tell::drawing {
namespace {

constexpr double kAxis = 54.0;

/// The smallest round step that leaves so much room between two marks.
double round_step(double per_metre, double room) {
  for (const double step : {0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0})
    if (step * per_metre >= room) return step;
  return 20.0;
}

double level_y(const Pen& pen, const Column& column, const std::string& path) {
  for (const answers::VesselLevels& level : pen.answer.vessels)
    if (level.path == path && std::isfinite(level.running.si()))
      return std::clamp(pen.sheet.levels.scale.y(level.running.si()), column.body.top, column.body.bottom);
  return column.body.bottom;
}

/// The widest stretch of a vessel between `slots`, which stand from left to right.
Box widest_gap(const Column& column, const std::vector<Slot>& slots, double top, double bottom) {
  Box gap{column.body.left, top, column.body.left, bottom};
  double free_from = column.body.left;
  const auto take = [&](double from, double to) {
    if (from - free_from > gap.width()) gap = {free_from, top, from, bottom};
    free_from = std::max(free_from, to);
  };
  for (const Slot& slot : slots) take(slot.x - slot.width / 2.0, slot.x + slot.width / 2.0);
  take(column.body.right, column.body.right);
  return gap;
}

std::vector<Slot> all_slots(const Column& column) {
  std::vector<Slot> all = column.left;
  all.insert(all.end(), column.middle.begin(), column.middle.end());
  all.insert(all.end(), column.right.begin(), column.right.end());
  return all;
}

/// Those that reach down into the water: not what drops in from above it.
std::vector<Slot> deep_slots(const Pen& pen, const Column& column, double level) {
  std::vector<Slot> deep = all_slots(column);
  std::erase_if(deep, [&](const Slot& slot) {
    if (slot.what == Slot::What::source) return true;
    return slot.what == Slot::What::end && pen.sheet.routes[at(slot.item)].back().y < level;
  });
  return deep;
}

bool is_free(const Pen& pen, const Column& column, double x) {
  for (const Line& line : pen.sheet.routes)  // mouths in the wall have no slot
    if (std::abs(line.front().x - x) < 14.0 && line.front().y > column.body.top - 1.0 &&
        line.front().y < column.body.bottom)
      return false;
  const std::vector<Slot> all = all_slots(column);
  return std::none_of(all.begin(), all.end(),
                      [&](const Slot& slot) { return std::abs(slot.x - x) < slot.width / 2.0 + 6.0; });
}

/// A mark on the surface where it hides nothing: at a wall, else in the widest stretch, else nowhere.
void mark_level(Pen& pen, const Column& column, double level) {
  for (const double x : {column.body.right - 8.0, column.body.left + 8.0})
    if (is_free(pen, column, x)) return draw_level(pen.svg, {x, level});
  const Box gap = widest_gap(column, all_slots(column), level, level);
  if (gap.width() >= 13.0) draw_level(pen.svg, {gap.middle().x, level});
}

void draw_plants(Pen& pen, const Column& column, double y) {
  pen.signs.insert(Sign::plant);
  for (double x = column.body.left + 12.0; x < column.body.right - 9.0; x += 16.0)
    if (is_free(pen, column, x)) draw_plant(pen.svg, {x, y});
}

void draw_inside(Pen& pen, const Column& column, const model::Vessel& vessel, double level) {
  const Box& body = column.body;
  const int v = pen.sheet.graph.parts[at(column.part)].index;
  const bool planted = std::any_of(pen.loop.plantings.begin(), pen.loop.plantings.end(),
                                   [&](const model::Planting& p) { return p.vessel == v; });
  double bed_top = level;
  if (vessel.kind == model::VesselKind::gravel_bed) {
    draw_gravel(pen.svg, {body.left, body.top + 4.0, body.right, body.bottom});
    bed_top = body.top + 3.0;
  }
  if (vessel.kind == model::VesselKind::raft_bed) {
    draw_raft(pen.svg, {body.left + 3.0, level - 3.0, body.right - 3.0, level + 4.0});
    bed_top = level - 3.0;
  }
  if (planted) draw_plants(pen, column, bed_top);
  const bool fish =
      std::any_of(pen.loop.fish.begin(), pen.loop.fish.end(), [&](const auto& f) { return f.vessel == v; });
  const Box gap = widest_gap(column, deep_slots(pen, column, level), level, body.bottom);
  if (!fish || gap.width() < 22.0 || gap.height() < 30.0) return;
  pen.signs.insert(Sign::fish);
  draw_fish(pen.svg, gap.middle(), std::min(30.0, gap.width() - 6.0));
}

Sign sign_of(model::VesselKind kind) {
  return kind == model::VesselKind::raft_bed     ? Sign::raft_bed
         : kind == model::VesselKind::gravel_bed ? Sign::gravel_bed
                                                 : Sign::tank;
}

void draw_vessel(Pen& pen, const Column& column) {
  const Part& part = pen.sheet.graph.parts[at(column.part)];
  const model::Vessel& vessel = pen.loop.vessels[at(part.index)];
  const Box& body = column.body;
  const double level = level_y(pen, column, part.path);
  pen.signs.insert({sign_of(vessel.kind), Sign::level});
  pen.svg.open("vessel", part.path);
  pen.svg.box("water", {body.left, level, body.right, body.bottom});
  draw_inside(pen, column, vessel, level);
  pen.svg.step("surface", {body.left, level}, {body.right, level});
  pen.svg.shape("wall",
                {{body.left, body.top}, {body.left, body.bottom}, {body.right, body.bottom}, {body.right, body.top}},
                false);
  mark_level(pen, column, level);
  pen.svg.close();
}

void draw_icon(Pen& pen, Icon icon, const Point& middle) {
  switch (icon) {
    case Icon::none:
      return;
    case Icon::level:
      return draw_level(pen.svg, {middle.x, middle.y + 4.0});
    case Icon::pump:
      return draw_pump(pen.svg, middle, 6.0);
    case Icon::source:
      pen.svg.step("sign", {middle.x, middle.y - 6.0}, {middle.x, middle.y});
      return pen.svg.shape(
          "solid", {{middle.x - 4, middle.y - 1}, {middle.x + 4, middle.y - 1}, {middle.x, middle.y + 6}}, true);
    case Icon::air:
      pen.svg.circle("sign", {middle.x - 2.0, middle.y + 2.0}, 2.8);
      return pen.svg.circle("sign", {middle.x + 3.0, middle.y - 4.0}, 1.8);
    case Icon::fish:
      return draw_fish(pen.svg, middle, 14.0);
  }
}

}  // namespace

void draw_scale(Pen& pen) {
  const Scale& scale = pen.sheet.levels.scale;
  const double step = round_step(scale.per_metre, 44.0);
  const double bottom = scale.y(scale.low), right = pen.sheet.area.right - 8.0;
  pen.svg.open("scale");
  pen.svg.step("axis", {kAxis, scale.y(scale.high)}, {kAxis, bottom});
  for (double n = std::ceil(scale.low / step - 1e-9); n * step <= scale.high + 1e-9; ++n) {
    const double y = scale.y(n * step);
    pen.svg.step("grid", {kAxis, y}, {right, y});
    pen.svg.step("axis", {kAxis - 5.0, y}, {kAxis, y});
    pen.svg.text("quiet", {kAxis - 8.0, y + 4.0}, fmt::format("{:.{}f}", n * step + 0.0, step < 0.1 ? 2 : 1),
                 Anchor::end);
  }
  pen.svg.text("quiet", {kAxis - 8.0, scale.y(scale.high) - 14.0}, "m", Anchor::end);
  pen.svg.close();
}

void draw_vessels(Pen& pen) {
  for (const Column& column : pen.sheet.columns)
    if (pen.sheet.graph.parts[at(column.part)].kind == PartKind::vessel) draw_vessel(pen, column);
}

void draw_words(Pen& pen, const Label& label) {
  double y = label.box.top;
  for (const WordLine& line : label.lines) {
    double x = label.box.left;
    if (line.icon != Icon::none) {
      draw_icon(pen, line.icon, {x + 7.0, y + 7.0});
      x += 17.0;
    }
    pen.svg.text(line.bold ? "bold" : "plain", {x, y + 11.5}, line.text);
    x = label.box.left + line.width() - kMarkWidth * static_cast<double>(line.marks.size());
    for (const Mark& mark : line.marks) {
      draw_mark(pen.svg, {x + kMarkWidth / 2.0, y + 7.0}, mark);
      x += kMarkWidth;
    }
    y += kLineHeight;
  }
}

void draw_labels(Pen& pen) {
  pen.svg.open("labels");
  for (const Column& column : pen.sheet.columns)
    if (!column.label.lines.empty()) draw_words(pen, column.label);
  for (const Label& label : pen.sheet.labels) draw_words(pen, label);
  pen.svg.close();
}

}  // namespace leat::tell::drawing
