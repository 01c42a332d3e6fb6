// Symbols, after ISO 10628-2 and ISO 14617 where these have one (pump, valves, orifice, open vessel); the rest are
// plain pictures. Drawn from memory of the standards, not traced.
#pragma once

#include "tell/drawing/layout/sheet.h"
#include "tell/drawing/svg.h"

namespace leat::tell::drawing {

/// Everything that a legend may have to explain.
enum class Sign {
  tank,
  raft_bed,
  gravel_bed,
  level,
  pumped,
  falls,
  pump,
  check_valve,
  hand_valve,
  turn_valve,
  junction,
  standpipe,
  sleeve,
  siphon,
  drain_hole,
  weir,
  gravity_return,
  air,
  source,
  fish,
  plant,
  dry,
  blocked,
  ring,
  bad,
  tight,
  unsure
};

void draw_pump(Svg& svg, const Point& centre, double radius = kPumpRadius);
void draw_check_valve(Svg& svg, const Point& at, const Point& towards);
void draw_hand_valve(Svg& svg, const Point& at, const Point& towards);
void draw_turn_valve(Svg& svg, const Point& at);
void draw_standpipe(Svg& svg, const Point& rim);
void draw_sleeve(Svg& svg, const Point& rim, double down_to);
void draw_bell(Svg& svg, const Point& rim, double break_y);
/// Two plates beside an upright or level pipe.
void draw_orifice(Svg& svg, const Point& at, bool upright);
void draw_weir(Svg& svg, const Point& crest);
/// A wedge beside the mouth of a pipe that slopes.
void draw_slope(Svg& svg, const Point& mouth);
void draw_bubbles(Svg& svg, const Point& at);
void draw_tap(Svg& svg, const Point& end);
void draw_fish(Svg& svg, const Point& at, double length);
void draw_plant(Svg& svg, const Point& foot);
void draw_gravel(Svg& svg, const Box& box);
void draw_raft(Svg& svg, const Box& box);
/// A triangle that stands on the surface.
void draw_level(Svg& svg, const Point& on);
void draw_cross(Svg& svg, const Point& at);
void draw_mark(Svg& svg, const Point& centre, const Mark& mark);

/// A pipe with its arrow at the end.
struct Stroke {
  bool falls = false, dry = false;
  double width = 3.0;
};
void draw_pipe(Svg& svg, const Line& line, const Stroke& stroke);

}  // namespace leat::tell::drawing
