// Initial value problems, stiff or not, behind one small interface. It has never heard of water.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace leat::numerics {

/// Which entries of a matrix may differ from zero, column by column: rows[starts[j]] to rows[starts[j + 1] - 1] rise.
struct Pattern {
  std::vector<int> starts, rows;

  std::size_t entries() const { return rows.size(); }
  bool empty() const { return starts.empty(); }
};

/// dy/dt = rates(t, y). `rates` returns false when it cannot be evaluated there; a smaller step is then tried.
struct System {
  std::size_t size = 0;
  std::function<bool(double t, std::span<const double> y, std::span<double> dydt)> rates;
  /// d rates / d y. Without a pattern all entries, column by column (entry (i, j) at j * size + i); with one, its
  /// entries in its order. Empty: differences are used.
  std::function<bool(double t, std::span<const double> y, std::span<double> entries)> jacobian{};
  /// Every diagonal entry must be in it. Empty: the matrix is dense.
  Pattern pattern{};
  /// How many of the last components no rate depends on: sums that only follow. An integrator may make use of it.
  std::size_t followers = 0;
};

struct Tolerance {
  double relative = 1e-6;
  std::vector<double> absolute;  ///< one a component; infinity-like values take a component out of error control
};

struct Counts {
  long steps = 0, rates = 0, jacobians = 0, factorisations = 0, failures = 0;
};

/// The polynomial of the last step: valid from `from` to `to`.
class Step {
 public:
  virtual ~Step() = default;
  double from = 0.0, to = 0.0;
  /// y at a time inside the step.
  virtual void at(double t, std::span<double> y) const = 0;
  /// One component of dy/dt at a time inside the step.
  virtual void slope_at(double t, std::span<double> dydt) const = 0;
};

/// What a watcher of steps wants next. `shorter`: this step leads where the state cannot be; it is taken again, a
/// quarter as long. Only the one-step method can.
enum class Then { go_on, stop, shorter };
using StepWatch = std::function<Then(const Step&)>;

struct Advance {
  bool reached = false;
  double time = 0.0;      ///< where it stopped
  std::size_t worst = 0;  ///< the component with the largest error, when it failed
  std::string said;       ///< why, when it failed
  bool stopped = false;   ///< the watcher stopped it after the last step
};

/// Moves a state through time. One object serves one thread.
class Integrator {
 public:
  virtual ~Integrator() = default;
  /// (Re)starts from y at t: after a jump, or at the beginning.
  virtual void start(double t, std::span<const double> y) = 0;
  /// Advances to exactly t_stop, never evaluating beyond it. `watch`, if given, sees every step taken and may end it.
  virtual Advance advance(double t_stop, const StepWatch& watch = {}) = 0;
  virtual std::span<const double> state() const = 0;
  virtual Counts counts() const = 0;
  /// The fastest motion of the system that it has met lately, 1/time; 0 where it does not look.
  virtual double fastest() const { return 0.0; }
};

/// SUNDIALS CVODES, variable-order BDF, with KLU where the system has a pattern and a dense matrix where it has none:
/// the reference.
std::unique_ptr<Integrator> make_bdf_integrator(System system, Tolerance tolerance);

/// A linearly implicit one-step method of order 4(3), stiffly accurate and L-stable, with a dense matrix: for small
/// systems that are restarted often, since a restart costs it nothing. The rates must not depend on the time within one
/// `advance`. At most `longest` a step.
///
/// source  RODAS of Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.7
std::unique_ptr<Integrator> make_rosenbrock_integrator(System system, Tolerance tolerance, double longest = 1e300);

/// An explicit one-step method of order 5(4): for short stretches, at whose beginning everything jumps. A cubic
/// between.
///
/// source  Dormand & Prince 1980, J. Comput. Appl. Math. 6:19 (their conditions of order are met to the last digit; the order is
///          tested)
std::unique_ptr<Integrator> make_explicit_integrator(System system, Tolerance tolerance);

/// The explicit method over each `advance` that is short beside the fastest motion met so far, the reference over
/// others.
std::unique_ptr<Integrator> make_integrator_by_stretches(const System& system, const Tolerance& tolerance);

}  // namespace leat::numerics
