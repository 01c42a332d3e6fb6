#include "tell/drawing/symbols.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace leat::tell::drawing {
namespace {

/// A point seen from another: so far on, so far to the right of the way.
struct Frame {
  Point origin, on;
  Frame(const Point& at, const Point& towards) : origin(at) {
    const double dx = towards.x - at.x, dy = towards.y - at.y, whole = std::hypot(dx, dy);
    on = whole > 0.0 ? Point{dx / whole, dy / whole} : Point{0.0, -1.0};
  }
  Point operator()(double ahead, double right) const {
    return {origin.x + ahead * on.x - right * on.y, origin.y + ahead * on.y + right * on.x};
  }
};

}  // namespace

void draw_pump(Svg& svg, const Point& c, double r) {
  svg.circle("symbol", c, r);
  svg.shape("solid", {{c.x - 0.78 * r, c.y + 0.45 * r}, {c.x, c.y - 0.9 * r}, {c.x + 0.78 * r, c.y + 0.45 * r}}, true);
}

void draw_check_valve(Svg& svg, const Point& at, const Point& towards) {
  const Frame f(at, towards);
  svg.shape("symbol", {f(-7, -7), f(6, 0), f(-7, 7)}, true);
  svg.step("sign", f(7, -7), f(7, 7));
}

void draw_hand_valve(Svg& svg, const Point& at, const Point& towards) {
  const Frame f(at, towards);
  svg.shape("symbol", {f(-8, -6), f(8, 6), f(8, -6), f(-8, 6)}, true);
}

void draw_turn_valve(Svg& svg, const Point& at) {
  const double x = at.x, y = at.y;
  svg.shape("symbol", {{x, y}, {x - 10, y - 6}, {x - 10, y + 6}}, true);
  svg.shape("symbol", {{x, y}, {x + 10, y - 6}, {x + 10, y + 6}}, true);
  svg.shape("symbol", {{x, y}, {x - 6, y - 10}, {x + 6, y - 10}}, true);
}

void draw_standpipe(Svg& svg, const Point& rim) {
  svg.shape("sign", {{rim.x - 10, rim.y - 4}, {rim.x - 5, rim.y}, {rim.x - 5, rim.y + 6}}, false);
  svg.shape("sign", {{rim.x + 10, rim.y - 4}, {rim.x + 5, rim.y}, {rim.x + 5, rim.y + 6}}, false);
}

void draw_sleeve(Svg& svg, const Point& rim, double down_to) {
  for (const double side : {-10.0, 10.0})
    svg.step("tube", {rim.x + side, rim.y - 8}, {rim.x + side, std::max(down_to, rim.y)});
}

void draw_bell(Svg& svg, const Point& rim, double break_y) {
  const double left = rim.x - 13, right = rim.x + 13, low = std::max(break_y, rim.y), top = rim.y - 10;
  svg.curve("sign", "MLQQL",
            {{left, low}, {left, top + 7}, {left, top}, {rim.x, top}, {right, top}, {right, top + 7}, {right, low}});
}

void draw_orifice(Svg& svg, const Point& at, bool upright) {
  const Frame f(at, upright ? Point{at.x, at.y + 1.0} : Point{at.x + 1.0, at.y});
  for (const double ahead : {-2.0, 2.0})
    for (const double side : {-1.0, 1.0}) svg.step("sign", f(ahead, 4.0 * side), f(ahead, 10.0 * side));
}

void draw_weir(Svg& svg, const Point& crest) {
  svg.shape("sign", {{crest.x - 10, crest.y - 8}, {crest.x, crest.y}, {crest.x + 10, crest.y - 8}}, false);
}

void draw_slope(Svg& svg, const Point& mouth) {
  svg.step("sign", {mouth.x - 9, mouth.y}, {mouth.x + 9, mouth.y});
  svg.shape("solid", {{mouth.x - 9, mouth.y + 4}, {mouth.x - 9, mouth.y + 8}, {mouth.x - 3, mouth.y + 8}}, true);
}

void draw_bubbles(Svg& svg, const Point& at) {
  svg.circle("sign", {at.x, at.y - 3}, 2.6);
  svg.circle("sign", {at.x + 5, at.y - 11}, 2.1);
  svg.circle("sign", {at.x - 2, at.y - 18}, 1.7);
}

void draw_tap(Svg& svg, const Point& end) {
  svg.step("sign", {end.x - 5, end.y - 24}, {end.x + 5, end.y - 24});
  svg.step("sign", {end.x, end.y - 24}, {end.x, end.y - 5});
  svg.shape("solid", {{end.x - 4, end.y - 7}, {end.x + 4, end.y - 7}, {end.x, end.y}}, true);
}

void draw_fish(Svg& svg, const Point& at, double length) {
  const double h = 0.28 * length, nose = at.x + 0.5 * length, tail = at.x - 0.28 * length;
  svg.curve("solid", "MQQLLZ",
            {{tail, at.y},
             {at.x + 0.1 * length, at.y - 2.0 * h},
             {nose, at.y},
             {at.x + 0.1 * length, at.y + 2.0 * h},
             {tail, at.y},
             {at.x - 0.5 * length, at.y - h},
             {at.x - 0.5 * length, at.y + h}});
}

void draw_plant(Svg& svg, const Point& foot) {
  svg.curve("leaf", "MQ", {foot, {foot.x - 1, foot.y - 7}, {foot.x - 6, foot.y - 9}});
  svg.curve("leaf", "MQ", {foot, {foot.x + 1, foot.y - 7}, {foot.x + 6, foot.y - 9}});
  svg.step("leaf", foot, {foot.x, foot.y - 11});
}

void draw_gravel(Svg& svg, const Box& box) {
  int row = 0;
  for (double y = box.bottom - 6.0; y > box.top + 4.0; y -= 9.0, ++row)
    for (double x = box.left + (row % 2 == 0 ? 6.0 : 11.0); x < box.right - 3.0; x += 10.0)
      svg.circle("gravel", {x, y}, row % 3 == 0 ? 1.6 : 2.2);
}

void draw_raft(Svg& svg, const Box& box) {
  svg.box("raft", box, 2.0);
}

void draw_level(Svg& svg, const Point& on) {
  svg.shape("symbol", {{on.x - 5, on.y - 8}, {on.x + 5, on.y - 8}, {on.x, on.y}}, true);
}

void draw_cross(Svg& svg, const Point& at) {
  svg.box("symbol", {at.x - 7, at.y - 7, at.x + 7, at.y + 7});
  svg.step("sign", {at.x - 7, at.y - 7}, {at.x + 7, at.y + 7});
  svg.step("sign", {at.x - 7, at.y + 7}, {at.x + 7, at.y - 7});
}

void draw_mark(Svg& svg, const Point& c, const Mark& mark) {
  const double half = mark.number < 10 ? 7.5 : 10.0;
  const Box box{c.x - half, c.y - 7.5, c.x + half, c.y + 7.5};
  const bool bad = mark.verdict == answers::Verdict::bad, tight = mark.verdict == answers::Verdict::tight;
  svg.box(bad ? "bad mark-edge" : tight ? "tight mark-edge" : "unsure mark-edge", box, bad ? 1.5 : 7.5);
  svg.text(bad || tight ? "number on-mark" : "number", {c.x, c.y + 4.7}, fmt::format("{}", mark.number),
           Anchor::middle);
}

void draw_pipe(Svg& svg, const Line& line, const Stroke& stroke) {
  if (line.size() < 2) return;
  const std::string kind = stroke.falls ? "falls" : "pumped";
  const std::string dry = stroke.dry ? " dry" : "";
  Line shaft = line;
  const Frame back(line.back(), line[line.size() - 2]);
  const double reach = std::hypot(line.back().x - line[line.size() - 2].x, line.back().y - line[line.size() - 2].y);
  const double head = std::min(7.0 + stroke.width, 0.8 * reach), half = 3.0 + 0.7 * stroke.width;
  shaft.back() = back(0.6 * head, 0.0);
  svg.rounded(kind + dry, shaft, stroke.width);
  if (stroke.falls && stroke.width >= 3.0) svg.rounded("inside", shaft, stroke.width - 2.4);
  svg.shape(kind + "-head", {back(0, 0), back(head, half), back(head, -half)}, true);
}

}  // namespace leat::tell::drawing
