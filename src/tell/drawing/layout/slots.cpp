// What stands between the walls of each vessel and on each bar, and in which order, so that ways which need not cross
// do not: towards the left the nearest first, towards the right the nearest last.
#include <algorithm>
#include <tuple>

#include "tell/drawing/layout/sheet.h"

namespace leat::tell::drawing {
namespace {

double width_of(const Link& link, bool starts, bool vessel) {
  if (!vessel) return 14.0;
  if (!starts) return 15.0;
  switch (link.kind) {
    case Carrier::siphon:
      return 34.0;
    case Carrier::overflow:
      return 24.0;
    case Carrier::weir:
    case Carrier::drain_hole:
    case Carrier::gravity_return:
      return 22.0;
    default:
      return link.pump >= 0 ? 28.0 : 16.0;
  }
}

/// A slot with what decides its place.
struct Ranked {
  Slot slot;
  int side = 0;         ///< -1 towards the left, 0 neither, 1 towards the right
  int other = 0;        ///< place of the other end
  int rank = 0;         ///< inner ways have lower ones
  double height = 0.0;  ///< y of a step to the side
  bool by_height = false, enters = false;
};

/// Of ways to the left, of those to the right, of those over or under the row.
auto key_of_way(const Ranked& r) {
  return std::tuple(r.side, -r.other, r.side > 0 ? -r.rank : r.rank);
}

/// From the wall inwards: what leaves at the side, the highest first; what falls in over the rim, the lowest first.
auto key_of_step(const Ranked& r) {
  return std::tuple(r.enters, r.enters ? -r.height : r.height);
}

class Filler {
  Sheet& sheet_;
  std::vector<std::vector<Ranked>> steps_left_, steps_right_, over_, under_;

 public:
  explicit Filler(Sheet& sheet) : sheet_(sheet) {
    for (auto* lists : {&steps_left_, &steps_right_, &over_, &under_}) lists->resize(sheet.columns.size());
  }

  void add_links() {
    for (std::size_t i = 0; i < sheet_.graph.links.size(); ++i)
      for (const bool starts : {true, false}) add_end(i, starts);
  }

  void add_extra(int vessel, Slot::What what, int item) {
    const int place = sheet_.order.places[at(vessel)];
    Ranked r{{what, item, 18.0}, 0, place, 1000 + item};
    over_[at(place)].push_back(r);
  }

  void write() {
    for (std::size_t p = 0; p < sheet_.columns.size(); ++p) {
      Column& column = sheet_.columns[p];
      const bool vessel = sheet_.graph.parts[at(column.part)].kind == PartKind::vessel;
      const auto by_way = [](const Ranked& a, const Ranked& b) { return key_of_way(a) < key_of_way(b); };
      const auto by_step = [](const Ranked& a, const Ranked& b) { return key_of_step(a) < key_of_step(b); };
      for (auto* list : {&over_[p], &under_[p]}) std::stable_sort(list->begin(), list->end(), by_way);
      for (auto* list : {&steps_left_[p], &steps_right_[p]}) std::stable_sort(list->begin(), list->end(), by_step);
      for (const Ranked& r : over_[p]) column.middle.push_back(r.slot);
      for (const Ranked& r : steps_left_[p]) column.left.push_back(r.slot);
      for (const Ranked& r : under_[p])
        (!vessel ? column.below : r.side < 0 ? column.left : column.right).push_back(r.slot);
      for (auto r = steps_right_[p].rbegin(); r != steps_right_[p].rend(); ++r) column.right.push_back(r->slot);
    }
  }

 private:
  void add_end(std::size_t i, bool starts) {
    const Link& link = sheet_.graph.links[i];
    const int own = sheet_.order.places[at(starts ? link.from : link.to)];
    const int other = sheet_.order.places[at(starts ? link.to : link.from)];
    const bool vessel = sheet_.graph.parts[at(starts ? link.from : link.to)].kind == PartKind::vessel;
    Ranked r{{starts ? Slot::What::start : Slot::What::end, static_cast<int>(i), width_of(link, starts, vessel)},
             (other > own) - (other < own),
             other,
             sheet_.levels.ranks[i],
             sheet_.levels.ways[i]};
    r.enters = !starts;
    switch (sheet_.order.ways[i]) {
      case Way::over:
        return over_[at(own)].push_back(r);
      case Way::under:
        if (starts || !vessel) under_[at(own)].push_back(r);
        return;
      case Way::beside:
        if (needs_slot(link, i, starts)) (r.side < 0 ? steps_left_ : steps_right_)[at(own)].push_back(r);
    }
  }

  /// A mouth in the wall needs no room between the walls, nor does a pipe that comes in through it.
  bool needs_slot(const Link& link, std::size_t i, bool starts) const {
    if (starts) return link.kind == Carrier::overflow || link.kind == Carrier::siphon;
    return goes_over_rim(link, sheet_.graph, sheet_.levels.scale, sheet_.levels.ways[i]);
  }
};

}  // namespace

void fill_slots(Sheet& sheet, const model::Loop& loop) {
  Filler filler(sheet);
  filler.add_links();
  for (std::size_t i = 0; i < loop.sources.size(); ++i)
    filler.add_extra(loop.sources[i].vessel, Slot::What::source, static_cast<int>(i));
  for (std::size_t i = 0; i < loop.airs.size(); ++i)
    filler.add_extra(loop.airs[i].vessel, Slot::What::air, static_cast<int>(i));
  filler.write();
}

}  // namespace leat::tell::drawing
