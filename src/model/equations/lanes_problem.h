// The rates of a loop, or of several that differ only in their plans and their weather, as a stiff integrator wants
// them: with exact slopes, process by process, and an elimination found once.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "model/equations/jacobian_plan.h"
#include "model/equations/rates.h"

namespace leat::model {

/// T: a plain number, or a pack with one member a lane.
template <class T>
class LanesProblem {
  using Narrow = Dual<6, T>;
  using Wide = Dual<widest_term, T>;

  const Equations& equations_;
  const JacobianPlan& jacobian_;
  const Layout& layout_ = equations_.layout();
  Plan<T> plan_;
  std::vector<Surroundings<T>> hours_;  ///< the first at time 0
  std::vector<T> guess_;
  Scratch<T> work_ = equations_.scratch<T>();
  std::vector<T> locals_, entries_, matrix_, room_, unknowns_;
  std::vector<T> steady_locals_, steady_entries_;  ///< slopes that never change: of what is linear with fixed factors

  template <class D>
  struct Room {
    Scratch<D> work;
    std::vector<D> y, out;
  };
  Room<Narrow> narrow_ = room<Narrow>();
  Room<Wide> wide_ = room<Wide>();

  struct BodyChain {
    T per_water, kelvin_by_heat, kelvin_by_water;
    std::array<std::array<T, widest_term>, state_number::derived> derived;
  };
  std::vector<BodyChain> chain_;
  std::vector<T> flow_, flow_slope_;  ///< of each path; by what its body gains

  template <class D>
  Room<D> room() const {
    return {equations_.scratch<D>(), std::vector<D>(layout_.size()), std::vector<D>(layout_.size())};
  }

 public:
  /// `hours`: one a whole hour, the first at time 0, as far as the integrator will go.
  LanesProblem(const Equations& equations, const JacobianPlan& jacobian, Plan<T> plan,
               std::vector<Surroundings<T>> hours)
      : equations_(equations),
        jacobian_(jacobian),
        plan_(std::move(plan)),
        hours_(std::move(hours)),
        guess_(jacobian.bodies, T(7.0)),
        locals_(jacobian.locals),
        entries_(jacobian.entries.size()),
        matrix_(jacobian.elimination.entries()),
        room_(jacobian.unknowns),
        unknowns_(jacobian.unknowns),
        chain_(jacobian.bodies),
        flow_(equations.paths().size()),
        flow_slope_(equations.paths().size()) {}

  std::size_t size() const { return layout_.size(); }
  std::size_t leading() const { return jacobian_.inner; }
  std::span<T> guesses() { return guess_; }
  const std::vector<T>& entries() const { return entries_; }

  Surroundings<T> surroundings(double t) const {
    const double hours = t / 3600.0;
    const std::size_t h = std::min(static_cast<std::size_t>(hours), hours_.size() - 2);
    return between(hours_[h], hours_[h + 1], hours - static_cast<double>(h));
  }

  bool rates(double t, std::span<const T> y, std::span<T> dydt) {
    return equations_.rates_under<T>(surroundings(t), plan_, y, guess_, work_, dydt);
  }

  /// The rates and all their slopes at a point.
  bool linearise(double t, std::span<const T> y, std::span<T> dydt) {
    const Surroundings<T> s = surroundings(t);
    if (!equations_.rates_under<T>(s, plan_, y, guess_, work_, dydt)) return false;
    set_constants(narrow_, y);
    set_constants(wide_, y);
    for (std::size_t b = 0; b < jacobian_.bodies; ++b) set_chain(b, y);
    set_flows();
    if (steady_locals_.empty()) take_steady_slopes(s);
    std::copy(steady_locals_.begin(), steady_locals_.end(), locals_.begin());
    std::copy(steady_entries_.begin(), steady_entries_.end(), entries_.begin());
    for (const TermPlan& term : jacobian_.terms)
      if (!is_steady(term)) take_slopes(term, s);
    take_streams();
    hand_on();
    return true;
  }

  void factor(double g) {
    std::fill(matrix_.begin(), matrix_.end(), T(0.0));
    for (std::size_t e = 0; e < entries_.size(); ++e)
      if (const Spot place = jacobian_.in_matrix[e]; place != nowhere) matrix_[place] = -entries_[e];
    for (std::size_t i = 0; i < jacobian_.unknowns; ++i) {
      T& diagonal = matrix_[jacobian_.diagonal[i]];
      diagonal = diagonal + (i < jacobian_.inner ? g : 1.0);
    }
    jacobian_.elimination.factor<T>(matrix_);
  }

  void solve(double g, std::span<T> u) {
    const std::size_t inner = jacobian_.inner;
    std::copy_n(u.begin(), inner, unknowns_.begin());
    std::fill(unknowns_.begin() + static_cast<std::ptrdiff_t>(inner), unknowns_.end(), T(0.0));
    jacobian_.elimination.solve<T>(matrix_, unknowns_, room_);
    std::copy_n(unknowns_.begin(), inner, u.begin());
    for (std::size_t e = 0; e < entries_.size(); ++e)
      if (jacobian_.in_matrix[e] == nowhere) {
        T& account = u[inner + jacobian_.entries[e].row - jacobian_.unknowns];
        account = account + entries_[e] * unknowns_[jacobian_.entries[e].column];
      }
    for (std::size_t i = inner; i < u.size(); ++i) u[i] = (1.0 / g) * u[i];
  }

 private:
  /// Heat through soil: conductances that never change.
  static bool is_steady(const TermPlan& term) { return term.term.process == Process::soil; }

  void take_steady_slopes(const Surroundings<T>& s) {
    std::fill(locals_.begin(), locals_.end(), T(0.0));
    std::fill(entries_.begin(), entries_.end(), T(0.0));
    for (const TermPlan& term : jacobian_.terms)
      if (is_steady(term)) take_slopes(term, s);
    steady_locals_ = locals_;
    steady_entries_ = entries_;
  }

  void take_slopes(const TermPlan& term, const Surroundings<T>& s) {
    if (term.inputs() <= 6)
      take_slopes(term, s, narrow_);
    else
      take_slopes(term, s, wide_);
  }

  template <class D>
  void set_constants(Room<D>& room, std::span<const T> y) {
    for (std::size_t b = 0; b < jacobian_.bodies; ++b)
      for (std::size_t m = 0; m < state_number::all; ++m)
        set_number(room.work.bodies[b], m, D(get_number(work_.bodies[b], m)));
    for (const std::size_t slot : jacobian_.read_slots) room.y[slot] = D(y[slot]);
  }

  /// How temperature follows from heat and water, and the derived numbers from what they follow from.
  void set_chain(std::size_t b, std::span<const T> y) {
    BodyChain& c = chain_[b];
    const BodySlots& slots = layout_.bodies[b];
    const auto water = static_cast<std::size_t>(slots.water), heat = static_cast<std::size_t>(slots.heat);
    c.per_water = 1.0 / y[water];
    using Two = Dual<2, T>;
    const Two kelvin =
        body_temperature(Two::seed(y[water], 0), Two::seed(y[heat], 1), plan_.bodies[b].constants).kelvin();
    c.kelvin_by_water = kelvin.slope[0];
    c.kelvin_by_heat = kelvin.slope[1];
    BodyState<Wide>& s = wide_.work.bodies[b];
    const auto& seeds = jacobian_.derived_seeds;
    for (std::size_t k = 0; k < seeds.size(); ++k)
      set_number(s, seeds[k], Wide::seed(get_number(work_.bodies[b], seeds[k]), k));
    speciate<Wide>(s, guess_[b]);
    for (std::size_t d = 0; d < state_number::derived; ++d) {
      const std::size_t number = state_number::first_derived + d;
      c.derived[d] = get_number(s, number).slope;
      set_number(s, number, Wide(get_number(work_.bodies[b], number)));
    }
    for (const Spot m : seeds) set_number(s, m, Wide(get_number(work_.bodies[b], m)));
  }

  template <class D>
  void take_slopes(const TermPlan& term, const Surroundings<T>& s, Room<D>& room) {
    const std::size_t b = term.term.body;
    BodyState<D>& body = room.work.bodies[b];
    std::size_t k = 0;
    for (const Spot m : term.numbers) set_number(body, m, D::seed(get_number(work_.bodies[b], m), k++));
    for (const Spot slot : term.slots) room.y[slot].slope[k++] = T(1.0);
    if (term.reads_flow) room.work.falling = D::seed(flow_[term.term.index], k);
    if (term.term.process == Process::gas || term.term.process == Process::fall)
      room.work.air[b] = gas_equilibrium(body.temperature, equations_.forcing().pressure);
    room.work.gains[b] = D(0.0);
    for (const Spot row : term.rows) room.out[row] = D(0.0);
    auto post = Posting<D>::onto(room.out, jacobian_.inner);
    equations_.template post_term<D>(term.term, s, plan_, std::span<const D>(room.y), room.work, post);
    for (const TermSlope& slope : term.each) {
      const D& out = slope.row < term.rows.size() ? room.out[term.rows[slope.row]] : room.work.gains[b];
      T& into = slope.local ? locals_[slope.into] : entries_[slope.into];
      into = into + (term.reads_flow && slope.input == k ? flow_slope_[term.term.index] * out.slope[slope.input]
                                                         : out.slope[slope.input]);
    }
    for (const Spot m : term.numbers) set_number(body, m, D(get_number(work_.bodies[b], m)));
    for (const Spot slot : term.slots) room.y[slot] = D(room.y[slot].value);
  }

  void set_flows() {
    for (std::size_t i = 0; i < flow_.size(); ++i) {
      const FlowPath& path = equations_.paths()[i];
      const auto from = static_cast<std::size_t>(path.from);
      flow_[i] = T(path.flow.si());
      flow_slope_[i] = T(0.0);
      if (!path.by_overflow) continue;
      using One = Dual<1, T>;
      const One q = equations_.overflow_share(i) * Equations::overflow<One>(plan_.bodies[from],
                                                                            One(work_.bodies[from].water.si()),
                                                                            One::seed(work_.gains[from], 0));
      flow_[i] = q.value;
      flow_slope_[i] = q.slope[0];
    }
  }

  void add(Spot local, const T& slope) {
    if (local != nowhere) locals_[local] = locals_[local] + slope;
  }

  /// What one stream carries, row by row: of water 1, of heat, of each content; and their slopes by the number that
  /// each hangs on.
  template <class Water>
  void take_stream(const StreamPlan& plan, const Water& water, const BodyConstants& holds_back, const T& flow,
                   const T& flow_slope, std::vector<T>& by_flow) {
    const std::size_t from = plan.from_by_flow.size();
    for (std::size_t i = 0; i < plan.to_by_flow.size(); ++i) {
      const double passes = i < 2 + Contents<>::first_particle ? 1.0
                            : i < 1 + Contents<>::size         ? holds_back.lets_solids_pass
                                                               : holds_back.lets_algae_pass;
      const double per = i == 0 ? 0.0 : i == 1 ? water_heat.si() : passes;
      const T held = i == 0   ? T(1.0)
                     : i == 1 ? T(water_heat.si() * water.temperature.celsius())
                              : T(passes * (water.*Water::members[i - 2]).si());
      add(plan.to_by_own[i], per * flow);
      if (plan.to_by_flow[i] != nowhere) by_flow[plan.to_by_flow[i]] = by_flow[plan.to_by_flow[i]] + flow_slope * held;
      if (i >= from) continue;
      add(plan.from_by_own[i], -(per * flow));
      if (plan.from_by_flow[i] != nowhere)
        by_flow[plan.from_by_flow[i]] = by_flow[plan.from_by_flow[i]] - flow_slope * held;
    }
    if (plan.gain_by_flow != nowhere) by_flow[plan.gain_by_flow] = by_flow[plan.gain_by_flow] + flow_slope;
  }

  void take_streams() {
    using One = Dual<1, T>;
    for (std::size_t i = 0; i < flow_.size(); ++i) {
      const auto from = static_cast<std::size_t>(equations_.paths()[i].from);
      take_stream(jacobian_.paths[i], work_.bodies[from], plan_.bodies[from].constants, flow_[i], flow_slope_[i],
                  entries_);
    }
    for (std::size_t b = 0; b < jacobian_.bodies; ++b) {
      const One q = Equations::spill_flow<One>(plan_.bodies[b], One::seed(work_.bodies[b].water.si(), 0));
      take_stream(jacobian_.spills[b], work_.bodies[b], plan_.bodies[b].constants, q.value, q.slope[0], locals_);
      add(jacobian_.gain_by_water[b], 1.0 / 600.0 - q.slope[0]);
    }
    for (std::size_t i = 0; i < jacobian_.sources.size(); ++i) {
      const Equations::SourcePlan& source = equations_.sources()[i];
      const std::size_t b = jacobian_.sources[i].body;
      const One q = Equations::source_flow<One>(plan_.bodies[b].usual_water, One::seed(work_.bodies[b].water.si(), 0));
      take_stream(jacobian_.sources[i], source, BodyConstants{}, q.value, q.slope[0], locals_);
    }
  }

  void hand_on() {
    for (const Fold& f : jacobian_.folds)
      locals_[f.into] = locals_[f.into] + locals_[f.from] * chain_[f.body].derived[f.derived][f.seed];
    for (std::size_t i = 0; i < locals_.size(); ++i) {
      const HandOn& h = jacobian_.hand_on[i];
      if (h.by_slot == nowhere) continue;
      const BodyChain& c = chain_[h.body];
      const T& slope = locals_[i];
      T& by_slot = entries_[h.by_slot];
      if (h.number == state_number::water) {
        by_slot = by_slot + slope;
        continue;
      }
      T& by_water = entries_[h.by_water];
      if (h.number == state_number::temperature) {
        by_slot = by_slot + slope * c.kelvin_by_heat;
        by_water = by_water + slope * c.kelvin_by_water;
        continue;
      }
      const T per = slope * c.per_water;
      by_slot = by_slot + per;
      by_water = by_water - per * get_number(work_.bodies[h.body], h.number);
    }
  }
};

}  // namespace leat::model
