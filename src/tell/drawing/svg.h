// SVG 1.1, written down element by element. Every shape has a class; the one style sheet gives the colours, light and
// dark.
#pragma once

#include <string>
#include <string_view>

#include "tell/drawing/layout/shapes.h"

namespace leat::tell::drawing {

enum class Anchor { start, middle, end };

class Svg {
  std::string body_;
  double down_ = 0.0;  ///< added to each y

 public:
  /// Everything that follows lies so much lower.
  void set_down(double down) { down_ = down; }

  void open(std::string_view css_class, std::string_view title = {});
  void close();
  void step(std::string_view css_class, const Point& a, const Point& b);
  void box(std::string_view css_class, const Box& box, double round = 0.0);
  void circle(std::string_view css_class, const Point& centre, double radius);
  /// Straight from corner to corner.
  void shape(std::string_view css_class, const Line& corners, bool closed);
  /// Corners rounded; `width` of the line.
  void rounded(std::string_view css_class, const Line& line, double width);
  /// Any path: letters and numbers, the numbers two by two points.
  void curve(std::string_view css_class, std::string_view letters, const Line& points);
  void text(std::string_view css_class, const Point& at, std::string_view text, Anchor anchor = Anchor::start);

  /// The whole document.
  std::string document(double width, double height, std::string_view title) const;

 private:
  std::string xy(const Point& p) const;
};

}  // namespace leat::tell::drawing
