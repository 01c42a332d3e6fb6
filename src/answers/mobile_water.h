// How much water may be in the loop so that the lowest vessel neither runs dry nor spills.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "model/flow/cycle.h"

namespace leat::answers {

/// What one part keeps above the lowest vessel while it is at its fullest, over what it keeps when everything has
/// drained.
struct HeldUp {
  std::string path;
  Volume<> water;
};

/// Counted at the lowest vessel with everything drained and the pumps off.
struct MobileWater {
  int sump = -1;
  std::vector<HeldUp> held_up;
  Volume<> hold_up;              ///< all of them at once
  Volume<> at_cut_out, at_brim;  ///< what the sump holds there
  Volume<> margin;               ///< what the wanted freeboard is at the sump, once
  Volume<> now;                  ///< with this description's water, everything drained
  Length<> level_now;

  Volume<> least() const { return at_cut_out + hold_up; }
  Volume<> window() const { return at_brim - least(); }
  Volume<> window_with_margins() const { return window() - margin - margin; }
};

/// Of a loop whose beds may be full or empty in any combination. Nothing if no vessel holds a pump.
std::optional<MobileWater> mobile_water(const model::Loop& loop, const model::Cycle& cycle);

}  // namespace leat::answers
