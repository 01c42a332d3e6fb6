// Valves on pipes, and what blocks them: on the first step of a rising main, else in the middle of the longest step.
#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/sheet.h"

namespace leat::tell::drawing {
namespace {

double length(const Point& a, const Point& b) {
  return std::abs(a.x - b.x) + std::abs(a.y - b.y);
}

Point along(const Point& a, const Point& b, double share) {
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

void on_longest_step(Sheet& sheet, std::size_t i, Fixture::What what, double share) {
  const Line& line = sheet.routes[i];
  std::size_t longest = 1;
  for (std::size_t n = 2; n < line.size(); ++n)
    if (length(line[n - 1], line[n]) > length(line[longest - 1], line[longest])) longest = n;
  if (line.size() < 2) return;
  sheet.fixtures.push_back({what, static_cast<int>(i), along(line[longest - 1], line[longest], share), line[longest]});
}

/// Just above the rim of the vessel with the pump.
void check_valve(Sheet& sheet, std::size_t i) {
  const Line& line = sheet.routes[i];
  if (line.size() < 2) return;
  const double rim = sheet.column_of(sheet.graph.links[i].from).body.top;
  sheet.fixtures.push_back(
      {Fixture::What::check_valve, static_cast<int>(i), {line[0].x, std::max(rim - 14.0, line[1].y + 14.0)}, line[1]});
}

}  // namespace

void place_fixtures(Sheet& sheet) {
  sheet.fixtures.clear();
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) {
    const Link& link = sheet.graph.links[i];
    if (link.check_valve) check_valve(sheet, i);
    if (link.hand_valve) on_longest_step(sheet, i, Fixture::What::hand_valve, 0.5);
    if (link.blocked) on_longest_step(sheet, i, Fixture::What::blocked, 0.35);
  }
}

}  // namespace leat::tell::drawing
