#include "tell/drawing/legend.h"

#include <algorithm>
#include <string_view>

#include "tell/drawing/layout/text.h"

namespace leat::tell::drawing {
namespace {

constexpr double kRow = 36.0, kSample = 52.0;

struct Entry {
  Sign sign;
  std::string_view means;
};
constexpr Entry kEntries[] = {
    {Sign::tank, "open vessel"},
    {Sign::raft_bed, "raft bed"},
    {Sign::gravel_bed, "gravel bed"},
    {Sign::level, "level of the water, m"},
    {Sign::pumped, "fed by a pump"},
    {Sign::falls, "runs by gravity"},
    {Sign::dry, "carries nothing now"},
    {Sign::pump, "pump"},
    {Sign::check_valve, "check valve"},
    {Sign::hand_valve, "hand valve, part shut"},
    {Sign::turn_valve, "sequencing valve"},
    {Sign::junction, "junction"},
    {Sign::standpipe, "overflow standpipe"},
    {Sign::sleeve, "sleeve to the floor"},
    {Sign::siphon, "bell siphon"},
    {Sign::drain_hole, "drain hole"},
    {Sign::weir, "weir, its crest"},
    {Sign::gravity_return, "gravity return"},
    {Sign::air, "air stones"},
    {Sign::source, "water added"},
    {Sign::fish, "fish"},
    {Sign::plant, "plants"},
    {Sign::blocked, "blocked"},
    {Sign::ring, "what matters most"},
    {Sign::bad, "fails"},
    {Sign::tight, "too little margin"},
    {Sign::unsure, "cannot tell"},
};

void small_vessel(Svg& svg, const Point& c, double level) {
  svg.box("water", {c.x - 16, level, c.x + 16, c.y + 12});
  svg.step("surface", {c.x - 16, level}, {c.x + 16, level});
}

void small_walls(Svg& svg, const Point& c) {
  svg.shape("wall", {{c.x - 16, c.y - 12}, {c.x - 16, c.y + 12}, {c.x + 16, c.y + 12}, {c.x + 16, c.y - 12}}, false);
}

void draw_vessel_sample(Svg& svg, Sign sign, const Point& c) {
  small_vessel(svg, c, c.y - 4.0);
  if (sign == Sign::gravel_bed) draw_gravel(svg, {c.x - 16, c.y - 12, c.x + 16, c.y + 12});
  if (sign == Sign::raft_bed) draw_raft(svg, {c.x - 13, c.y - 7, c.x + 13, c.y});
  small_walls(svg, c);
}

/// An upright way through the sample.
void draw_way(Svg& svg, const Point& c, bool falls) {
  draw_pipe(svg, {{c.x, falls ? c.y - 6 : c.y + 15}, {c.x, falls ? c.y + 15 : c.y - 15}}, {falls, false, 3.4});
}

void draw_exit_sample(Svg& svg, Sign sign, const Point& c) {
  draw_way(svg, c, true);
  const Point rim{c.x, c.y - 6};
  if (sign == Sign::standpipe || sign == Sign::sleeve) draw_standpipe(svg, rim);
  if (sign == Sign::sleeve) draw_sleeve(svg, rim, c.y + 12);
  if (sign == Sign::siphon) draw_bell(svg, rim, c.y + 8);
  if (sign == Sign::drain_hole) draw_orifice(svg, {c.x, c.y + 2}, true);
  if (sign == Sign::weir) draw_weir(svg, rim);
  if (sign == Sign::gravity_return) draw_slope(svg, rim);
}

void draw_valve_sample(Svg& svg, Sign sign, const Point& c) {
  const Line level{{c.x - 22, c.y}, {c.x + 24, c.y}};
  if (sign == Sign::turn_valve) {
    svg.box("solid", {c.x - 20, c.y + 2.5, c.x + 20, c.y + 7.5}, 2.5);
    return draw_turn_valve(svg, {c.x, c.y + 5});
  }
  draw_pipe(svg, level, {false, false, 3.0});
  if (sign == Sign::check_valve) draw_check_valve(svg, {c.x - 4, c.y}, level.back());
  if (sign == Sign::hand_valve) draw_hand_valve(svg, {c.x - 4, c.y}, level.back());
  if (sign == Sign::blocked) draw_cross(svg, {c.x - 4, c.y});
}

void draw_small_sample(Svg& svg, Sign sign, const Point& c) {
  const Line level{{c.x - 22, c.y}, {c.x + 22, c.y}};
  switch (sign) {
    case Sign::level:
      svg.step("surface", {c.x - 16, c.y + 4}, {c.x + 16, c.y + 4});
      return draw_level(svg, {c.x, c.y + 4});
    case Sign::pumped:
    case Sign::falls:
      return draw_pipe(svg, level, {sign == Sign::falls, false, 5.0});
    case Sign::dry:
      return draw_pipe(svg, level, {false, true, 1.5});
    case Sign::pump:
      return draw_pump(svg, c);
    case Sign::junction:
      return svg.box("solid", {c.x - 16, c.y - 2.5, c.x + 16, c.y + 2.5}, 2.5);
    case Sign::air:
      return draw_bubbles(svg, {c.x, c.y + 10});
    case Sign::source:
      return draw_tap(svg, {c.x, c.y + 12});
    case Sign::fish:
      return draw_fish(svg, c, 30.0);
    case Sign::plant:
      return draw_plant(svg, {c.x, c.y + 7});
    case Sign::ring:
      return svg.box("ring", {c.x - 13, c.y - 13, c.x + 13, c.y + 13}, 13.0);
    default:
      return;
  }
}

void draw_sample(Svg& svg, Sign sign, const Point& c) {
  switch (sign) {
    case Sign::tank:
    case Sign::raft_bed:
    case Sign::gravel_bed:
      return draw_vessel_sample(svg, sign, c);
    case Sign::standpipe:
    case Sign::sleeve:
    case Sign::siphon:
    case Sign::drain_hole:
    case Sign::weir:
    case Sign::gravity_return:
      return draw_exit_sample(svg, sign, c);
    case Sign::check_valve:
    case Sign::hand_valve:
    case Sign::turn_valve:
    case Sign::blocked:
      return draw_valve_sample(svg, sign, c);
    case Sign::bad:
      return draw_mark(svg, c, {1, answers::Verdict::bad});
    case Sign::tight:
      return draw_mark(svg, c, {1, answers::Verdict::tight});
    case Sign::unsure:
      return draw_mark(svg, c, {1, answers::Verdict::cannot_tell});
    default:
      return draw_small_sample(svg, sign, c);
  }
}

}  // namespace

double draw_legend(Svg& svg, const Signs& signs, double top, double width) {
  std::vector<Entry> used;
  double widest = 0.0;
  for (const Entry& entry : kEntries) {
    if (!signs.contains(entry.sign)) continue;
    used.push_back(entry);
    widest = std::max(widest, kSample + text_width(entry.means, kPlain) + 14.0);
  }
  if (used.empty()) return top;
  const auto columns = static_cast<std::size_t>(std::max(1.0, std::floor((width - 24.0) / widest)));
  const std::size_t rows = (used.size() + columns - 1) / columns;
  const double pitch = (width - 24.0) / static_cast<double>(columns);
  svg.open("legend");
  for (std::size_t i = 0; i < used.size(); ++i) {
    const double x = 16.0 + pitch * static_cast<double>(i / rows), y = top + kRow * static_cast<double>(i % rows);
    draw_sample(svg, used[i].sign, {x + 24.0, y + kRow / 2.0});
    svg.text("plain", {x + kSample, y + kRow / 2.0 + 4.0}, used[i].means);
  }
  svg.close();
  return top + kRow * static_cast<double>(rows);
}

}  // namespace leat::tell::drawing
