// Each flow beside its pipe: the best free place along the way, clear of vessels, words and other pipes.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/words/quantities.h"
#include "tell/drawing/layout/sheet.h"
#include "tell/drawing/layout/text.h"

namespace leat::tell::drawing {
namespace {

constexpr double kPipeHalf = 4.0;  ///< the widest line, halved
constexpr double kHeight = 14.0;   ///< of a line of words, without room to the next
constexpr double kStep = 6.0;      ///< between places that are tried
constexpr double kAxisRight = 62.0;

double distance(const Box& box, const Line& line) {
  double least = 1e9;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Box step = around_step(line[i - 1], line[i], 0.0);
    const double dx = std::max({0.0, step.left - box.right, box.left - step.right});
    const double dy = std::max({0.0, step.top - box.bottom, box.top - step.bottom});
    least = std::min(least, std::max(dx, dy));
  }
  return least;
}

struct Place {
  Box box;
  double cost = 0.0;
};

class Placer {
  Sheet& sheet_;
  std::vector<Box> blocked_;  ///< vessels, bars, words

 public:
  explicit Placer(Sheet& sheet) : sheet_(sheet) {
    for (const Column& column : sheet.columns) {
      blocked_.push_back(column.body.grown(column.body.height() > 0.0 ? 2.0 : 9.0));
      if (!column.label.lines.empty()) blocked_.push_back(column.label.box.grown(2.0));
      for (const Slot& slot : column.middle)
        if (slot.what == Slot::What::source)
          blocked_.push_back({slot.x - 9.0, column.body.top - 30.0, slot.x + 9.0, column.body.top});
    }
    for (const Line& line : sheet.routes)  // heads of arrows are wider than their pipes
      blocked_.push_back(Box{line.back().x, line.back().y, line.back().x, line.back().y}.grown(7.0));
    for (std::size_t i = 0; i < sheet.routes.size(); ++i)
      if (sheet.graph.links[i].falls()) blocked_.push_back(mouth(i));
    for (const Fixture& fixture : sheet.fixtures) blocked_.push_back(fixture.box());
  }

  /// Takes the cheapest free place, if there is one. `own` is the pipe that it belongs to, -1 for none.
  bool place(const WordLine& words, const std::vector<Place>& places, int own) {
    const Place* best = nullptr;
    double least = 1e9;
    for (const Place& place : places) {
      if (place.cost >= least || !is_free(place.box) || is_nearer_to_another(place.box, own)) continue;
      const double cost = place.cost + (is_tight(place.box) ? 12.0 : 0.0);
      if (cost >= least) continue;
      least = cost;
      best = &place;
    }
    if (!best) return false;
    sheet_.labels.push_back({best->box, {words}});
    blocked_.push_back(best->box.grown(2.0));
    return true;
  }

 private:
  /// The symbol where a pipe leaves: at its mouth, of a drain hole in the floor below that.
  Box mouth(std::size_t i) const {
    const Link& link = sheet_.graph.links[i];
    Point at_mouth = sheet_.routes[i].front();
    if (link.kind == Carrier::drain_hole && sheet_.order.ways[i] == Way::under)
      at_mouth.y = sheet_.column_of(link.from).body.bottom + 9.0;
    return Box{at_mouth.x, at_mouth.y, at_mouth.x, at_mouth.y}.grown(11.0);
  }
  bool touches_pipe(const Box& box) const {
    return std::any_of(sheet_.routes.begin(), sheet_.routes.end(),
                       [&](const Line& line) { return distance(box, line) < kPipeHalf; });
  }
  /// It would be read as the flow of that pipe.
  bool is_nearer_to_another(const Box& box, int own) const {
    if (own < 0) return false;
    const double to_own = distance(box, sheet_.routes[at(own)]);
    for (std::size_t i = 0; i < sheet_.routes.size(); ++i)
      if (i != at(own) && distance(box, sheet_.routes[i]) <= to_own) return true;
    return false;
  }
  bool is_free(const Box& box) const {
    if (box.left < kAxisRight || box.right > sheet_.area.right - 4.0) return false;
    for (const Box& b : blocked_)
      if (overlap(box, b)) return false;
    return !touches_pipe(box);
  }
  /// So near to a pipe or words that it might be read as theirs. Its own pipe is as near as that.
  bool is_tight(const Box& box) const {
    for (const Box& b : blocked_)
      if (overlap(box.grown(4.0), b)) return true;
    return false;
  }
};

Box sized(double left, double top, double width) {
  return {left, top, left + width, top + kHeight};
}

/// Places over and under a level step, from where they are wanted outwards.
void along_level(const Point& a, const Point& b, double wanted, double width, double cost, std::vector<Place>& out) {
  const double low = std::min(a.x, b.x) + 2.0, high = std::max(low, std::max(a.x, b.x) - width - 2.0);
  const double best = std::clamp(wanted - width / 2.0, low, high), beyond = 0.8 * width;
  for (double x = low - beyond; x <= high + beyond; x += kStep) {
    const double outside = std::max({0.0, low - x, x - high});
    const double far = 0.15 * std::abs(x - best) + (outside > 0.0 ? 6.0 + 0.3 * outside : 0.0);
    out.push_back({sized(x, a.y - kPipeHalf - kHeight, width), cost + far});
    out.push_back({sized(x, a.y + kPipeHalf + 1.0, width), cost + far + 10.0});
  }
}

/// Places to the right and left of an upright step.
void along_upright(const Point& a, const Point& b, double wanted, double width, double cost, std::vector<Place>& out) {
  const double low = std::min(a.y, b.y) + 1.0, high = std::max(low, std::max(a.y, b.y) - kLineHeight);
  const double best = std::clamp(wanted - kLineHeight / 2.0, low, high);
  for (double y = low; y <= high + 1e-9; y += kStep) {
    const double far = 0.15 * std::abs(y - best);
    out.push_back({sized(a.x + kPipeHalf + 2.0, y, width), cost + far});
    out.push_back({sized(a.x - kPipeHalf - 2.0 - width, y, width), cost + far + 4.0});
  }
}

/// Over the row near the end, under it near the start.
std::vector<Place> places_along(const Line& line, Way way, double width) {
  std::vector<Place> out;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Point &a = line[i - 1], &b = line[i];
    const bool is_last = i + 1 == line.size();
    if (a.y == b.y)
      along_level(a, b, way == Way::under ? a.x : (a.x + b.x) / 2.0, width, way == Way::over ? 14.0 : 0.0, out);
    else
      along_upright(a, b, (a.y + b.y) / 2.0, width, way == Way::over && is_last ? 0.0 : 20.0, out);
  }
  return out;
}

std::vector<Place> places_around(const Box& bar, double width) {
  std::vector<Place> out;
  for (const double shift : {0.0, -0.5, 0.5, -0.25, 0.25}) {
    const double left = bar.middle().x - width / 2.0 + shift * (width + 10.0), cost = 10.0 * std::abs(shift);
    out.push_back({sized(left, bar.bottom + 10.0, width), cost});
    out.push_back({sized(left, bar.top - 10.0 - kHeight, width), cost + 5.0});
  }
  for (const double y : {bar.top - 8.0, bar.top + 2.0, bar.top - 18.0}) {
    out.push_back({sized(bar.right + 12.0, y, width), 3.0});
    out.push_back({sized(bar.left - 12.0 - width, y, width), 3.0});
  }
  return out;
}

/// Numbers of findings away from the flow, where both together have no room.
bool label_apart(Sheet& sheet, Placer& placer, std::size_t i, const WordLine& words) {
  if (words.marks.empty()) return false;
  const WordLine flow{words.text}, marks{"", false, Icon::none, words.marks};
  const auto places = [&](const WordLine& w) { return places_along(sheet.routes[i], sheet.order.ways[i], w.width()); };
  if (!placer.place(flow, places(flow), static_cast<int>(i))) return false;
  if (!placer.place(marks, places(marks), static_cast<int>(i)))
    sheet.left_out.push_back({sheet.graph.links[i].path, false, Icon::none, words.marks});
  return true;
}

void label_link(Sheet& sheet, Placer& placer, std::size_t i, const Marks& marks) {
  const Link& link = sheet.graph.links[i];
  const std::string flow = words::shown_text("flow", std::abs(link.flow));
  WordLine words{flow, false, Icon::none, marks_on(marks, link.path)};
  if (link.turn > 0) {
    words.text = fmt::format("turn {}: {}", link.turn, flow);
    if (placer.place(words, places_along(sheet.routes[i], sheet.order.ways[i], words.width()), static_cast<int>(i)))
      return;
    words.text = flow;
  }
  if (placer.place(words, places_along(sheet.routes[i], sheet.order.ways[i], words.width()), static_cast<int>(i)))
    return;
  if (label_apart(sheet, placer, i, words)) return;
  if (sheet.order.ways[i] == Way::beside) sheet.room_wanted[i] = words.width() + 22.0;
  words.text = link.path + ": " + flow;
  sheet.left_out.push_back(words);
}

void label_bar(Sheet& sheet, Placer& placer, const Column& column, const Marks& marks) {
  const Part& part = sheet.graph.parts[at(column.part)];
  WordLine words{cut(name_of(part.path), 110.0, kPlain), false, Icon::none, marks_on(marks, part.path)};
  if (placer.place(words, places_around(column.body, words.width()), -1)) return;
  if (words.marks.empty()) return;
  words.text = part.path;
  sheet.left_out.push_back(words);
}

}  // namespace

double WordLine::width() const {
  const double words = text.empty() ? 0.0 : text_width(text, kPlain, bold);
  const double sign = icon == Icon::none ? 0.0 : 17.0;
  return sign + words +
         (marks.empty() ? 0.0 : (text.empty() ? 0.0 : 4.0) + kMarkWidth * static_cast<double>(marks.size()));
}

void place_labels(Sheet& sheet, const Marks& marks) {
  sheet.labels.clear();
  sheet.left_out.clear();
  sheet.room_wanted.resize(sheet.graph.links.size(), 0.0);
  Placer placer(sheet);
  for (const Column& column : sheet.columns)
    if (sheet.graph.parts[at(column.part)].kind == PartKind::valve) label_bar(sheet, placer, column, marks);
  std::vector<std::size_t> order(sheet.graph.links.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const auto hurry = [&](std::size_t i) { return sheet.order.ways[i] == Way::beside ? 0 : 1; };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return hurry(a) < hurry(b); });
  for (const std::size_t i : order) label_link(sheet, placer, i, marks);
  for (const Column& column : sheet.columns)
    if (sheet.graph.parts[at(column.part)].kind == PartKind::junction) label_bar(sheet, placer, column, marks);
}

}  // namespace leat::tell::drawing
