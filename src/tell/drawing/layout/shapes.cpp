#include "tell/drawing/layout/shapes.h"

#include <algorithm>
#include <cmath>

namespace leat::tell::drawing {
namespace {

bool is_level(const Point& a, const Point& b) {
  return std::abs(a.y - b.y) <= std::abs(a.x - b.x);
}

/// Strictly between, with a hair of room: lines that only touch do not cross.
bool between(double x, double one, double other) {
  constexpr double kHair = 1e-6;
  return x > std::min(one, other) + kHair && x < std::max(one, other) - kHair;
}

bool steps_cross(const Point& a, const Point& b, const Point& c, const Point& d) {
  if (is_level(a, b) == is_level(c, d)) return false;
  if (!is_level(a, b)) return steps_cross(c, d, a, b);
  return between(c.x, a.x, b.x) && between(a.y, c.y, d.y);
}

}  // namespace

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

Line simplified(const Line& line) {
  Line out;
  for (const Point& p : line) {
    if (!out.empty() && std::abs(out.back().x - p.x) < 1e-6 && std::abs(out.back().y - p.y) < 1e-6) continue;
    const std::size_t n = out.size();
    if (n >= 2 && is_level(out[n - 2], out[n - 1]) == is_level(out[n - 1], p)) out.pop_back();
    out.push_back(p);
  }
  return out;
}

Box around_step(const Point& from, const Point& to, double half) {
  return Box{std::min(from.x, to.x), std::min(from.y, to.y), std::max(from.x, to.x), std::max(from.y, to.y)}.grown(
      half);
}

std::vector<Point> crossings_between(const Line& a, const Line& b) {
  std::vector<Point> points;
  for (std::size_t i = 1; i < a.size(); ++i)
    for (std::size_t j = 1; j < b.size(); ++j) {
      if (!steps_cross(a[i - 1], a[i], b[j - 1], b[j])) continue;
      points.push_back(is_level(a[i - 1], a[i]) ? Point{b[j].x, a[i].y} : Point{a[i].x, b[j].y});
    }
  return points;
}

int crossings_among(const std::vector<Line>& lines) {
  int count = 0;
  for (std::size_t i = 0; i < lines.size(); ++i)
    for (std::size_t j = i + 1; j < lines.size(); ++j)
      count += static_cast<int>(crossings_between(lines[i], lines[j]).size());
  return count;
}

}  // namespace leat::tell::drawing
