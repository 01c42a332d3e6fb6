// A run as whoever moves it through time sees it: where to stop, what is done there, and what is seen on the way.
#pragma once

#include <memory>
#include <set>
#include <span>

#include "model/simulate/simulate.h"

namespace leat::model {

/// Whether a run is stopped at each whole hour to write it down, or is told of those that it passes.
enum class Hours { stopped_at, told };

class Member {
 public:
  virtual ~Member() = default;
  /// Seconds after the start at which it must be stopped at; the first meal is eaten, the first hour written down.
  virtual std::set<double> begin(Instant to, const RunOptions& options, Hours hours) = 0;
  virtual std::span<double> state() = 0;
  virtual std::span<const double> guesses() const = 0;
  /// What is due at a stop: hour, meals, deeds. True if the state was changed by it. `pH`: of each body there, from
  /// which the guesses go on; none: it finds them itself.
  virtual bool arrive(double stop, std::span<const double> pH) = 0;
  /// Writes down a whole hour on the way, the state of which stands in `state`. `pH`: of each body.
  virtual void pass(double hour, std::span<const double> pH) = 0;
  /// Takes the extremes of one step, of which only water, heat and oxygen of the bodies are read. False: a vessel has
  /// run low, and the run ends here.
  virtual bool see(const numerics::Step& step) = 0;
  virtual Trajectory end(const numerics::Advance& last, const numerics::Counts& counts) = 0;
};

std::unique_ptr<Member> make_member(const Loop& loop, const Equations& equations, Instant from);

}  // namespace leat::model
