// The part of the plumbing that runs full: pumps, pipes, valves, as one network.
#pragma once

#include <vector>

#include "model/flow/plumbing.h"
#include "numerics/network.h"

namespace leat::model {

/// Nodes: junctions, one at each pump's outlet, inlet and outlet of each valve; then those of given head, one for each
/// end in a vessel. Links: pumps that run, pipes, valves, and pumps that stand still. A pump whose float hunts is both,
/// each for its share of the time.
class Plumbing::Work {
 public:
  explicit Work(const Plumbing& plumbing);

  /// Sets heads and shut links for the levels, and solves.
  const numerics::NetworkSolution& solve(std::span<const Length<>> levels, const Setting& setting);

  int valve_node(std::size_t v, bool outlet) const { return junctions_ + pumps_ + 2 * static_cast<int>(v) + outlet; }
  int junctions() const { return junctions_; }
  int pumps() const { return pumps_; }
  std::size_t standing(std::size_t pump) const {
    return loop_.pumps.size() + loop_.pipes.size() + loop_.valves.size() + pump;
  }
  /// Adds what the pumps and pipes change when levels move; see Plumbing::slopes.
  void add_slopes(std::span<double> entries);

 private:
  /// Water that enters an open end from a shallow pool: it takes head, more the shallower, so that a vessel runs empty
  /// without going below its floor.
  struct Loss {
    double factor = 0.0, slope = 0.0;  ///< loss over q|q|, and how it moves with the depth
  };
  static Loss entry_loss(double depth, double bore);
  struct Entry {
    Loss forward, back;
  };
  const Plumbing& plumbing_;
  const Loop& loop_;
  int junctions_, pumps_;
  std::vector<double> given_;
  std::vector<int> from_given_, to_given_;  ///< of each pipe; -1 for an end at a node
  std::vector<int> pipe_of_pump_, standing_given_;
  std::vector<double> flow_slopes_;
  std::vector<Entry> entries_;         ///< of each pipe
  std::vector<Loss> stopped_entries_;  ///< of each pump that stands still and lets water through
  std::vector<double> shares_;         ///< of the time that each pump runs
  Setting asked_;                      ///< of the last solution, and its levels
  std::vector<Length<>> asked_at_;
  numerics::NetworkSolver solver_;
  numerics::LinkLaw law_;

  numerics::Network build();
  numerics::LossAndSlope law(std::size_t link, double q) const;
  numerics::LossAndSlope pump_law(std::size_t pump, double q) const;
  numerics::LossAndSlope standing_law(std::size_t pump, double q) const;
  void set_pumps(std::span<const Length<>> levels, const Setting& setting);
  void set_mouth(std::size_t pipe, std::span<const Length<>> levels);
  void set_end(std::size_t pipe, std::span<const Length<>> levels, const Setting& setting);
  void set_pipes(std::span<const Length<>> levels, const Setting& setting);
  void set_valves(const Setting& setting);
  void add_pump_slopes(std::span<double> entries);
  void add_slope(int vessel, int given, double weight, std::span<double> entries);
  double deepens(std::size_t link, const Loss& loss, bool forward) const;
};

}  // namespace leat::model
