// What the heights decide: the scale, the order, the long steps over and under the row.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "tell/drawing/layout/sheet.h"

namespace leat::tell::drawing {
namespace {

constexpr double kWayPitch = 25.0;   ///< between ways side by side: a line and its label
constexpr double kStepPitch = 12.0;  ///< between steps to the same neighbour
constexpr double kOverFloor = 5.0;   ///< the least of a step that leaves at the side
constexpr double kLow = 24.0;        ///< over a floor: what rises beside the wall has to pass
constexpr double kUsual = 400.0;     ///< of the drawing from floor to rim
constexpr double kTallest = 900.0;
constexpr double kShallow = 44.0;  ///< wanted of the shallowest vessel

struct Reach {
  int low = 0, high = 0;
};
Reach reach_of(const Link& link, const Order& order) {
  const int a = order.places[at(link.from)], b = order.places[at(link.to)];
  return {std::min(a, b), std::max(a, b)};
}

/// Whether two ways lie over each other somewhere; a way from a part to itself lies under what passes that part.
bool share(const Reach& a, const Reach& b) {
  if (a.low == a.high) return b.low < a.low && a.low < b.high;
  if (b.low == b.high) return share(b, a);
  return std::max(a.low, b.low) < std::min(a.high, b.high);
}

/// y under which a way has to stay: under all that it passes, and under the rim where it comes in.
double least_depth(const Sheet& sheet, std::size_t i) {
  const Link& link = sheet.graph.links[i];
  const Reach reach = reach_of(link, sheet.order);
  double y = 0.0;
  for (int p = reach.low; p <= reach.high; ++p) {
    const Column& column = sheet.columns[at(p)];
    const Part& part = sheet.graph.parts[at(column.part)];
    const bool enters = column.part == link.to && part.kind == PartKind::vessel;
    y = std::max(y, enters ? sheet.levels.scale.y(part.rim) + 12.0 : column.foot + 14.0);
  }
  return y;
}

/// One after the other, inner ways first, each beyond those that it shares the row with.
void stack(const Sheet& sheet, Levels& levels, const std::vector<int>& inner_first) {
  const std::vector<Link>& links = sheet.graph.links;
  std::vector<std::size_t> placed;
  for (const int link : inner_first) {
    const std::size_t i = at(link);
    const Way way = sheet.order.ways[i];
    if (way == Way::beside) continue;
    double y = way == Way::over ? levels.lowest_over : least_depth(sheet, i);
    for (const std::size_t j : placed)
      if (sheet.order.ways[j] == way && share(reach_of(links[i], sheet.order), reach_of(links[j], sheet.order)))
        y = way == Way::over ? std::min(y, levels.ways[j] - kWayPitch) : std::max(y, levels.ways[j] + kWayPitch);
    levels.ways[i] = y;
    placed.push_back(i);
  }
}

/// What steps through the same gap needs a little room in between: downwards, and up again from the floor.
void part_steps(const Sheet& sheet, Levels& levels) {
  const std::vector<Link>& links = sheet.graph.links;
  for (int gap = 0; gap + 1 < static_cast<int>(sheet.columns.size()); ++gap) {
    std::vector<std::size_t> steps;
    for (std::size_t i = 0; i < links.size(); ++i)
      if (sheet.order.ways[i] == Way::beside && reach_of(links[i], sheet.order).low == gap) steps.push_back(i);
    std::stable_sort(steps.begin(), steps.end(),
                     [&](std::size_t a, std::size_t b) { return levels.ways[a] < levels.ways[b]; });
    for (std::size_t n = 1; n < steps.size(); ++n)
      levels.ways[steps[n]] = std::max(levels.ways[steps[n]], levels.ways[steps[n - 1]] + kStepPitch);
    for (std::size_t n = steps.size(); n-- > 0;) {
      const double floor = levels.scale.y(sheet.graph.parts[at(links[steps[n]].from)].floor);
      double& y = levels.ways[steps[n]];
      y = std::min(y, floor - kOverFloor);
      if (n + 1 < steps.size()) y = std::min(y, levels.ways[steps[n + 1]] - kStepPitch);
    }
  }
}

}  // namespace

Scale scale_of(const Graph& graph) {
  if (graph.parts.empty()) return {1.0, 0.0, kUsual};
  Scale scale{-1e9, 1e9};
  double shallowest = 1e9;
  for (const Part& part : graph.parts) {
    if (part.kind != PartKind::vessel) continue;
    scale.high = std::max(scale.high, part.rim);
    scale.low = std::min(scale.low, part.floor);
    shallowest = std::min(shallowest, part.rim - part.floor);
  }
  for (const Link& link : graph.links)
    if (link.end) scale.high = std::max(scale.high, *link.end);
  const double range = std::max(scale.high - scale.low, 0.02);
  const double wanted = std::max(kUsual / range, kShallow / std::max(shallowest, 1e-3));
  scale.per_metre = std::min({wanted, std::max(kTallest, kUsual) / range, 900.0});
  return scale;
}

double side_exit(const Link& link, const Graph& graph, const Scale& scale) {
  const double floor = scale.y(graph.parts[at(link.from)].floor), out = scale.y(link.exit);
  if (link.kind == Carrier::siphon) return floor - 6.0;
  return std::min(link.kind == Carrier::overflow ? out + 14.0 : out, floor - kOverFloor);
}

bool goes_over_rim(const Link& link, const Graph& graph, const Scale& scale, double exit) {
  return exit < scale.y(graph.parts[at(link.to)].rim) - 8.0;
}

Order order_of(const Graph& graph, const Scale& scale) {
  std::vector<Arc> arcs;
  for (const Link& link : graph.links) {
    Arc arc{link.from, link.to, link.falls()};
    const Part &from = graph.parts[at(link.from)], &to = graph.parts[at(link.to)];
    arc.leaves_below = from.kind == PartKind::vessel;
    arc.ends_at_side = to.kind == PartKind::vessel;
    arc.may_step =
        link.falls() && arc.leaves_below && arc.ends_at_side && side_exit(link, graph, scale) < scale.y(to.floor) - 8.0;
    arc.low_at_from = side_exit(link, graph, scale) > scale.y(from.floor) - kLow;
    arc.low_at_to = side_exit(link, graph, scale) > scale.y(to.floor) - kLow;
    arcs.push_back(arc);
  }
  return best_order(static_cast<int>(graph.parts.size()), arcs, graph.first);
}

Levels levels_of(const Sheet& sheet) {
  Levels levels = sheet.levels;
  const std::vector<Link>& links = sheet.graph.links;
  levels.ways.assign(links.size(), 0.0);
  levels.ranks.assign(links.size(), 0);
  std::vector<int> inner_first(links.size());
  std::iota(inner_first.begin(), inner_first.end(), 0);
  const auto span = [&](int i) {
    const Reach reach = reach_of(links[at(i)], sheet.order);
    return reach.high - reach.low;
  };
  std::stable_sort(inner_first.begin(), inner_first.end(), [&](int a, int b) { return span(a) < span(b); });
  for (std::size_t n = 0; n < inner_first.size(); ++n) levels.ranks[at(inner_first[n])] = static_cast<int>(n);
  for (std::size_t i = 0; i < links.size(); ++i)
    if (sheet.order.ways[i] == Way::beside) levels.ways[i] = side_exit(links[i], sheet.graph, levels.scale);
  part_steps(sheet, levels);
  stack(sheet, levels, inner_first);
  return levels;
}

}  // namespace leat::tell::drawing
