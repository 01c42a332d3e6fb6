// The way of each pipe, corner by corner.
#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/sheet.h"

namespace leat::tell::drawing {
namespace {

constexpr double kThroughWall = 7.0;  ///< that a pipe reaches into a vessel

class Router {
  Sheet& sheet_;
  std::vector<std::vector<std::size_t>> risers_left_, risers_right_;  ///< of each place, inner ways first

 public:
  explicit Router(Sheet& sheet) : sheet_(sheet) { gather_risers(); }

  Line line_of(std::size_t i) const {
    switch (sheet_.order.ways[i]) {
      case Way::over:
        return over(i);
      case Way::under:
        return under(i);
      case Way::beside:
        return beside(i);
    }
    return {};
  }

 private:
  const Link& link(std::size_t i) const { return sheet_.graph.links[i]; }
  const Scale& scale() const { return sheet_.levels.scale; }
  bool is_vessel(int part) const { return sheet_.graph.parts[at(part)].kind == PartKind::vessel; }
  bool is_valve(int part) const { return sheet_.graph.parts[at(part)].kind == PartKind::valve; }
  double x_of(std::size_t i, Slot::What what) const {
    const Slot* slot = sheet_.slot(what == Slot::What::start ? link(i).from : link(i).to, what, static_cast<int>(i));
    return slot ? slot->x : 0.0;
  }

  /// Where a link starts, in its slot.
  Point start(std::size_t i) const {
    const Link& l = link(i);
    const Column& column = sheet_.column_of(l.from);
    const double x = x_of(i, Slot::What::start);
    if (!is_vessel(l.from)) return {x, column.body.bottom};
    if (l.pump >= 0) return {x, pump_y(column) - kPumpRadius};
    return {x, std::clamp(scale().y(l.exit), column.body.top, column.body.bottom)};
  }

  /// Where the end of a pipe hangs in a vessel that it reaches from above.
  double hanging_end(const Link& l, double from_y) const {
    const Column& column = sheet_.column_of(l.to);
    if (!is_vessel(l.to)) return column.body.top - (l.turn == 0 && is_valve(l.to) ? 9.0 : 0.0);
    const double usual = l.falls() ? column.body.top + 10.0 : column.body.bottom - 10.0;
    const double y = l.end ? scale().y(*l.end) : usual;
    return std::max(from_y + 8.0, std::min(y, column.body.bottom - 4.0));
  }

  Line over(std::size_t i) const {
    const double y = sheet_.levels.ways[i];
    const Point from = start(i);
    const double x = x_of(i, Slot::What::end);
    return {from, {from.x, y}, {x, y}, {x, hanging_end(link(i), y)}};
  }

  Line under(std::size_t i) const {
    const double y = sheet_.levels.ways[i];
    const Point from = start(i);
    Line line{from, {from.x, y}};
    if (!is_vessel(link(i).to)) {
      const double x = x_of(i, Slot::What::end);
      line.insert(line.end(), {{x, y}, {x, sheet_.column_of(link(i).to).body.bottom}});
      return line;
    }
    through_wall(i, line);
    return line;
  }

  bool from_left(std::size_t i) const {
    return sheet_.order.places[at(link(i).from)] < sheet_.order.places[at(link(i).to)];
  }
  bool rises(std::size_t i) const { return sheet_.levels.nozzles[i] < sheet_.levels.ways[i]; }

  /// Straight in where the wall is, else up beside it: the inner way farther from the wall and higher.
  void through_wall(std::size_t i, Line& line) const {
    const Column& column = sheet_.column_of(link(i).to);
    const double y = sheet_.levels.ways[i], out = from_left(i) ? -1.0 : 1.0;
    const double wall = from_left(i) ? column.body.left : column.body.right;
    if (!rises(i)) {
      line.push_back({wall - out * kThroughWall, y});
      return;
    }
    const auto& risers = (from_left(i) ? risers_left_ : risers_right_)[at(sheet_.order.places[at(link(i).to)])];
    const double n = static_cast<double>(risers.size());
    const double rank = static_cast<double>(std::find(risers.begin(), risers.end(), i) - risers.begin());
    const double nozzle = sheet_.levels.nozzles[i];
    const double x = wall + out * (overhang(column, out) + 12.0 * (n - rank) - 2.0);
    line.insert(line.end(), {{x, y}, {x, nozzle}, {wall - out * kThroughWall, nozzle}});
  }

  /// The words of the column may reach out over the ways beside its wall.
  static double overhang(const Column& column, double out) {
    if (column.label.lines.empty()) return 0.0;
    return std::max(0.0,
                    out < 0.0 ? column.body.left - column.label.box.left : column.label.box.right - column.body.right);
  }

  void gather_risers() {
    risers_left_.resize(sheet_.columns.size());
    risers_right_.resize(sheet_.columns.size());
    for (std::size_t i = 0; i < sheet_.graph.links.size(); ++i)
      if (sheet_.order.ways[i] == Way::under && is_vessel(link(i).to) && rises(i))
        (from_left(i) ? risers_left_ : risers_right_)[at(sheet_.order.places[at(link(i).to)])].push_back(i);
    for (auto* all : {&risers_left_, &risers_right_})
      for (auto& list : *all)
        std::sort(list.begin(), list.end(),
                  [&](std::size_t a, std::size_t b) { return sheet_.levels.ways[a] < sheet_.levels.ways[b]; });
  }

  Line beside(std::size_t i) const {
    const Link& l = link(i);
    const Column &from = sheet_.column_of(l.from), &to = sheet_.column_of(l.to);
    const double y = sheet_.levels.ways[i], out = from_left(i) ? 1.0 : -1.0;
    Line line;
    if (sheet_.slot(l.from, Slot::What::start, static_cast<int>(i))) {
      const Point first = start(i);
      line = {first, {first.x, y}};
    } else {
      line = {{out > 0.0 ? from.body.right : from.body.left, y}};
    }
    if (!sheet_.slot(l.to, Slot::What::end, static_cast<int>(i))) {
      line.push_back({out > 0.0 ? to.body.left + kThroughWall : to.body.right - kThroughWall, y});
      return line;
    }
    const double x = x_of(i, Slot::What::end);
    line.insert(line.end(), {{x, y}, {x, hanging_end(l, y)}});
    return line;
  }
};

}  // namespace

void route(Sheet& sheet) {
  const Router router(sheet);
  sheet.routes.clear();
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) sheet.routes.push_back(simplified(router.line_of(i)));
}

}  // namespace leat::tell::drawing
