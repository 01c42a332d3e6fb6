// Points, boxes and lines of a sheet. Units are those of the sheet, y grows downwards.
#pragma once

#include <cstddef>
#include <vector>

namespace leat::tell::drawing {

/// A place in a list, which other lists hold as int.
inline std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

struct Point {
  double x = 0.0, y = 0.0;
  bool operator==(const Point&) const = default;
};

struct Box {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Point middle() const { return {(left + right) / 2.0, (top + bottom) / 2.0}; }
  Box grown(double by) const { return {left - by, top - by, right + by, bottom + by}; }
};

bool overlap(const Box& a, const Box& b);

/// Corners of a line that runs along the axes.
using Line = std::vector<Point>;

/// Without corners that are none, and without steps of no length.
Line simplified(const Line& line);

/// The space that one step of a line takes, `half` to each side.
Box around_step(const Point& from, const Point& to, double half);

/// Where two lines cross: a step of one passes right through a step of the other.
std::vector<Point> crossings_between(const Line& a, const Line& b);
/// How often, of all pairs of lines.
int crossings_among(const std::vector<Line>& lines);

}  // namespace leat::tell::drawing
