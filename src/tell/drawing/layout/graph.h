// A loop as a drawing sees it: parts that stand in a row, and what carries water between them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "answers/check.h"
#include "model/loop/loop.h"

namespace leat::tell::drawing {

enum class PartKind { vessel, junction, valve };

struct Part {
  PartKind kind = PartKind::vessel;
  int index = 0;  ///< in the loop's list
  std::string path;
  double floor = 0.0, rim = 0.0;  ///< m, of a vessel
};

enum class Carrier { pumped, pipe, overflow, siphon, drain_hole, weir, gravity_return };

/// Something that carries water from part to part.
struct Link {
  Carrier kind = Carrier::pipe;
  int index = 0;  ///< in the loop's list
  std::string path;
  int from = 0, to = 0;         ///< parts; a pump stands for the vessel that it is in
  int pump = -1;                ///< the pump that it starts at
  int turn = 0;                 ///< which outlet of a valve it is, from 1
  double flow = 0.0;            ///< m3/s, positive from -> to
  double exit = 0.0;            ///< m, where the water leaves its vessel
  std::optional<double> end{};  ///< m, of its open end
  bool blocked = false, hand_valve = false, check_valve = false;

  bool falls() const { return kind != Carrier::pumped; }
};

struct Graph {
  std::vector<Part> parts;
  std::vector<Link> links;
  int first = 0;  ///< the part for the left end: the lowest vessel with a pump, else the lowest
};

Graph graph_of(const model::Loop& loop, const answers::CheckAnswer& answer);

}  // namespace leat::tell::drawing
