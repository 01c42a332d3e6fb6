// Where everything stands on the sheet: columns of vessels, bars of junctions and valves, the ways of pipes, labels.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "answers/check.h"
#include "tell/drawing/layout/graph.h"
#include "tell/drawing/layout/order.h"
#include "tell/drawing/layout/shapes.h"

namespace leat::tell::drawing {

/// Number of a finding that is not well, as it stands in the list below the drawing.
struct Mark {
  int number = 0;
  answers::Verdict verdict = answers::Verdict::bad;
};
using Marks = std::map<std::string, std::vector<Mark>>;

/// Numbers from 1, in the order of the findings, for all that are not well; by the part that they are about.
Marks marks_of(const std::vector<answers::Finding>& findings);
/// Those of one part.
std::vector<Mark> marks_on(const Marks& marks, const std::string& path);

enum class Icon { none, level, pump, source, air, fish };
/// A line of words with a small sign before and numbers behind.
struct WordLine {
  std::string text;
  bool bold = false;
  Icon icon = Icon::none;
  std::vector<Mark> marks{};

  double width() const;
};
inline constexpr double kLineHeight = 16.0, kMarkWidth = 22.0;

struct Label {
  Box box;
  std::vector<WordLine> lines;
};

/// Something that needs its own place between the walls of a vessel, or on a bar.
struct Slot {
  enum class What { start, end, source, air } what = What::start;
  int item = 0;  ///< a link, or a source or air line of the loop
  double width = 14.0, x = 0.0;
};

/// A vessel, or the bar of a junction or valve.
struct Column {
  int part = 0;
  Box body;
  std::vector<Slot> left, middle, right;  ///< at the left wall, between, at the right wall; on the upper side of a bar
  std::vector<Slot> below;                ///< on the lower side of a bar
  Label label;                            ///< under a vessel
  double foot = 0.0;                      ///< below this y the column is free
};

inline constexpr double kPumpRadius = 11.0;
/// y of the middle of a pump, which stands near the floor.
inline double pump_y(const Column& column) {
  return column.body.bottom - kPumpRadius - 5.0;
}

/// A small symbol on a pipe.
struct Fixture {
  enum class What { check_valve, hand_valve, blocked } what = What::check_valve;
  int link = 0;
  Point at, towards;  ///< its middle; a point further on the way of the water
  Box box() const { return {at.x - 9.0, at.y - 9.0, at.x + 9.0, at.y + 9.0}; }
};

/// Heights in metres to y.
struct Scale {
  double high = 0.0, low = 0.0;  ///< m
  double per_metre = 1.0;
  double y(double metres) const { return (high - metres) * per_metre; }
};

/// What the heights alone decide, before anything has its x.
struct Levels {
  Scale scale;
  double bars = 0.0, lowest_over = 0.0;  ///< y of the bars, and of the lowest way over the row
  std::vector<double> ways;              ///< y of the long step of each link; of its exit if it steps beside
  std::vector<double> nozzles;           ///< y at which what runs under the row comes in through a wall
  std::vector<int> ranks;                ///< inner ways first
};

struct Sheet {
  Graph graph;
  Order order;
  Levels levels;
  std::vector<Column> columns;  ///< from the left
  std::vector<Line> routes;     ///< of each link, the way it is described
  std::vector<Fixture> fixtures;
  std::vector<Label> labels;        ///< of links, bars: what found a place
  std::vector<WordLine> left_out;   ///< what found none
  std::vector<double> room_wanted;  ///< by the labels of links that step beside and found no place; else 0
  Box area;

  const Column& column_of(int part) const;
  const Slot* slot(int part, Slot::What what, int item) const;
};

/// A whole layout. Narrow: vessels without the words of their kind.
Sheet make_sheet(const model::Loop& loop, const answers::CheckAnswer& answer, bool narrow);

// The steps of it.
Order order_of(const Graph& graph, const Scale& scale);
Scale scale_of(const Graph& graph);
/// y at which a link leaves its vessel at the side.
double side_exit(const Link& link, const Graph& graph, const Scale& scale);
/// Whether what leaves at the side can fall over the rim of the next vessel; else it goes in through the wall.
bool goes_over_rim(const Link& link, const Graph& graph, const Scale& scale, double exit);
Levels levels_of(const Sheet& sheet);
void set_nozzles(Sheet& sheet);
void fill_slots(Sheet& sheet, const model::Loop& loop);
void word_columns(Sheet& sheet, const model::Loop& loop, const answers::CheckAnswer& answer, const Marks& marks,
                  bool narrow);
void place_columns(Sheet& sheet, const model::Loop& loop, bool narrow);
void route(Sheet& sheet);
void place_fixtures(Sheet& sheet);
void place_labels(Sheet& sheet, const Marks& marks);

}  // namespace leat::tell::drawing
