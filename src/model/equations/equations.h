// The loop as one system of rates: structure worked out once, state passed in, no memory.
#pragma once

#include <span>
#include <vector>

#include "model/books/layout.h"
#include "model/equations/forcing.h"
#include "model/flow/pulses.h"
#include "model/loop/loop.h"
#include "model/processes/air_line_heat.h"
#include "model/processes/algae.h"
#include "model/processes/crop_growth.h"
#include "model/processes/fish_metabolism.h"
#include "model/processes/gas_exchange.h"
#include "model/processes/heat.h"
#include "numerics/dual.h"
#include "numerics/integrator.h"

namespace leat::model {

class CycleMap;

/// Room for intermediate values, so that rates allocate nothing; and which water runs, where it is not the mean flows.
template <class N>
struct Scratch {
  std::vector<BodyState<N>> bodies;
  std::vector<GasEquilibrium<N>> air;
  std::vector<N> gains;              ///< water gained by a body per time, so far
  N falling{0.0};                    ///< what flows through the path at hand
  const Stretch* stretch = nullptr;  ///< of a cycle: its flows and volumes stand for the mean ones
  const CycleMap* map = nullptr;     ///< what whole cycles do to what the water carries; only for plain numbers
  std::vector<double> before_flows = {};
};

/// One body of water as the rates want it, worked out once. What the members of an ensemble may differ in is of type C.
template <class C = double>
struct BodyPlan {
  HeatPlan<C> heat;
  GasPlan<C> gas;
  AirLinePlan air_lines;
  BodyConstants constants;
  LightPlan<C> light;
  Area<C> film, gravel, sludge;
  Area<> limestone, catches_rain;
  Volume<> usual_water, capacity;
  Flow<> overflowing{};  ///< over its rims, usually
  double canopy = 0.0;   ///< share of the sun that plants stop
  Power<> pump_heat{};   ///< of the pumps that stand in it
};

template <class C = double>
struct Plan {
  std::vector<BodyPlan<C>> bodies;
  std::vector<FishPlan<C>> fish;
};

/// What bears on the slots through the state of one body alone.
enum class Process { surface, soil, rain, air_lines, gas, film, rotting, algae, limestone, crop, fish, fall };
struct Term {
  Process process;
  std::size_t body;   ///< whose state it reads
  std::size_t index;  ///< of its planting, group of fish, path
};
/// Calls `each` with the process as its template argument.
template <class F>
void with_process(Process process, F&& each) {
  using enum Process;
  switch (process) {
    case surface:
      return each.template operator()<surface>();
    case soil:
      return each.template operator()<soil>();
    case rain:
      return each.template operator()<rain>();
    case air_lines:
      return each.template operator()<air_lines>();
    case gas:
      return each.template operator()<gas>();
    case film:
      return each.template operator()<film>();
    case rotting:
      return each.template operator()<rotting>();
    case algae:
      return each.template operator()<algae>();
    case limestone:
      return each.template operator()<limestone>();
    case crop:
      return each.template operator()<crop>();
    case fish:
      return each.template operator()<fish>();
    case fall:
      return each.template operator()<fall>();
  }
}

/// Width of the dual numbers that fill the Jacobian, groups of columns at a time.
inline constexpr std::size_t jacobian_width = 8;
using JacobianDual = Dual<jacobian_width>;

/// Whether the equations will be asked for their Jacobian, whose pattern then has to be found.
enum class Slopes { here, elsewhere };

/// How pulsed water is taken: by its mean flows; stretch by stretch, as `Scratch` says; or by whole cycles, as its
/// `CycleMap` says. The paths are the cycle's in the last two.
enum class Pulsed { mean, resolved, by_cycles };

class Equations {
 public:
  /// `running` are the levels and flows of the loop in its usual state; they stay as they are.
  Equations(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Forcing& forcing,
            Slopes slopes = Slopes::here);
  /// The same for water that comes in pulses.
  Equations(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Forcing& forcing,
            const Pulses& pulses, Pulsed how);

  const Layout& layout() const { return layout_; }
  const Plan<>& plan() const { return plan_; }
  std::vector<double> initial_state() const;
  /// First guesses of pH, one a body. Given the same guesses, rates are the same to the last bit.
  std::vector<double> neutral_guesses() const { return std::vector<double>(plan_.bodies.size(), 7.0); }

  template <class N>
  Scratch<N> scratch() const;
  /// dy/dt at an instant; in `dydt` the accounts stand once, or once for each body. False when a body has run dry or
  /// heat has left the range of water.
  template <class N>
  bool rates(Instant t, std::span<const N> y, std::span<const double> pH_guess, Scratch<N>& work,
             std::span<N> dydt) const {
    return rates_under<N>(forcing_.at(t), plan_, y, pH_guess, work, dydt);
  }
  /// The same under given surroundings and with a given plan: of this loop, or of several that differ only in their
  /// plans, side by side.
  template <class N>
  bool rates_under(const Surroundings<Plain<N>>& s, const Plan<Plain<N>>& plan, std::span<const N> y,
                   std::span<const Plain<N>> pH_guess, Scratch<N>& work, std::span<N> dydt) const;
  /// Which entries of d rates / d y may differ from zero.
  const numerics::Pattern& pattern() const { return pattern_; }
  /// d rates / d y by dual numbers: the entries of the pattern.
  bool jacobian(Instant t, std::span<const double> y, std::span<const double> pH_guess, Scratch<JacobianDual>& work,
                std::vector<JacobianDual>& room, std::span<double> entries) const;

  BodyState<double> body(std::size_t i, std::span<const double> y, double pH_guess) const;
  HeatCapacity<> stones(std::size_t body) const { return plan_.bodies[body].constants.stones; }
  const GasPlan<>& gas(std::size_t body) const { return plan_.bodies[body].gas; }
  const CropPlan& crop(std::size_t i) const { return crops_[i]; }
  const std::vector<FlowPath>& paths() const { return paths_; }
  /// A planting of that age, as it stands on the first day.
  void plant(std::size_t planting, Duration<> age, std::span<double> y) const;
  Volume<> usual_water(std::size_t body) const { return plan_.bodies[body].usual_water; }

  /// All but what flows, in the order in which they are posted.
  const std::vector<Term>& terms() const { return terms_; }
  /// Posts one term to the slots and to what its body gains of water. A fall reads its flow from `work.falling`.
  template <class N>
  void post_term(const Term& term, const Surroundings<Plain<N>>& s, const Plan<Plain<N>>& all, std::span<const N> y,
                 Scratch<N>& work, Posting<N>& post) const;
  /// The same of one kind of process.
  template <Process which, class N>
  void post_one(const Term& term, const Surroundings<Plain<N>>& s, const Plan<Plain<N>>& all, std::span<const N> y,
                Scratch<N>& work, Posting<N>& post) const;

  /// Water that comes in as it is missing.
  struct SourcePlan : Contents<> {
    int body;
    Temperature<> temperature;
  };
  const std::vector<SourcePlan>& sources() const { return sources_; }
  /// Share of what overflows from its vessel that a path takes; 0 for pumped ones.
  double overflow_share(std::size_t path) const { return overflow_share_[path]; }
  /// Slots before the outside accounts, on which nothing depends.
  std::size_t inner() const { return inner_; }
  const Forcing& forcing() const { return forcing_; }
  Pulsed pulsed() const { return pulsed_; }

  /// Flow of a source, of what spills over a brim, and over the rims of a body that gains, in m3/s.
  template <class N>
  static N source_flow(Volume<> usual, const N& water);
  template <class N>
  static N spill_flow(const BodyPlan<Plain<N>>& body, const N& water);
  template <class N>
  static N overflow(const BodyPlan<Plain<N>>& body, const N& water, const N& gains);

 private:
  Equations(const Loop& loop, const Forcing& forcing, std::vector<FlowPath> paths, const Plumbing& plumbing,
            const Settled& running, Slopes slopes, Pulsed how);
  const Loop& loop_;
  const Forcing& forcing_;
  Layout layout_;
  std::vector<FlowPath> paths_;         ///< in an order in which every overflow comes after what feeds its vessel
  std::vector<double> overflow_share_;  ///< of a vessel's overflowing water that takes each path; 0 for pumped ones
  Plan<> plan_;
  std::vector<CropPlan> crops_;
  std::vector<SourcePlan> sources_;
  std::vector<Term> terms_;

  std::size_t inner_ = 0;
  Pulsed pulsed_ = Pulsed::mean;
  numerics::Pattern pattern_;             ///< of the Jacobian
  numerics::Pattern apart_;               ///< the same with accounts of its own for each body
  std::vector<int> entry_of_;             ///< of each entry of `apart_`, in `pattern_`
  std::vector<std::vector<int>> groups_;  ///< columns of which no row of `apart_` has two

  std::size_t size_apart() const { return inner_ + plan_.bodies.size() * (layout_.size() - inner_); }
  std::size_t row_together(std::size_t apart) const {
    return apart < inner_ ? apart : inner_ + (apart - inner_) % (layout_.size() - inner_);
  }
  void trace_pattern();
  static LightPlan<> light_of(const Vessel& vessel, const BodyPlan<>& body);
  void plan_bodies(const Plumbing& plumbing, const Settled& running);
  void plan_life();
  void plan_sources();
  void order_paths();
  void fill_stores(std::span<double> y) const;
  void fill_water(const WaterQuality& quality, std::size_t body, std::span<double> y) const;

  template <class N>
  static N wetted(const BodyPlan<Plain<N>>& plan, const BodyState<N>& body);
  void list_terms();
  template <class N>
  void post_sources(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const;
  template <class N>
  void post_spills(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const;
  template <class N>
  void post_flows(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const;
  template <class N>
  void post_stretch(const Plan<Plain<N>>& plan, Scratch<N>& work, Posting<N>& post) const;
  bool couples_by_cycle(std::size_t row, std::size_t column) const;
  template <class N>
  void carry(const FlowPath& path, const BodyConstants& holds_back, const N& flow, const Scratch<N>& work,
             Posting<N>& post) const;
};

/// All that a stated water holds: carbon so that its pH and alkalinity come out, oxygen as stated or near saturation.
Contents<> contents_of(const WaterQuality& quality, Pressure<> air);

}  // namespace leat::model
