// Reads the drawings that leat writes back: elements with their classes, the groups that they stand in, and what they
// enclose. It knows no more of SVG than the drawings use, and fails the test at anything else.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "tell/drawing/layout/shapes.h"
#include "tell/drawing/layout/text.h"

namespace leat::tests {

using tell::drawing::Box;
using tell::drawing::Line;
using tell::drawing::Point;

struct Element {
  std::string name, text;
  std::map<std::string, std::string> attributes;
  std::string group, title;  ///< class and title of the innermost group

  std::string attribute(const std::string& key) const {
    const auto it = attributes.find(key);
    return it == attributes.end() ? "" : it->second;
  }
  double number(const std::string& key) const { return std::strtod(attribute(key).c_str(), nullptr); }
  bool has_class(const std::string& wanted) const {
    return (" " + attribute("class") + " ").find(" " + wanted + " ") != std::string::npos;
  }
};

/// Name and attributes of "<name a="b" ...".
inline Element element_of(const std::string& tag) {
  Element e;
  std::size_t i = tag.find_first_of(" />");
  e.name = tag.substr(0, i);
  while ((i = tag.find_first_not_of(" /", i)) != std::string::npos) {
    const std::size_t equals = tag.find("=\"", i), end = tag.find('"', equals + 2);
    if (equals == std::string::npos || end == std::string::npos) {
      ADD_FAILURE() << "cannot read <" << tag << ">";
      break;
    }
    e.attributes[tag.substr(i, equals - i)] = tag.substr(equals + 2, end - equals - 2);
    i = end + 1;
  }
  return e;
}

/// All elements, in order. Every tag must be closed, in its order.
inline std::vector<Element> read_svg(const std::string& svg) {
  std::vector<Element> elements, open;
  for (std::size_t at = svg.find('<'); at != std::string::npos; at = svg.find('<', at + 1)) {
    const std::size_t end = svg.find('>', at);
    const std::string tag = svg.substr(at + 1, end - at - 1);
    if (tag[0] == '/') {
      EXPECT_FALSE(open.empty());
      if (open.empty()) return elements;
      EXPECT_EQ(open.back().name, tag.substr(1));
      open.pop_back();
      continue;
    }
    Element e = element_of(tag);
    e.text = svg.substr(end + 1, svg.find('<', end) - end - 1);
    for (const Element& group : open)
      if (group.name == "g") {
        e.group = group.attribute("class");
        e.title = group.title;
      }
    if (e.name == "title" && !open.empty()) open.back().title = e.text;
    elements.push_back(e);
    if (tag.back() != '/') open.push_back(e);
  }
  EXPECT_TRUE(open.empty()) << "not closed: " << (open.empty() ? "" : open.back().name);
  return elements;
}

/// The corners of a path of M, L, Q and Z. A bend stands for the corner that it rounds.
inline Line corners_of(const std::string& d) {
  Line line;
  for (std::size_t i = 0; i < d.size(); ++i) {
    const char letter = d[i];
    if (letter != 'M' && letter != 'L' && letter != 'Q') continue;
    char* rest = nullptr;
    const double x = std::strtod(d.c_str() + i + 1, &rest), y = std::strtod(rest, nullptr);
    line.push_back({x, y});
  }
  return line;
}

struct Drawing {
  double width = 0.0, height = 0.0;
  std::map<std::string, Box> vessels;   ///< from the rim to the floor
  std::map<std::string, double> water;  ///< y of each surface
  std::map<std::string, Line> pipes;
  std::map<std::string, double> stroke;             ///< width of each pipe
  std::vector<Box> symbols;                         ///< of each stroke of a symbol on a pipe
  std::map<std::string, double> scale;              ///< y of each height that is marked
  std::vector<std::pair<std::string, Box>> labels;  ///< words and numbers in the drawing
  std::vector<Element> elements;
};

inline void read_vessel(const Element& e, Drawing& d) {
  if (e.has_class("wall")) {
    const Line c = corners_of(e.attribute("d"));
    d.vessels[e.title] = {c[0].x, c[0].y, c[2].x, c[1].y};
  } else if (e.has_class("water")) {
    d.water[e.title] = e.number("y");
  }
}

inline void read_label(const Element& e, Drawing& d) {
  if (e.name == "text" && !e.has_class("number")) {
    const double w = tell::drawing::text_width(e.text, tell::drawing::kPlain, e.has_class("bold"));
    d.labels.emplace_back(e.text, Box{e.number("x"), e.number("y") - 10.0, e.number("x") + w, e.number("y") + 2.0});
  } else if (e.has_class("mark-edge") && e.name == "rect") {
    d.labels.emplace_back(
        "mark",
        Box{e.number("x"), e.number("y"), e.number("x") + e.number("width"), e.number("y") + e.number("height")}.grown(
            -1.0));
  } else if (e.has_class("mark-edge")) {
    d.labels.emplace_back("mark", Box{e.number("cx"), e.number("cy"), e.number("cx"), e.number("cy")}.grown(8.0));
  }
}

inline Drawing read_drawing(const std::string& svg) {
  Drawing d;
  d.elements = read_svg(svg);
  for (const Element& e : d.elements) {
    if (e.name == "svg") {
      d.width = e.number("width");
      d.height = e.number("height");
    }
    if (e.group == "vessel") read_vessel(e, d);
    if (e.group == "symbols" && e.name == "path" && e.has_class("sign")) {
      const Line c = corners_of(e.attribute("d"));
      Box box{c[0].x, c[0].y, c[0].x, c[0].y};
      for (const Point& p : c)
        box = {std::min(box.left, p.x), std::min(box.top, p.y), std::max(box.right, p.x), std::max(box.bottom, p.y)};
      d.symbols.push_back(box);
    }
    if (e.group == "labels") read_label(e, d);
    if (e.group == "scale" && e.name == "text" && e.text != "m") d.scale[e.text] = e.number("y") - 4.0;
    if (e.group == "pipe" && (e.has_class("pumped") || e.has_class("falls"))) {
      d.pipes[e.title] = corners_of(e.attribute("d"));
      d.stroke[e.title] = e.number("stroke-width");
    }
  }
  return d;
}

}  // namespace leat::tests
