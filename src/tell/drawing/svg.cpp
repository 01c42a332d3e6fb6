#include "tell/drawing/svg.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/text.h"
#include "tell/drawing/style.h"

namespace leat::tell::drawing {
namespace {

double distance(const Point& a, const Point& b) {
  return std::hypot(a.x - b.x, a.y - b.y);
}

Point towards(const Point& from, const Point& to, double far) {
  const double whole = distance(from, to);
  const double share = whole > 0.0 ? far / whole : 0.0;
  return {from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
}

}  // namespace

std::string Svg::xy(const Point& p) const {
  return number(p.x) + " " + number(p.y + down_);
}

void Svg::open(std::string_view css_class, std::string_view title) {
  body_ += fmt::format("<g class=\"{}\">\n", css_class);
  if (!title.empty()) body_ += fmt::format("<title>{}</title>\n", escaped(title));
}

void Svg::close() {
  body_ += "</g>\n";
}

void Svg::step(std::string_view css_class, const Point& a, const Point& b) {
  shape(css_class, {a, b}, false);
}

void Svg::box(std::string_view css_class, const Box& b, double round) {
  body_ += fmt::format("<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"", css_class, number(b.left),
                       number(b.top + down_), number(b.width()), number(b.height()));
  body_ += round > 0.0 ? fmt::format(" rx=\"{}\"/>\n", number(round)) : "/>\n";
}

void Svg::circle(std::string_view css_class, const Point& centre, double radius) {
  body_ += fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", css_class, number(centre.x),
                       number(centre.y + down_), number(radius));
}

void Svg::shape(std::string_view css_class, const Line& corners, bool closed) {
  std::string d;
  for (const Point& p : corners) d += (d.empty() ? "M" : "L") + xy(p);
  body_ += fmt::format("<path class=\"{}\" d=\"{}{}\"/>\n", css_class, d, closed ? "Z" : "");
}

void Svg::rounded(std::string_view css_class, const Line& line, double width) {
  if (line.size() < 2) return;
  std::string d = "M" + xy(line[0]);
  for (std::size_t i = 1; i + 1 < line.size(); ++i) {
    const double bend = std::min({8.0, distance(line[i - 1], line[i]) / 2.0, distance(line[i], line[i + 1]) / 2.0});
    d += "L" + xy(towards(line[i], line[i - 1], bend)) + "Q" + xy(line[i]) + " " +
         xy(towards(line[i], line[i + 1], bend));
  }
  d += "L" + xy(line.back());
  body_ += fmt::format("<path class=\"{}\" stroke-width=\"{}\" d=\"{}\"/>\n", css_class, number(width), d);
}

void Svg::curve(std::string_view css_class, std::string_view letters, const Line& points) {
  std::string d;
  std::size_t next = 0;
  for (const char letter : letters) {
    const std::size_t count = letter == 'C' ? 3 : letter == 'Q' ? 2 : letter == 'Z' ? 0 : 1;
    d += letter;
    for (std::size_t i = 0; i < count && next < points.size(); ++i) d += (i > 0 ? " " : "") + xy(points[next++]);
  }
  body_ += fmt::format("<path class=\"{}\" d=\"{}\"/>\n", css_class, d);
}

void Svg::text(std::string_view css_class, const Point& at, std::string_view text, Anchor anchor) {
  if (text.empty()) return;
  const char* where = anchor == Anchor::middle ? " text-anchor=\"middle\""
                      : anchor == Anchor::end  ? " text-anchor=\"end\""
                                               : "";
  body_ += fmt::format("<text class=\"{}\" x=\"{}\" y=\"{}\"{}>{}</text>\n", css_class, number(at.x),
                       number(at.y + down_), where, escaped(text));
}

std::string Svg::document(double width, double height, std::string_view title) const {
  const std::string w = number(std::ceil(width)), h = number(std::ceil(height));
  return fmt::format(
             "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0}\" height=\"{1}\" "
             "viewBox=\"0 0 {0} {1}\" role=\"img\">\n<title>{2}</title>\n<style type=\"text/css\">\n{3}</style>\n"
             "<rect class=\"paper\" x=\"0\" y=\"0\" width=\"{0}\" height=\"{1}\"/>\n",
             w, h, escaped(title), style_sheet()) +
         body_ + "</svg>\n";
}

}  // namespace leat::tell::drawing
