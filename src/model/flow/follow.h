// Levels through time: how vessels fill after a start and drain after a stop.
#pragma once

#include <functional>

#include "model/flow/plumbing.h"

namespace leat::model {

/// Sees the levels as they change: the time since the start, and a way to ask for the level of a vessel at any time
/// inside the step that was just taken.
using LevelWatch =
    std::function<void(Duration<> from, Duration<> to, const std::function<std::vector<Length<>>(Duration<>)>&)>;

struct Followed {
  bool finished = false;
  std::vector<Length<>> levels;  ///< at the end
  Duration<> reached{};
  std::vector<std::string> edges;  ///< what changed on the way, in words with its second
};

/// Follows the levels for a time. Stops exactly where a falling level frees the open end of a pipe, and goes on from
/// there.
Followed follow_levels(const Loop& loop, const Plumbing& plumbing, const std::vector<Length<>>& start,
                       const Setting& setting, Duration<> span, const LevelWatch& watch = {});

}  // namespace leat::model
