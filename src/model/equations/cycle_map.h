// Pulsed water by whole cycles: the state holds means over a cycle, and what the water carries moves as whole cycles
// move it, with what is used and what passes to the air in proportion within them. Mean flows alone would blur it.
#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "model/equations/equations.h"
#include "model/flow/one_cycle.h"

namespace leat::model {

/// Why cycles of these pulses cannot be taken as a whole, or "".
std::string why_not_by_cycles(const Loop& loop, const Pulses& pulses);

class CycleMap {
 public:
  /// The equations must have been made of the same pulses, `by_cycles`. Neither may end before it.
  CycleMap(const Equations& equations, const Pulses& pulses);

  /// Finds the cycle anew for a state whose kinetics have changed. `entries`: of the Jacobian, without this map.
  /// Returns why it cannot be had, or "".
  std::string refresh(std::span<const BodyState<double>> bodies, std::span<const GasEquilibrium<double>> air,
                      std::span<const double> entries);

  /// Puts what cycles carry in the place of what mean flows have carried. `before`: the rates before anything flowed.
  void take(std::span<const BodyState<double>> bodies, std::span<const double> before, std::span<double> dydt) const;

  /// Adds what it changes of the slopes, but for the share of other bodies in what each body's processes bring.
  void add_slopes(std::span<double> entries) const;

  /// Lowest and highest oxygen of each body within the cycle; nothing where it is not near to repeating itself.
  struct Range {
    double low, high;
  };
  std::vector<Range> oxygen(std::span<const BodyState<double>> bodies, std::span<const double> before) const;

 private:
  /// Things that go with the water together or alike: of the first, each group is one system, with what its members are
  /// made into and used up; of the last three, each member goes alone and only flows.
  enum Kind { oxygen_, carbon_, nitrogen_gas_, nitrogen_, dissolved_, solids_, algae_, kinds_ };
  struct Cycle {
    Carried carried;
    OneCycle map;
    std::vector<Square> mean;  ///< what the mean flows do, of each thing
  };

  const Equations& equations_;
  const Pulses& pulses_;
  std::size_t n_;
  std::vector<double> water_;  ///< mean, of each body
  std::array<Cycle, kinds_> cycles_;
  std::vector<int> coupled_;  ///< (thing, to, from) in the Jacobian's entries

  using Things = std::span<const std::size_t>;
  static Things things_of(Kind kind);
  static bool goes_by_itself(Kind kind) { return kind >= dissolved_; }
  int account_of(Kind kind) const;
  int entry(std::size_t row, std::size_t column) const;
  Carried at_mean(Kind kind, std::span<const BodyState<double>> bodies, std::span<const GasEquilibrium<double>> air,
                  std::span<const double> entries) const;
  void let_gas_pass(Carried& carried, Kind kind, std::size_t path, const BodyState<double>& from,
                    const GasEquilibrium<double>& air) const;
  void let_go(Carried& carried, Kind kind, std::span<const BodyState<double>> bodies,
              std::span<const double> entries) const;
  std::vector<Square> mean_flows(const Carried& carried) const;
  std::vector<double> held(Things things, std::span<const BodyState<double>> bodies) const;
  std::vector<double> sources(Kind kind, Things things, const std::vector<double>& held,
                              std::span<const double> before) const;
  double take_together(Kind kind, Things things, std::span<const BodyState<double>> bodies,
                       std::span<const double> before, std::span<double> dydt) const;
};

}  // namespace leat::model
