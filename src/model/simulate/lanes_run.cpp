// Runs eight members in the lanes of packs. Compiled once for each width of SIMD; all but the one function at the end
// then stays within its own object, so that no code for a wide machine is ever linked into what a narrow one runs.
#include <algorithm>

#include "model/equations/lanes_problem.h"
#include "model/equations/side_by_side.h"
#include "model/simulate/member.h"
#include "model/simulate/together.h"
#include "numerics/lanes_integrator.h"

namespace leat::model {
namespace {

/// First step after a meal or a deed, in seconds: what comes of it shows within a quarter of an hour.
constexpr double kAfterJump = 900.0;

/// The hours from the start of the run on.
template <class T>
std::vector<Hour<T>> hours_of(const PackOfMembers& pack) {
  std::array<const Forcing*, lanes_in<T>> forcings;
  for (std::size_t lane = 0; lane < lanes_in<T>; ++lane) forcings[lane] = &pack.equations[lane]->forcing();
  return hours_side_by_side<T>(forcings, pack.from);
}

/// The cubics of one step of the slots that the members look at, side by side.
template <class T>
struct Seen {
  std::vector<std::size_t> slots;
  std::vector<T> start, end, p, q;

  explicit Seen(const Layout& layout) {
    for (const BodySlots& b : layout.bodies)
      for (const int slot : {b.water, b.heat, b.oxygen()}) slots.push_back(static_cast<std::size_t>(slot));
    for (auto* of_each : {&start, &end, &p, &q}) of_each->resize(slots.size());
  }
  void take(const numerics::LanesStep<T>& step) {
    for (std::size_t k = 0; k < slots.size(); ++k) {
      start[k] = step.start[slots[k]];
      end[k] = step.end[slots[k]];
      p[k] = step.bend(0, slots[k]);
      q[k] = step.bend(1, slots[k]);
    }
  }
};

/// A step as one member sees it.
template <class T>
struct StepOfLane final : numerics::Step {
  const Seen<T>& seen;
  std::size_t lane;

  StepOfLane(const numerics::LanesStep<T>& step, const Seen<T>& all, std::size_t of) : seen(all), lane(of) {
    from = step.from;
    to = step.to;
  }
  void at(double t, std::span<double> y) const override {
    for (std::size_t k = 0; k < seen.slots.size(); ++k)
      y[seen.slots[k]] = numerics::LanesStep<double>::between((t - from) / (to - from), in_lane(seen.start[k], lane),
                                                              in_lane(seen.end[k], lane), in_lane(seen.p[k], lane),
                                                              in_lane(seen.q[k], lane));
  }
  void slope_at(double t, std::span<double> dydt) const override {
    const double h = to - from;
    for (std::size_t k = 0; k < seen.slots.size(); ++k)
      dydt[seen.slots[k]] = numerics::LanesStep<double>::slope_between(
          (t - from) / h, h, in_lane(seen.start[k], lane), in_lane(seen.end[k], lane), in_lane(seen.p[k], lane),
          in_lane(seen.q[k], lane));
  }
};

/// Members in the lanes of T: of a pack, or one alone.
template <class T>
class LanesRun {
  static constexpr std::size_t lanes = lanes_in<T>;
  PackOfMembers& pack_;
  const Equations& first_ = *pack_.equations[0];
  LanesProblem<T> problem_;
  numerics::LanesIntegrator<T, LanesProblem<T>> integrator_;
  std::vector<T> y_;
  Seen<T> seen_{first_.layout()};
  std::vector<double> pH_ = std::vector<double>(problem_.guesses().size());
  double next_hour_ = 3600.0;       ///< that is not yet written down
  std::array<bool, lanes> over_{};  ///< has ended, or was never there

  static PlansOfLanes<T> plans_of(const PackOfMembers& pack) {
    PlansOfLanes<T> plans;
    for (std::size_t lane = 0; lane < lanes; ++lane) plans[lane] = &pack.equations[lane]->plan();
    return plans;
  }

  /// Sizes differ from member to member; whichever is first must not matter.
  static numerics::Tolerance tightest_tolerance(const PackOfMembers& pack) {
    numerics::Tolerance tightest = tolerance(pack.equations[0]->layout(), pack.tolerance);
    for (const Equations* equations : pack.equations) {
      const numerics::Tolerance its = tolerance(equations->layout(), pack.tolerance);
      for (std::size_t i = 0; i < its.absolute.size(); ++i)
        tightest.absolute[i] = std::min(tightest.absolute[i], its.absolute[i]);
    }
    return tightest;
  }

  /// Whose state a lane holds: its own member's; of one that has ended, that of one that goes on.
  std::size_t followed(std::size_t lane) const {
    while (pack_.empty[lane]) --lane;
    if (!over_[lane]) return lane;
    const auto goes_on = std::find(over_.begin(), over_.end(), false);
    return goes_on == over_.end() ? 0 : static_cast<std::size_t>(goes_on - over_.begin());
  }

  /// The members' states into the lanes.
  void gather() {
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      Member& member = *pack_.members[followed(lane)];
      for (std::size_t i = 0; i < y_.size(); ++i) put_in_lane(y_[i], lane, member.state()[i]);
      for (std::size_t b = 0; b < member.guesses().size(); ++b)
        put_in_lane(problem_.guesses()[b], lane, member.guesses()[b]);
    }
  }

  void scatter(std::span<const T> y, std::size_t lane) {
    const std::span<double> state = pack_.members[lane]->state();
    for (std::size_t i = 0; i < state.size(); ++i) state[i] = in_lane(y[i], lane);
    for (std::size_t b = 0; b < pH_.size(); ++b) pH_[b] = in_lane(problem_.guesses()[b], lane);
  }

  /// The whole hours before the end of a step.
  void pass_hours(const numerics::LanesStep<T>& step) {
    for (; next_hour_ < step.to; next_hour_ += 3600.0) {
      for (std::size_t i = 0; i < y_.size(); ++i) y_[i] = step.at(i, next_hour_);
      problem_.guess_from(y_);
      for (std::size_t lane = 0; lane < lanes; ++lane) {
        if (over_[lane]) continue;
        scatter(y_, lane);
        pack_.members[lane]->pass(next_hour_, pH_);
      }
    }
  }

  void end(std::size_t lane, const numerics::Advance& last) {
    scatter(integrator_.state(), lane);
    over_[lane] = true;
    pack_.trajectories[lane] = pack_.members[lane]->end(last, integrator_.counts());
  }

  bool all_over() const {
    return std::all_of(over_.begin(), over_.end(), [](bool over) { return over; });
  }

  /// What is due at a stop. True if a member's state was changed by it.
  bool arrive(double stop) {
    problem_.guess_from(integrator_.state());
    if (next_hour_ <= stop) next_hour_ += 3600.0;
    bool changed = false;
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      if (over_[lane]) continue;
      scatter(integrator_.state(), lane);
      changed = pack_.members[lane]->arrive(stop, pH_) || changed;
    }
    return changed;
  }

  bool see(const numerics::LanesStep<T>& step) {
    pass_hours(step);
    seen_.take(step);
    for (std::size_t lane = 0; lane < lanes; ++lane)
      if (!over_[lane] && !pack_.members[lane]->see(StepOfLane<T>(step, seen_, lane)))
        end(lane, {false, step.to, 0, {}, true});
    return !all_over();
  }

 public:
  explicit LanesRun(PackOfMembers& pack)
      : pack_(pack),
        problem_(first_, pack.jacobian, side_by_side<T>(plans_of(pack)), hours_of<T>(pack)),
        integrator_(problem_, tightest_tolerance(pack)),
        y_(first_.layout().size()),
        over_() {
    std::copy_n(pack.empty.begin(), lanes, over_.begin());
  }

  bool run() {
    std::set<double> stops;
    for (std::size_t lane = 0; lane < lanes; ++lane)
      if (!over_[lane]) stops.merge(pack_.members[lane]->begin(pack_.to, pack_.options, Hours::told));
    gather();
    integrator_.start(0.0, y_);
    for (const double stop : stops) {
      const numerics::Advance last = integrator_.advance(stop, [this](const auto& step) { return see(step); });
      if (last.stopped) return true;
      if (!last.reached) return false;
      const bool changed = arrive(stop);
      gather();
      if (changed) integrator_.jump(y_, kAfterJump);
    }
    for (std::size_t lane = 0; lane < lanes; ++lane)
      if (!over_[lane]) end(lane, {true, *stops.rbegin(), 0, {}, false});
    return true;
  }
};

}  // namespace
}  // namespace leat::model

#if defined(__AVX512F__)
#define LEAT_RUN_PACK leat_run_pack_avx512
#elif defined(__AVX2__)
#define LEAT_RUN_PACK leat_run_pack_avx2
#else
#define LEAT_RUN_PACK leat_run_pack_plain
#endif
extern "C" __attribute__((visibility("default"))) bool LEAT_RUN_PACK(leat::model::PackOfMembers* pack) {
  using namespace leat;
  const bool alone = std::all_of(pack->empty.begin() + 1, pack->empty.end(), [](bool empty) { return empty; });
  return alone ? model::LanesRun<double>(*pack).run() : model::LanesRun<Pack>(*pack).run();
}
