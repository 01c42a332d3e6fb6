// What a run of pulsed water does about its pulses.
#pragma once

#include <memory>
#include <set>
#include <string>

#include "model/equations/cycle_map.h"

namespace leat::model {

class Pulsing {
 public:
  /// `pulses`: nothing where the mean flows are taken.
  Pulsing(const Equations& equations, const Pulses* pulses);

  /// Adds the moments, seconds after the start, at which a stretch begins; those that stand there win over moments
  /// within a second.
  void add_stops(double length, std::set<double>& stops) const;

  /// Sets out which water runs from a stop on. `entries_of` fills the entries of the plain Jacobian. True where the
  /// flows jump.
  template <class EntriesOf>
  bool arrive(double t, std::span<const BodyState<double>> bodies, std::span<const GasEquilibrium<double>> air,
              EntriesOf&& entries_of) {
    if (!pulses_) return false;
    if (!map_) return take_stretch(t);
    entries_.assign(equations_.pattern().entries(), 0.0);
    const std::string now = entries_of(entries_) ? map_->refresh(bodies, air, entries_) : "its slopes cannot be had";
    stands_ = stands_ || now.empty();
    if (!now.empty()) said_ = now;
    return false;
  }
  template <class N>
  void run_in(Scratch<N>& work) const {
    if (pulses_ && !map_) work.stretch = &pulses_->stretches[stretch_];
    if (stands_) work.map = map_.get();
  }
  const CycleMap* map() const { return map_.get(); }
  const std::string& said() const { return said_; }
  /// Water in a body at which the flows no longer stand for it.
  double least_water(std::size_t body) const;

 private:
  const Equations& equations_;
  const Pulses* pulses_;
  std::size_t stretch_ = 0;
  std::unique_ptr<CycleMap> map_;
  std::vector<double> entries_;
  bool stands_ = false;  ///< the map was found
  std::string said_;     ///< why it could not, when it could not

  bool take_stretch(double t);
};

}  // namespace leat::model
