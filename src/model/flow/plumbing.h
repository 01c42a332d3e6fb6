// The loop's plumbing made ready to solve: which flows belong to which levels.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "model/loop/loop.h"
#include "numerics/network.h"

namespace leat::model {

/// What may be different from the description for one question.
struct Setting {
  bool power = true;            ///< false: every pump stands still
  std::vector<bool> tripped{};  ///< pumps that have stopped because they ran dry; empty: none
  std::vector<bool> drowned{};  ///< pipes whose open end counts as under water; empty: the levels decide
};

/// Flows at one moment. Positive from -> to as described.
struct Flows {
  bool solved = true;
  std::vector<Flow<>> pumps, pipes, overflows;  ///< as in the loop
  std::vector<Length<>> junction_heads, pump_outlet_heads;
};

class Plumbing {
 public:
  explicit Plumbing(const Loop& loop);

  /// All flows for given water levels. The levels alone decide; `guess` only speeds it up.
  Flows flows(std::span<const Length<>> levels, const Setting& setting) const;
  /// Change of each vessel's water per time under these flows.
  std::vector<Flow<>> net(const Flows& flows) const;

  /// Level above the rim of an overflow that carries a flow, its sleeve included, and the height at which the water
  /// stands in its standpipe.
  Length<> head_over_rim(const Overflow& overflow, Flow<> flow) const;
  Length<> sleeve_loss(const Overflow& overflow, Flow<> flow) const;
  Length<> standpipe_level(const Overflow& overflow, Flow<> flow, Length<> receiving) const;
  /// Flow at which the water in the standpipe reaches its rim, given the level it runs into at each flow.
  Flow<> drowning_flow(const Overflow& overflow, const std::function<Length<>(Flow<>)>& receiving) const;
  Length<> loss(const PipeRun& run, Flow<> flow) const;
  Length<> pump_head(const Pump& pump, Flow<> flow) const;

 private:
  const Loop& loop_;
  Flow<> overflow_flow(const Overflow& overflow, Length<> up, Length<> down) const;
  Length<> outlet_height(const Overflow& overflow, Length<> receiving) const;
};

/// Levels at which nothing changes any more.
struct Settled {
  bool settled = false;
  std::vector<Length<>> levels;
  Flows flows;
  std::vector<bool> tripped;  ///< pumps that ran dry on the way and stay off
  int steps = 0;
};

/// Follows the levels to where they stay, keeping the water: implicit steps that grow until nothing moves.
Settled settle(const Loop& loop, const Plumbing& plumbing, std::vector<Length<>> start, const Setting& setting);

/// Levels with the pumps off and every vessel filled as the description says: at its level, else at its lowest rim;
/// the lowest vessel takes what remains of `loop.water`, if that is given.
std::vector<Length<>> levels_at_rest(const Loop& loop);

}  // namespace leat::model
