// In which order the parts stand from left to right, so that pipes cross as little as may be. The parts stand in a row;
// each pipe is an arc over the row, under it, or a short step to the neighbour. Two arcs on one side cross exactly
// where their ends alternate.
#pragma once

#include <span>
#include <vector>

namespace leat::tell::drawing {

enum class Way { over, under, beside };

struct Arc {
  int from = 0, to = 0;      ///< parts
  bool falls = false;        ///< runs by gravity: usually under the row; pumped water always goes over it
  bool may_step = false;     ///< may run straight to the next part
  bool leaves_below = true;  ///< under the row: it leaves between its part's walls, not at its side
  bool ends_at_side = true;  ///< under the row: it comes in through the wall
  bool low_at_from = false;  ///< a step so near to the floor that what comes in through the same wall has to pass it
  bool low_at_to = false;
};

struct Order {
  std::vector<int> places;  ///< of each part, from 0 at the left
  std::vector<Way> ways;    ///< of each arc
  int crossings = 0;
};

/// With `first` at the left end: every order is tried up to 8 parts, more are swept to the middle of their neighbours
/// and then moved one by one while it helps.
Order best_order(int parts, std::span<const Arc> arcs, int first);

/// The best ways for given places, and the crossings that remain.
Order with_best_ways(std::vector<int> places, std::span<const Arc> arcs);

}  // namespace leat::tell::drawing
