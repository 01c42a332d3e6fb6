// The rates of a loop, or of several that differ only in their plans and their weather, as a stiff integrator wants
// them: with exact slopes, process by process, and an elimination found once.
#pragma once

#include <array>
#include <span>
#include <tuple>
#include <vector>

#include "model/equations/acidity_slopes.h"
#include "model/equations/jacobian_plan.h"
#include "model/equations/rates.h"

namespace leat::model {

/// T: a plain number, or a pack with one member a lane.
template <class T>
class LanesProblem {
  const Equations& equations_;
  const JacobianPlan& jacobian_;
  const Layout& layout_ = equations_.layout();
  Plan<T> plan_;
  std::vector<Hour<T>> hours_;  ///< the first at time 0
  std::vector<T> guess_;
  Scratch<T> work_ = equations_.scratch<T>();
  std::vector<T> locals_, entries_, matrix_, room_, unknowns_;
  struct Steady {
    Spot at;
    T slope;
  };
  std::vector<Steady> steady_locals_,
      steady_entries_;  ///< that never change: of what is linear with fixed factors
  bool steady_known_ = false;

  /// Room for one term at a time, in numbers with as many slopes as it reads numbers. What it does not read stands
  /// there as it happens to.
  template <std::size_t W>
  struct Room {
    Scratch<Dual<W, T>> work;
    std::vector<Dual<W, T>> y, out;
    Room(const Equations& e) : work(e.scratch<Dual<W, T>>()), y(e.layout().size()), out(e.layout().size()) {}
  };
  std::tuple<Room<1>, Room<2>, Room<3>, Room<4>, Room<5>, Room<7>, Room<8>, Room<9>, Room<10>, Room<11>, Room<12>>
      rooms_{equations_, equations_, equations_, equations_, equations_, equations_,
             equations_, equations_, equations_, equations_, equations_};

  struct BodyChain {
    T per_water, kelvin_by_heat, kelvin_by_water;
    std::array<T, state_number::all> numbers;  ///< of the body's state
    DerivedSlopes<T> derived;
    GasEquilibrium<Dual<1, T>> air;  ///< by temperature
  };
  std::vector<BodyChain> chain_;
  AciditySlopes acidity_{jacobian_.derived_seeds};
  std::vector<T> flow_, flow_slope_;  ///< of each path; by what its body gains

 public:
  /// `hours`: one a whole hour, the first at time 0, as far as the integrator will go.
  LanesProblem(const Equations& equations, const JacobianPlan& jacobian, Plan<T> plan, std::vector<Hour<T>> hours)
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
  /// The guesses go on from the pH of a state.
  void guess_from(std::span<const T> y) {
    for (std::size_t b = 0; b < guess_.size(); ++b)
      guess_[b] = body_state<T>(y, layout_.bodies[b], plan_.bodies[b].constants, guess_[b]).pH.si();
  }
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
    for (std::size_t b = 0; b < jacobian_.bodies; ++b) set_chain(b, y);
    set_flows();
    if (!steady_known_) take_steady_slopes(s, y);
    std::fill(locals_.begin(), locals_.end(), T(0.0));
    std::fill(entries_.begin(), entries_.end(), T(0.0));
    for (const Steady& one : steady_locals_) locals_[one.at] = one.slope;
    for (const Steady& one : steady_entries_) entries_[one.at] = one.slope;
    for (const TermPlan& term : jacobian_.terms)
      if (!is_steady(term)) take_slopes(term, s, y);
    take_streams();
    for (const LocalRow& row : jacobian_.rows) hand_on(row);
    return true;
  }

  void factor(double g) {
    for (std::size_t p = 0; p < matrix_.size(); ++p)
      matrix_[p] = jacobian_.at_place[p] == nowhere ? T(0.0) : -entries_[jacobian_.at_place[p]];
    for (std::size_t i = 0; i < jacobian_.unknowns; ++i) {
      T& diagonal = matrix_[jacobian_.diagonal[i]];
      diagonal = diagonal + (i < jacobian_.inner ? g : 1.0);
    }
    jacobian_.elimination.factor<T>(matrix_);
  }

  void solve(double, std::span<T> u) {
    std::copy(u.begin(), u.end(), unknowns_.begin());
    std::fill(unknowns_.begin() + static_cast<std::ptrdiff_t>(u.size()), unknowns_.end(), T(0.0));
    jacobian_.elimination.solve<T>(matrix_, unknowns_, room_);
    std::copy_n(unknowns_.begin(), u.size(), u.begin());
  }

  /// What the accounts gain by u. The gains of the bodies follow from it, each from those upstream of it.
  void follow(std::span<const T> u, std::span<T> sum) {
    std::copy(u.begin(), u.end(), unknowns_.begin());
    std::fill(unknowns_.begin() + static_cast<std::ptrdiff_t>(u.size()), unknowns_.end(), T(0.0));
    for (const Spot e : jacobian_.of_gains) {
      const JacobianPlan::Entry& at = jacobian_.entries[e];
      unknowns_[at.row] = unknowns_[at.row] + entries_[e] * unknowns_[at.column];
    }
    for (std::size_t e = jacobian_.in_matrix; e < entries_.size(); ++e) {
      T& account = sum[jacobian_.entries[e].row - jacobian_.unknowns];
      account = account + entries_[e] * unknowns_[jacobian_.entries[e].column];
    }
  }

 private:
  /// Heat through soil: conductances that never change.
  static bool is_steady(const TermPlan& term) { return term.term.process == Process::soil; }

  void take_steady_slopes(const Surroundings<T>& s, std::span<const T> y) {
    std::fill(locals_.begin(), locals_.end(), T(0.0));
    std::fill(entries_.begin(), entries_.end(), T(0.0));
    for (const TermPlan& term : jacobian_.terms) {
      if (!is_steady(term)) continue;
      take_slopes(term, s, y);
      for (const TermSlope& slope : term.each)
        (slope.local ? steady_locals_ : steady_entries_).push_back({slope.into, T(0.0)});
    }
    for (Steady& one : steady_locals_) one.slope = locals_[one.at];
    for (Steady& one : steady_entries_) one.slope = entries_[one.at];
    steady_known_ = true;
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
    for (std::size_t m = 0; m < c.numbers.size(); ++m) c.numbers[m] = get_number(work_.bodies[b], m);
    acidity_.find(work_.bodies[b], c.derived);
    using One = Dual<1, T>;
    c.air = gas_equilibrium(Temperature<One>::from_kelvin(One::seed(kelvin.value, 0)), equations_.forcing().pressure);
  }

  void take_slopes(const TermPlan& term, const Surroundings<T>& s, std::span<const T> y) {
    with_process(term.term.process, [&]<Process which>() {
      if constexpr (which == Process::surface) {
        if (term.inputs() <= 2) return take_slopes<which>(term, s, y, std::get<Room<2>>(rooms_));
        if (term.inputs() <= 3) return take_slopes<which>(term, s, y, std::get<Room<3>>(rooms_));
      }
      if constexpr (which != Process::rain) take_slopes<which>(term, s, y, std::get<Room<widest_of(which)>>(rooms_));
    });
  }

  template <Process which, std::size_t W>
  void take_slopes(const TermPlan& term, const Surroundings<T>& s, std::span<const T> y, Room<W>& room) {
    using D = Dual<W, T>;
    const std::size_t b = term.term.body;
    BodyState<D>& body = room.work.bodies[b];
    std::size_t k = 0;
    for (const Spot m : term.numbers) set_number(body, m, D::seed(chain_[b].numbers[m], k++));
    for (const Spot slot : term.slots) room.y[slot] = D::seed(y[slot], k++);
    if (term.reads_flow) room.work.falling = D::seed(flow_[term.term.index], k);
    if constexpr (which == Process::gas || which == Process::fall) {
      const auto by_temperature = [&](const auto& c) {
        return Concentration<D>(chain(body.temperature.kelvin(), c.si().value, c.si().slope[0]));
      };
      const auto& air = chain_[b].air;
      room.work.air[b] = {by_temperature(air.oxygen), by_temperature(air.carbon_dioxide), by_temperature(air.nitrogen)};
    }
    room.work.gains[b] = D(0.0);
    for (const Spot row : term.rows) room.out[row] = D(0.0);
    auto post = Posting<D>::onto(room.out, jacobian_.inner);
    equations_.template post_one<which, D>(term.term, s, plan_, std::span<const D>(room.y), room.work, post);
    for (const TermSlope& slope : term.each) {
      const D& out = slope.row < term.rows.size() ? room.out[term.rows[slope.row]] : room.work.gains[b];
      T& into = slope.local ? locals_[slope.into] : entries_[slope.into];
      into = into + (term.reads_flow && slope.input == k ? flow_slope_[term.term.index] * out.slope[slope.input]
                                                         : out.slope[slope.input]);
    }
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

  void hand_on(const LocalRow& row) {
    const BodyChain& c = chain_[row.body];
    if (!row.seeds.empty()) {
      std::array<T, widest_term> sum;
      for (std::size_t k = 0; k < row.seeds.size(); ++k) sum[k] = locals_[row.seeds[k]];
      for (const LocalRow::One& one : row.derived) {
        const T slope = locals_[one.local];
        for (std::size_t k = 0; k < widest_term; ++k) sum[k] = sum[k] + slope * c.derived[one.number][k];
      }
      for (std::size_t k = 0; k < row.seeds.size(); ++k) locals_[row.seeds[k]] = sum[k];
    }
    T by_water = entries_[row.by_water];
    for (const LocalRow::One& one : row.numbers) {
      const T& slope = locals_[one.local];
      if (one.number == state_number::water) {
        by_water = by_water + slope;
        continue;
      }
      T& by_slot = entries_[one.by_slot];
      if (one.number == state_number::temperature) {
        by_slot = by_slot + slope * c.kelvin_by_heat;
        by_water = by_water + slope * c.kelvin_by_water;
        continue;
      }
      const T per = slope * c.per_water;
      by_slot = by_slot + per;
      by_water = by_water - per * c.numbers[one.number];
    }
    entries_[row.by_water] = by_water;
  }
};

}  // namespace leat::model
