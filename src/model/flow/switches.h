// What switches by itself when a level passes a mark: floats, dry pumps, siphons, open ends.
#pragma once

#include <vector>

#include "model/flow/water_run.h"

namespace leat::model {

/// One thing that switches.
class Switches {
 public:
  explicit Switches(const Plumbing& plumbing);

  std::size_t count() const { return all_.size(); }
  /// Above 0 when switch `i` is due to flip, given the levels.
  double due(std::size_t i, const WaterState& state, std::span<const Length<>> levels) const;
  /// Earliest time at which it may flip again. What stops a flow does so at once: water must not be drawn on below the
  /// mark that stops it; only what starts one waits a little.
  double rested(std::size_t i, const WaterState& state) const;
  /// Flips it, and says what has happened; a switch that flips too often hunts from then on.
  void flip(std::size_t i, WaterState& state, Duration<> at, std::vector<WaterEvent>& events);
  /// Sets the shares of what hunts for the levels.
  void shares(std::span<const Length<>> levels, Setting& setting) const;

 private:
  enum class Kind { dry, floating, siphon, overflow, end };
  struct One {
    Kind kind;
    std::size_t index;
    double last = -1e300;
    std::vector<double> recent{};
    bool hunting = false;
  };
  static constexpr double kDwell = 1.0, kWindow = 60.0;
  static constexpr std::size_t kTooOften = 20;

  const Plumbing& plumbing_;
  const Loop& loop_;
  std::vector<One> all_;

  bool is_on(const One& one, const WaterState& state) const;
  WaterEvent toggle(const One& one, WaterState& state, Duration<> at) const;
  void hunt(One& one, WaterState& state) const;
};

}  // namespace leat::model
