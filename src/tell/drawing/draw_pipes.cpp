// Pipes, the symbols on them and at their ends, and the ring around what matters most.
#include <algorithm>
#include <cmath>

#include "tell/drawing/parts.h"

namespace leat::tell::drawing {
namespace {

/// The drawn way of the water: the other way round where it runs backwards.
Line way_of_water(const Pen& pen, std::size_t i) {
  Line line = pen.sheet.routes[i];
  if (pen.sheet.graph.links[i].flow < 0.0) std::reverse(line.begin(), line.end());
  return line;
}

double largest_flow(const Graph& graph) {
  double most = 0.0;
  for (const Link& link : graph.links) most = std::max(most, std::abs(link.flow));
  return most;
}

/// Less than a thousandth of a litre an hour is no flow.
bool is_dry(const Link& link) {
  return std::abs(link.flow) < 1e-9 / 3.6;
}

/// As wide as the root of its share of the largest flow.
Stroke stroke_of(const Link& link, double largest) {
  if (is_dry(link) || largest <= 0.0) return {link.falls(), true, 1.5};
  return {link.falls(), false, (link.falls() ? 3.2 : 2.0) + 4.2 * std::sqrt(std::abs(link.flow) / largest)};
}

/// Where a pipe passes over another, a gap in the other.
void draw_gaps(Pen& pen, std::size_t i, double width) {
  for (std::size_t j = 0; j < i; ++j)
    for (const Point& p : crossings_between(pen.sheet.routes[i], pen.sheet.routes[j])) {
      const Line& line = pen.sheet.routes[i];
      for (std::size_t n = 1; n < line.size(); ++n) {
        if (!overlap(around_step(line[n - 1], line[n], 0.1), Box{p.x, p.y, p.x, p.y}.grown(0.1))) continue;
        const bool level = line[n - 1].y == line[n].y;
        const Point half = level ? Point{9.0, 0.0} : Point{0.0, 9.0};
        pen.svg.rounded("gap", {{p.x - half.x, p.y - half.y}, {p.x + half.x, p.y + half.y}}, width + 6.0);
      }
    }
}

void draw_exit(Pen& pen, std::size_t i) {
  const Link& link = pen.sheet.graph.links[i];
  const Column& column = pen.sheet.column_of(link.from);
  const Point mouth = pen.sheet.routes[i].front();
  const bool at_wall = pen.sheet.order.ways[i] == Way::beside;
  const double out = pen.sheet.routes[i].back().x > mouth.x ? 1.0 : -1.0;
  switch (link.kind) {
    case Carrier::pumped:
    case Carrier::pipe:
      return;
    case Carrier::overflow:
      pen.signs.insert(Sign::standpipe);
      if (pen.loop.overflows[at(link.index)].sleeve) {
        pen.signs.insert(Sign::sleeve);
        draw_sleeve(pen.svg, mouth, column.body.bottom - 8.0);
      }
      return draw_standpipe(pen.svg, mouth);
    case Carrier::siphon:
      pen.signs.insert(Sign::siphon);
      return draw_bell(pen.svg, mouth, pen.sheet.levels.scale.y(pen.loop.siphons[at(link.index)].break_level.si()));
    case Carrier::drain_hole:
      pen.signs.insert(Sign::drain_hole);
      if (at_wall) return draw_orifice(pen.svg, {mouth.x + 7.0 * out, mouth.y}, false);
      return draw_orifice(
          pen.svg, {mouth.x, pen.sheet.order.ways[i] == Way::under ? column.body.bottom + 9.0 : mouth.y - 9.0}, true);
    case Carrier::weir:
      pen.signs.insert(Sign::weir);
      return draw_weir(pen.svg, mouth);
    case Carrier::gravity_return:
      pen.signs.insert(Sign::gravity_return);
      return draw_slope(pen.svg, mouth);
  }
}

void draw_fixture(Pen& pen, const Fixture& fixture) {
  switch (fixture.what) {
    case Fixture::What::check_valve:
      pen.signs.insert(Sign::check_valve);
      return draw_check_valve(pen.svg, fixture.at, fixture.towards);
    case Fixture::What::hand_valve:
      pen.signs.insert(Sign::hand_valve);
      return draw_hand_valve(pen.svg, fixture.at, fixture.towards);
    case Fixture::What::blocked:
      pen.signs.insert(Sign::blocked);
      return draw_cross(pen.svg, fixture.at);
  }
}

/// The bar that a junction's or valve's pipes stand on, and the valve where the water comes in.
void draw_bar(Pen& pen, const Column& column) {
  const Part& part = pen.sheet.graph.parts[at(column.part)];
  pen.svg.open(part.kind == PartKind::valve ? "valve" : "junction", part.path);
  const Box& b = column.body;
  pen.svg.box("solid", {b.left, b.top - 2.5, b.right, b.bottom + 2.5}, 2.5);
  pen.signs.insert(part.kind == PartKind::valve ? Sign::turn_valve : Sign::junction);
  if (part.kind == PartKind::valve)
    for (const auto* list : {&column.middle, &column.below})
      for (const Slot& slot : *list)
        if (slot.what == Slot::What::end) draw_turn_valve(pen.svg, {slot.x, b.top});
  pen.svg.close();
}

void draw_slots(Pen& pen, const Column& column) {
  for (const Slot& slot : column.middle) {
    const bool starts = slot.what == Slot::What::start;
    if (starts && pen.sheet.graph.links[at(slot.item)].pump >= 0) {
      pen.signs.insert(Sign::pump);
      draw_pump(pen.svg, {slot.x, pump_y(column)});
    } else if (slot.what == Slot::What::source) {
      pen.signs.insert(Sign::source);
      draw_tap(pen.svg, {slot.x, column.body.top - 2.0});
    } else if (slot.what == Slot::What::air) {
      pen.signs.insert(Sign::air);
      const double depth = pen.loop.airs[at(slot.item)].depth.si() * pen.sheet.levels.scale.per_metre;
      draw_bubbles(pen.svg, {slot.x, std::min(column.body.top + depth, column.body.bottom - 4.0)});
    }
  }
}

/// The part that a path names, as a box; empty where it is not drawn.
Box box_of(const Pen& pen, const std::string& path) {
  const Sheet& sheet = pen.sheet;
  for (const Column& column : sheet.columns) {
    const Part& part = sheet.graph.parts[at(column.part)];
    if (part.path == path) return column.body.grown(part.kind == PartKind::vessel ? 6.0 : 14.0);
  }
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) {
    const Link& link = sheet.graph.links[i];
    const Line& line = sheet.routes[i];
    if (link.pump >= 0 && pen.loop.pumps[at(link.pump)].path == path)
      return Box{line[0].x, pump_y(sheet.column_of(link.from)), line[0].x, pump_y(sheet.column_of(link.from))}.grown(
          17);
    if (link.path != path) continue;
    const Point middle{(line[0].x + line[1].x) / 2.0, (line[0].y + line[1].y) / 2.0};
    const Point p = link.kind == Carrier::pumped || link.kind == Carrier::pipe ? middle : line[0];
    return Box{p.x, p.y, p.x, p.y}.grown(17.0);
  }
  for (const Column& column : sheet.columns)
    for (const Slot& slot : column.middle)
      if (slot.what == Slot::What::source && pen.loop.sources[at(slot.item)].path == path)
        return {slot.x - 13.0, column.body.top - 34.0, slot.x + 13.0, column.body.top + 6.0};
  return {};
}

}  // namespace

void draw_pipes(Pen& pen) {
  const double largest = largest_flow(pen.sheet.graph);
  for (std::size_t i = 0; i < pen.sheet.graph.links.size(); ++i) {
    const Link& link = pen.sheet.graph.links[i];
    const Stroke stroke = stroke_of(link, largest);
    pen.signs.insert(link.falls() ? Sign::falls : Sign::pumped);
    if (stroke.dry) pen.signs.insert(Sign::dry);
    pen.svg.open("pipe", link.path);
    draw_gaps(pen, i, stroke.width);
    draw_pipe(pen.svg, way_of_water(pen, i), stroke);
    pen.svg.close();
  }
}

void draw_symbols(Pen& pen) {
  pen.svg.open("symbols");
  for (std::size_t i = 0; i < pen.sheet.graph.links.size(); ++i) draw_exit(pen, i);
  for (const Fixture& fixture : pen.sheet.fixtures) draw_fixture(pen, fixture);
  pen.svg.close();
  for (const Column& column : pen.sheet.columns)
    if (pen.sheet.graph.parts[at(column.part)].kind == PartKind::vessel)
      draw_slots(pen, column);
    else
      draw_bar(pen, column);
}

void draw_ring(Pen& pen, const std::string& path) {
  const Box box = box_of(pen, path);
  if (box.width() <= 0.0) return;
  pen.signs.insert(Sign::ring);
  pen.svg.box("ring", box, std::min(17.0, box.height() / 2.0));
}

}  // namespace leat::tell::drawing
