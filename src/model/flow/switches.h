// What switches by itself when a level passes a mark: floats, dry pumps, siphons, open ends.
#pragma once

#include <optional>
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
  /// Earliest clock at which it may flip again.
  double rested(std::size_t i) const { return all_[i].last + kDwell; }
  /// Flips it, and says what has happened; a switch that flips too often hunts from then on.
  void flip(std::size_t i, WaterState& state, Duration<> at, std::vector<WaterEvent>& events);
  /// Sets the shares of hunting siphons for the levels; true if a pump hunts, with its place and its share in time.
  struct HuntingPump {
    std::size_t pump;
    double share;
  };
  bool any_hunting() const { return hunting_; }
  std::optional<HuntingPump> shares(std::span<const Length<>> levels, Setting& setting) const;

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
  bool hunting_ = false;

  bool is_on(const One& one, const WaterState& state) const;
  WaterEvent toggle(const One& one, WaterState& state, Duration<> at) const;
  void hunt(One& one, WaterState& state) const;
};

}  // namespace leat::model
