// How wide each column is and where it stands. A bar that nothing leaves downwards needs no ground of its own: it hangs
// over the vessels, between what rises or drops on its two sides.
#include <algorithm>
#include <cmath>

#include "tell/drawing/layout/sheet.h"

namespace leat::tell::drawing {
namespace {

constexpr double kLeft = 66.0;        ///< room for the scale
constexpr double kNarrowest = 520.0;  ///< of a sheet
constexpr double kAside = 12.0;       ///< between a bar and a pipe that passes it

/// Between a wall and what stands beside it.
double wall_room(bool narrow) {
  return narrow ? 7.0 : 9.0;
}

double sum_of(const std::vector<Slot>& slots) {
  double sum = 0.0;
  for (const Slot& slot : slots) sum += slot.width;
  return sum;
}

/// Room that what leaves through the floor takes from the left or right wall.
struct Feet {
  double left = 0.0, right = 0.0;
};
Feet feet_of(const Sheet& sheet, const Column& column, double wall) {
  const auto leaves_below = [&](const Slot& slot) {
    return slot.what == Slot::What::start && sheet.order.ways[at(slot.item)] == Way::under;
  };
  Feet feet;
  const auto beyond = [&](const Slot& slot) {
    const bool plates = sheet.graph.links[at(slot.item)].kind == Carrier::drain_hole;
    return slot.width / 2.0 + (plates ? 11.0 : 6.0);
  };
  double inwards = wall;
  for (const Slot& slot : column.left) {
    if (leaves_below(slot)) feet.left = inwards + beyond(slot);
    inwards += slot.width;
  }
  inwards = wall;
  for (auto slot = column.right.rbegin(); slot != column.right.rend(); ++slot) {
    if (leaves_below(*slot)) feet.right = inwards + beyond(*slot);
    inwards += slot->width;
  }
  return feet;
}

/// How far the words reach beyond the walls; the body grows where they have no way out.
struct Overhang {
  double left = 0.0, right = 0.0;
};
Overhang set_widths(const Sheet& sheet, Column& column, double by_area, double wall) {
  const Feet feet = feet_of(sheet, column, wall);
  const double words = column.label.box.width() + 6.0;
  double width = std::max(by_area, 2.0 * wall + sum_of(column.left) + sum_of(column.middle) + sum_of(column.right));
  if (feet.left > 0.0 && feet.right > 0.0) width = std::max(width, feet.left + words + feet.right);
  column.body.left = 0.0;
  column.body.right = width;
  const double free = width - feet.left - feet.right, over = std::max(0.0, words - free);
  Overhang hang;
  if (feet.left > 0.0)
    hang.right = over;
  else if (feet.right > 0.0)
    hang.left = over;
  else
    hang = {over / 2.0, over / 2.0};
  const double left = feet.left - hang.left + (free + hang.left + hang.right - words) / 2.0 + 3.0;
  column.label.box.right = left + column.label.box.width();
  column.label.box.left = left;
  return hang;
}

/// Of each vessel by the root of its area, within bounds; a bar by what stands on it.
double width_by_area(const Sheet& sheet, const model::Loop& loop, const Column& column, bool narrow) {
  const Part& part = sheet.graph.parts[at(column.part)];
  if (part.kind != PartKind::vessel) return 16.0;
  const double root = std::sqrt(loop.vessels[at(part.index)].area.si());
  return narrow ? std::clamp(38.0 * root, 40.0, 110.0) : std::clamp(66.0 * root, 56.0, 150.0);
}

/// What comes in through a wall from a way below the floor has to rise beside the wall.
int rising_beside(const Sheet& sheet, const Column& column, bool from_left) {
  int count = 0;
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) {
    const Link& link = sheet.graph.links[i];
    if (link.to != column.part || sheet.order.ways[i] != Way::under) continue;
    const bool left = sheet.order.places[at(link.from)] < sheet.order.places[at(link.to)];
    count += left == from_left && sheet.levels.nozzles[i] < sheet.levels.ways[i];
  }
  return count;
}

/// Room between two walls for the pipes that step from one to the other, and for the labels that had none.
double room_for_steps(const Sheet& sheet, std::size_t place, bool narrow) {
  double room = narrow ? 12.0 : 20.0;
  for (std::size_t i = 0; i < sheet.graph.links.size(); ++i) {
    const Link& link = sheet.graph.links[i];
    const int right = std::max(sheet.order.places[at(link.from)], sheet.order.places[at(link.to)]);
    if (sheet.order.ways[i] != Way::beside || at(right) != place) continue;
    room = std::max({room, narrow ? 26.0 : 34.0, i < sheet.room_wanted.size() ? sheet.room_wanted[i] : 0.0});
  }
  return room;
}

/// From the left wall, from the right wall, and what is between spread over the rest.
void spread_slots(Column& column, double wall) {
  double left = column.body.left + wall, right = column.body.right - wall;
  for (Slot& slot : column.left) {
    slot.x = left + slot.width / 2.0;
    left += slot.width;
  }
  for (auto slot = column.right.rbegin(); slot != column.right.rend(); ++slot) {
    slot->x = right - slot->width / 2.0;
    right -= slot->width;
  }
  for (auto* list : {&column.middle, &column.below}) {
    const double share = (right - left - sum_of(*list)) / static_cast<double>(list->size() + 1);
    double x = left + share;
    for (Slot& slot : *list) {
      slot.x = x + slot.width / 2.0;
      x += slot.width + share;
    }
  }
}

void move_column(Column& column, double x) {
  const double by = x - column.body.left;
  for (Box* box : {&column.body, &column.label.box}) {
    box->left += by;
    box->right += by;
  }
  for (auto* list : {&column.left, &column.middle, &column.right, &column.below})
    for (Slot& slot : *list) slot.x += by;
}

class Placing {
  Sheet& sheet_;
  const model::Loop& loop_;
  bool narrow_;
  double spare_;                   ///< more room than needed between any two
  double ground_ = kLeft;          ///< right wall of the last that stands on the ground
  double hanging_ = 0.0;           ///< of its words beyond that wall
  int standing_ = -1;              ///< its place
  double upper_ = kLeft;           ///< right end of what is above the row
  std::vector<std::size_t> bars_;  ///< that wait for the next to stand

 public:
  Placing(Sheet& sheet, const model::Loop& loop, bool narrow, double spare)
      : sheet_(sheet), loop_(loop), narrow_(narrow), spare_(spare) {}

  /// Right end of all.
  double place() {
    for (std::size_t p = 0; p < sheet_.columns.size(); ++p) {
      Column& column = sheet_.columns[p];
      const bool vessel = sheet_.graph.parts[at(column.part)].kind == PartKind::vessel;
      const double wall = vessel ? wall_room(narrow_) : 0.0;
      const Overhang hang = set_widths(sheet_, column, width_by_area(sheet_, loop_, column, narrow_), wall);
      spread_slots(column, wall);
      if (!vessel && column.below.empty())
        hang_bar(p);
      else
        stand(p, hang);
    }
    return std::max({ground_ + hanging_, upper_}) + spare_;
  }

 private:
  void hang_bar(std::size_t p) {
    Column& bar = sheet_.columns[p];
    move_column(bar, upper_ + kAside);
    upper_ = bar.body.right;
    bars_.push_back(p);
  }

  double gap_before(std::size_t p, const Overhang& hang) const {
    if (standing_ < 0) return hang.left + spare_;
    const Column &last = sheet_.columns[at(standing_)], &column = sheet_.columns[p];
    const int rising = rising_beside(sheet_, last, false) + rising_beside(sheet_, column, true);
    const double words = hanging_ + hang.left + (narrow_ ? 4.0 : 10.0) + 12.0 * rising;
    return std::max(words, room_for_steps(sheet_, p, narrow_)) + spare_;
  }

  void stand(std::size_t p, const Overhang& hang) {
    Column& column = sheet_.columns[p];
    const auto& above = column.middle;
    double left = ground_ + gap_before(p, hang);
    if (!above.empty() && !bars_.empty())
      left = std::max(left, upper_ + kAside - (above.front().x - above.front().width / 2.0));
    move_column(column, left);
    if (!above.empty()) {
      middle_bars(above.front().x - above.front().width / 2.0);
      upper_ = above.back().x + above.back().width / 2.0;
    }
    ground_ = column.body.right;
    hanging_ = hang.right;
    standing_ = static_cast<int>(p);
  }

  /// Bars that wait go to the middle of the room that they have.
  void middle_bars(double next) {
    const double by = (next - kAside - upper_) / 2.0;
    for (const std::size_t p : bars_) move_column(sheet_.columns[p], sheet_.columns[p].body.left + by);
    bars_.clear();
  }
};

}  // namespace

void place_columns(Sheet& sheet, const model::Loop& loop, bool narrow) {
  const double right = Placing(sheet, loop, narrow, 0.0).place() + 9.0;
  sheet.area.right = std::max(kNarrowest, right);
  if (right < kNarrowest)
    Placing(sheet, loop, narrow, (kNarrowest - right) / static_cast<double>(sheet.columns.size() + 1)).place();
}

}  // namespace leat::tell::drawing
