// Runs eight members in the lanes of packs. Compiled once for each width of SIMD; all but the one function at the end
// then stays within its own object, so that no code for a wide machine is ever linked into what a narrow one runs.
#include <algorithm>

#include "model/equations/lanes_problem.h"
#include "model/simulate/member.h"
#include "model/simulate/together.h"
#include "numerics/lanes_integrator.h"
#include "numerics/pack.h"

namespace leat::model {
namespace {

/// The number that `of` finds for each member, side by side.
template <class Each, class Of>
auto gathered(const Each& each, Of&& of) {
  return Pack::of_each([&](std::size_t lane) { return of(*each[lane]); });
}

/// First step after a meal or a deed, in seconds: what comes of it shows within a quarter of an hour.
constexpr double kAfterJump = 900.0;

using Plans = std::array<const Plan<>*, pack_width>;

HeatPlan<Pack> side_by_side(const Plans& plans, std::size_t b) {
  const HeatPlan<>& one = plans[0]->bodies[b].heat;
  HeatPlan<Pack> heat{one.surface, one.open, {}, {}, one.soil, one.sun_share, one.gas_open_share};
  const Cover<>& c = one.cover;
  heat.cover = {c.kind, c.area, c.gap, c.board, c.to_skin, c.absorptance, gathered(plans, [&](const Plan<>& p) {
                  return p.bodies[b].heat.cover.transmitted;
                })};
  for (std::size_t w = 0; w < one.walls.size(); ++w) {
    const WallFace<>& wall = one.walls[w];
    heat.walls.push_back({wall.area, wall.to_skin, wall.absorptance,
                          gathered(plans, [&](const Plan<>& p) { return p.bodies[b].heat.walls[w].transmitted; }),
                          wall.store, wall.to_store});
  }
  return heat;
}

BodyPlan<Pack> body_side_by_side(const Plans& plans, std::size_t b) {
  const BodyPlan<>& one = plans[0]->bodies[b];
  const auto all = [&](auto&& of) { return gathered(plans, [&](const Plan<>& p) { return of(p.bodies[b]); }); };
  BodyPlan<Pack> plan;
  plan.heat = side_by_side(plans, b);
  plan.gas = {Area<Pack>(all([](const BodyPlan<>& p) { return p.gas.surface.si(); })),
              Flow<Pack>(all([](const BodyPlan<>& p) { return p.gas.stones_oxygen.si(); })), one.gas.stones_air};
  plan.air_lines = one.air_lines;
  plan.constants = one.constants;
  plan.light = {one.light.surface, all([](const BodyPlan<>& p) { return p.light.lit_share; }), one.light.sun_share};
  plan.film = Area<Pack>(all([](const BodyPlan<>& p) { return p.film.si(); }));
  plan.gravel = Area<Pack>(all([](const BodyPlan<>& p) { return p.gravel.si(); }));
  plan.sludge = Area<Pack>(all([](const BodyPlan<>& p) { return p.sludge.si(); }));
  plan.limestone = one.limestone;
  plan.catches_rain = one.catches_rain;
  plan.usual_water = one.usual_water;
  plan.capacity = one.capacity;
  plan.overflowing = one.overflowing;
  plan.canopy = one.canopy;
  plan.pump_heat = one.pump_heat;
  return plan;
}

Plan<Pack> side_by_side(const Plans& plans) {
  Plan<Pack> plan;
  for (std::size_t b = 0; b < plans[0]->bodies.size(); ++b) plan.bodies.push_back(body_side_by_side(plans, b));
  for (std::size_t g = 0; g < plans[0]->fish.size(); ++g) {
    const FishPlan<>& one = plans[0]->fish[g];
    plan.fish.push_back({one.count, one.usual, one.matter, one.species,
                         gathered(plans, [&](const Plan<>& p) { return p.fish[g].growth; }),
                         gathered(plans, [&](const Plan<>& p) { return p.fish[g].respiration; }), one.feed_energy});
  }
  return plan;
}

/// The hours from the start of the run on.
std::vector<Surroundings<Pack>> hours_side_by_side(const PackOfMembers& pack) {
  std::vector<Surroundings<Pack>> hours;
  const Forcing& first = pack.equations[0]->forcing();
  const auto from = static_cast<std::size_t>((pack.from.seconds - first.start().seconds) / 3600.0 + 0.5);
  for (std::size_t h = from; h < first.hours().size(); ++h) {
    const auto all = [&](auto&& of) {
      return Pack::of_each([&](std::size_t lane) { return of(pack.equations[lane]->forcing().hours()[h]); });
    };
    using S = Surroundings<>;
    hours.push_back({Temperature<Pack>::from_kelvin(all([](const S& s) { return s.air.kelvin(); })),
                     Pressure<Pack>(all([](const S& s) { return s.vapour.si(); })),
                     Velocity<Pack>(all([](const S& s) { return s.wind.si(); })),
                     Flux<Pack>(all([](const S& s) { return s.sun.si(); })),
                     Flux<Pack>(all([](const S& s) { return s.sun_on_walls.si(); })),
                     Flux<Pack>(all([](const S& s) { return s.sky.si(); })),
                     Velocity<Pack>(all([](const S& s) { return s.reference_et.si(); })),
                     Velocity<Pack>(all([](const S& s) { return s.rain.si(); })),
                     Temperature<Pack>::from_kelvin(all([](const S& s) { return s.ground.kelvin(); }))});
  }
  return hours;
}

/// A step as one member sees it: only the slots that it looks at.
struct StepOfLane final : numerics::Step {
  const numerics::LanesStep<Pack>& all;
  const std::vector<std::size_t>& seen;
  std::size_t lane;

  StepOfLane(const numerics::LanesStep<Pack>& step, const std::vector<std::size_t>& slots, std::size_t of)
      : all(step), seen(slots), lane(of) {
    from = step.from;
    to = step.to;
  }
  void at(double t, std::span<double> y) const override {
    for (const std::size_t slot : seen) y[slot] = all.at(slot, t)[lane];
  }
  void slope_at(double t, std::span<double> dydt) const override {
    for (const std::size_t slot : seen) dydt[slot] = all.slope_at(slot, t)[lane];
  }
};

class LanesRun {
  PackOfMembers& pack_;
  const Equations& first_ = *pack_.equations[0];
  LanesProblem<Pack> problem_;
  numerics::LanesIntegrator<Pack, LanesProblem<Pack>> integrator_;
  std::vector<Pack> y_;
  std::vector<std::size_t> seen_;
  std::array<bool, pack_width> over_{};  ///< has ended, or was never there

  static Plans plans_of(const PackOfMembers& pack) {
    Plans plans;
    for (std::size_t lane = 0; lane < pack_width; ++lane) plans[lane] = &pack.equations[lane]->plan();
    return plans;
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
    for (std::size_t lane = 0; lane < pack_width; ++lane) {
      Member& member = *pack_.members[followed(lane)];
      for (std::size_t i = 0; i < y_.size(); ++i) y_[i].set(lane, member.state()[i]);
      for (std::size_t b = 0; b < member.guesses().size(); ++b) problem_.guesses()[b].set(lane, member.guesses()[b]);
    }
  }

  void scatter(std::size_t lane) {
    const std::span<double> state = pack_.members[lane]->state();
    for (std::size_t i = 0; i < state.size(); ++i) state[i] = integrator_.state()[i][lane];
  }

  void end(std::size_t lane, const numerics::Advance& last) {
    scatter(lane);
    over_[lane] = true;
    pack_.trajectories[lane] = pack_.members[lane]->end(last, integrator_.counts());
  }

  bool all_over() const {
    return std::all_of(over_.begin(), over_.end(), [](bool over) { return over; });
  }

  bool see(const numerics::LanesStep<Pack>& step) {
    for (std::size_t lane = 0; lane < pack_width; ++lane)
      if (!over_[lane] && !pack_.members[lane]->see(StepOfLane(step, seen_, lane)))
        end(lane, {false, step.to, 0, {}, true});
    return !all_over();
  }

 public:
  explicit LanesRun(PackOfMembers& pack)
      : pack_(pack),
        problem_(first_, pack.jacobian, side_by_side(plans_of(pack)), hours_side_by_side(pack)),
        integrator_(problem_, tolerance(first_.layout(), together_tolerance)),
        y_(first_.layout().size()),
        over_(pack.empty) {
    for (const BodySlots& b : first_.layout().bodies)
      for (const int slot : {b.water, b.heat, b.oxygen()}) seen_.push_back(static_cast<std::size_t>(slot));
  }

  bool run() {
    std::set<double> stops;
    for (std::size_t lane = 0; lane < pack_width; ++lane)
      if (!over_[lane]) stops.merge(pack_.members[lane]->begin(pack_.to, pack_.options));
    gather();
    integrator_.start(0.0, y_);
    for (const double stop : stops) {
      const numerics::Advance last = integrator_.advance(stop, [this](const auto& step) { return see(step); });
      if (last.stopped) return true;
      if (!last.reached) return false;
      bool changed = false;
      for (std::size_t lane = 0; lane < pack_width; ++lane) {
        if (over_[lane]) continue;
        scatter(lane);
        changed = pack_.members[lane]->arrive(stop) || changed;
      }
      gather();
      if (changed) integrator_.jump(y_, kAfterJump);
    }
    for (std::size_t lane = 0; lane < pack_width; ++lane)
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
  return leat::model::LanesRun(*pack).run();
}
