// Where each way from under the row comes in through a wall: straight where the wall is, else up beside it, the inner
// way the higher, so that they do not cross.
#include <algorithm>

#include "tell/drawing/layout/sheet.h"

namespace leat::tell::drawing {
namespace {

constexpr double kUnderRim = 8.0, kOverFloor = 6.0;

/// One wall of a vessel, and the links that come in through it, inner ways first.
struct WallSide {
  int part = 0;
  bool left = false;
  std::vector<std::size_t> links;
};

bool is_left_of(const Sheet& sheet, int one, int other) {
  return sheet.order.places[at(one)] < sheet.order.places[at(other)];
}

WallSide links_of(const Sheet& sheet, int part, bool left) {
  WallSide wall{part, left, {}};
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) {
    const Link& link = sheet.graph.links[i];
    if (sheet.order.ways[i] == Way::under && link.to == part && is_left_of(sheet, link.from, part) == left)
      wall.links.push_back(i);
  }
  std::stable_sort(wall.links.begin(), wall.links.end(),
                   [&](std::size_t a, std::size_t b) { return sheet.levels.ways[a] < sheet.levels.ways[b]; });
  return wall;
}

/// y under the steps to or from the neighbour that pass this wall.
double under_steps(const Sheet& sheet, const WallSide& wall) {
  double lowest = -1e9;
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) {
    const Link& link = sheet.graph.links[i];
    if (sheet.order.ways[i] != Way::beside || (link.from != wall.part && link.to != wall.part)) continue;
    const int other = link.from == wall.part ? link.to : link.from;
    if (is_left_of(sheet, other, wall.part) == wall.left) lowest = std::max(lowest, sheet.levels.ways[i] + 8.0);
  }
  return lowest;
}

/// With so much between two of them. Whether what rises stays under `top`.
bool fit(Sheet& sheet, const WallSide& wall, double pitch, double top, double bottom) {
  double next = bottom + pitch;
  bool fits = true;
  for (auto i = wall.links.rbegin(); i != wall.links.rend(); ++i) {
    const double way = sheet.levels.ways[*i];
    double& nozzle = sheet.levels.nozzles[*i];
    nozzle = std::min(way, next - pitch);
    fits = fits && (nozzle == way || nozzle >= top);
    next = nozzle;
  }
  return fits;
}

}  // namespace

void set_nozzles(Sheet& sheet) {
  sheet.levels.nozzles.assign(sheet.graph.links.size(), 0.0);
  for (const Column& column : sheet.columns)
    for (const bool left : {true, false}) {
      const WallSide wall = links_of(sheet, column.part, left);
      if (wall.links.empty() || sheet.graph.parts[at(column.part)].kind != PartKind::vessel) continue;
      const double top = column.body.top + kUnderRim, bottom = column.body.bottom - kOverFloor;
      bool fits = false;
      for (const double least : {std::max(top, under_steps(sheet, wall)), top})
        for (double pitch = 14.0; pitch > 2.0 && !fits; pitch -= 2.0) fits = fit(sheet, wall, pitch, least, bottom);
      const double room = bottom - column.body.top;
      if (!fits) fit(sheet, wall, room / static_cast<double>(wall.links.size() + 1), -1e9, bottom);
    }
}

}  // namespace leat::tell::drawing
