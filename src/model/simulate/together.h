// Many runs of one loop whose members differ in what is not known of it and in their weather: the lanes of one stiff
// integrator, eight members at a time, on all cores.
#pragma once

#include <functional>

#include "model/equations/jacobian_plan.h"
#include "model/simulate/simulate.h"

namespace leat::model {

/// Relative tolerance at which the one-step method is as good as the reference at its own 1e-5.
inline constexpr double together_tolerance = 3e-4;
/// For one run that is told as it is: within a hundredth of a kelvin and some thousandths of a concentration.
inline constexpr double alone_tolerance = 1e-3;
/// For members of a band: within some hundredths of a kelvin and a hundredth of a concentration of the reference, where
/// bands are tenths and tenths wide.
inline constexpr double member_tolerance = 4e-3;

/// What a member is run with.
struct MemberInput {
  Loop loop;
  Weather weather;
};

struct TogetherRequest {
  const Plumbing& plumbing;
  const Settled& running;
  Instant from, to;
  RunOptions options;
  std::size_t members = 0;
  /// Makes a member; called once for each, from any thread. All are of the same structure: the same vessels, fish,
  /// plantings and flows; what they may differ in is what `side_by_side` gathers, and the weather.
  std::function<MemberInput(std::size_t)> make;
  /// Takes a member's run; called once for each, from any thread.
  std::function<void(std::size_t, const Loop&, const Equations&, const Forcing&, const Trajectory&)> take;
  double tolerance = together_tolerance;  ///< relative
  std::size_t threads = 0;                ///< 0: as many as there are cores
  std::size_t narrower = 0;               ///< of the widths of SIMD that this machine has, so many less than the widest
};

/// The members' runs, and how many of them had to be run alone because their pack could not go on. A member's numbers
/// depend on those that share its pack only within the tolerance, and not at all on threads or on its lane.
std::size_t simulate_together(const TogetherRequest& request);

/// The widths of SIMD that it can run with here, the widest first: "AVX-512", "AVX2", "SSE2".
std::vector<const char*> lane_widths();

// ---- what the source that is compiled for several widths needs and gives

class Member;
/// Eight members, each in its lane; an empty lane repeats the one before it and tells nobody.
struct PackOfMembers {
  std::array<Member*, 8> members;
  std::array<const Equations*, 8> equations;
  std::array<bool, 8> empty;
  const JacobianPlan& jacobian;
  Instant from, to;
  const RunOptions& options;
  double tolerance;
  std::array<Trajectory, 8> trajectories;
};

}  // namespace leat::model
