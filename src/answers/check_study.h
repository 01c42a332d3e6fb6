// What the statements of `check` look at: the loop as described, the same one fouled, and with one thing failed.
#pragma once

#include <functional>
#include <optional>

#include "answers/check.h"
#include "model/flow/faults.h"

namespace leat::answers {

/// Losses of every pipe are multiplied by this for the worst case (common practice, no source).
inline constexpr double kFouling = 1.3;

struct CheckStudy {
  const model::Loop& loop;
  const model::Plumbing& plumbing;
  const model::Loop& fouled_loop;
  const model::Plumbing& fouled_plumbing;
  const model::Cycle &cycle, &fouled;
  std::vector<model::FaultRun> faults;  ///< every possible one; power failures in the state that hurts most
  std::optional<MobileWater> mobile;

  const model::FaultRun* worst(model::Fault::Kind kind,
                               const std::function<double(const model::FaultRun&)>& badness) const;
};

/// The same loop with the losses of all its pipes and valves multiplied.
model::Loop fouled_loop(const model::Loop& loop, double times);

/// Share of its running depth of water that a vessel keeps.
double share_kept(const model::Loop& loop, const model::FaultRun& run, std::size_t vessel);

/// "after 12 min", "after 40 s", "after 3.2 h"
std::string after_text(Duration<> time);

}  // namespace leat::answers
