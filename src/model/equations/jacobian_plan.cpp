#include "model/equations/jacobian_plan.h"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include "model/equations/rates.h"
#include "numerics/trace.h"

namespace leat::model {
namespace {

using rates_detail::at;
namespace numbers_of = state_number;

Spot spot_of(std::size_t i) {
  return static_cast<Spot>(i);
}

}  // namespace

/// Collects entries as they are met.
struct JacobianPlan::Builder {
  const Equations& equations;
  const Layout& layout = equations.layout();
  JacobianPlan& plan;
  std::map<std::pair<Spot, Spot>, Spot> entry_at{};
  std::map<std::tuple<std::size_t, Spot, Spot>, Spot> local_at{};  // body, row, number

  Spot entry(Spot row, Spot column) {
    const auto [found, is_new] = entry_at.try_emplace({row, column}, spot_of(plan.entries.size()));
    if (is_new) plan.entries.push_back({row, column});
    return found->second;
  }
  Spot local(std::size_t body, Spot row, std::size_t number) {
    const auto [found, is_new] = local_at.try_emplace({body, row, spot_of(number)}, spot_of(plan.locals));
    if (is_new) ++plan.locals;
    return found->second;
  }
  /// Rows: unknown slots, unknown gains, then the accounts.
  Spot row_of(int slot) const {
    const auto i = at(slot);
    return spot_of(i < plan.inner ? i : plan.unknowns + (i - plan.inner));
  }
  Spot gain_row(std::size_t body) const { return plan.gain_unknown[body]; }

  void number_gains() {
    plan.gain_unknown.assign(plan.bodies, nowhere);
    plan.unknowns = plan.inner;
    for (const FlowPath& p : equations.paths())
      if (p.by_overflow && plan.gain_unknown[at(p.from)] == nowhere)
        plan.gain_unknown[at(p.from)] = spot_of(plan.unknowns++);
  }

  std::vector<double> start = equations.initial_state();

  Scratch<Trace> seeded(std::size_t body) const {
    Scratch<Trace> work = equations.scratch<Trace>();
    const BodyState<double> state = equations.body(body, start, 7.0);
    for (std::size_t m = 0; m < numbers_of::all; ++m)
      set_number(work.bodies[body], m, Trace::input(get_number(state, m), m));
    work.air[body] = gas_equilibrium(work.bodies[body].temperature, equations.forcing().pressure);
    return work;
  }

  /// Runs one term with numbers that remember what they depend on.
  void trace(const Term& term) {
    const std::size_t n = layout.size(), flow_input = numbers_of::all + n, b = term.body;
    Scratch<Trace> work = seeded(b);
    std::vector<Trace> y, out(n);
    for (std::size_t i = 0; i < n; ++i) y.push_back(Trace::input(start[i], numbers_of::all + i));
    work.falling = Trace::input(1e-3, flow_input);
    auto post = Posting<Trace>::onto(out, plan.inner);
    equations.post_term<Trace>(term, equations.forcing().at(equations.forcing().start()), equations.plan(),
                               std::span<const Trace>(y), work, post);
    Trace::Inputs all = gain_row(b) == nowhere ? Trace::Inputs{} : work.gains[b].inputs;
    for (const Trace& row : out) all |= row.inputs;
    TermPlan t{term, {}, {}, all.test(flow_input), {}, {}};
    std::map<std::size_t, Spot> input_at;
    for (std::size_t m = 0; m < numbers_of::all; ++m)
      if (all.test(m)) t.numbers.push_back(spot_of(m));
    for (std::size_t i = 0; i < plan.inner; ++i)
      if (all.test(numbers_of::all + i)) t.slots.push_back(spot_of(i));
    if (t.inputs() == 0) return;
    if (t.inputs() > widest_of(term.process))
      throw std::logic_error("a process reads more than the engine has room for");
    for (std::size_t i = 0; i < n; ++i)
      if (out[i].inputs.any()) t.rows.push_back(spot_of(i));
    for (std::size_t k = 0; k < t.rows.size(); ++k)
      add_slopes(t, spot_of(k), row_of(static_cast<int>(t.rows[k])), out[t.rows[k]].inputs);
    if (gain_row(b) != nowhere) add_slopes(t, spot_of(t.rows.size()), gain_row(b), work.gains[b].inputs);
    plan.terms.push_back(std::move(t));
  }

  void add_slopes(TermPlan& t, Spot k, Spot row, const Trace::Inputs& inputs) {
    const std::size_t b = t.term.body;
    for (std::size_t i = 0; i < t.numbers.size(); ++i)
      if (inputs.test(t.numbers[i])) t.each.push_back({k, spot_of(i), local(b, row, t.numbers[i]), true});
    for (std::size_t i = 0; i < t.slots.size(); ++i)
      if (inputs.test(numbers_of::all + t.slots[i]))
        t.each.push_back({k, spot_of(t.numbers.size() + i), entry(row, t.slots[i]), false});
    const FlowPath* path = t.term.process == Process::fall ? &equations.paths()[t.term.index] : nullptr;
    if (t.reads_flow && path->by_overflow && inputs.test(numbers_of::all + layout.size()))
      t.each.push_back({k, spot_of(t.numbers.size() + t.slots.size()), entry(row, gain_row(b)), false});
  }

  /// What acidity and the forms that hang on it follow from.
  void trace_speciation() {
    BodyState<Trace> s = seeded(0).bodies[0];
    speciate<Trace>(s, 7.0);
    Trace::Inputs all;
    for (std::size_t d = 0; d < numbers_of::derived; ++d) all |= get_number(s, numbers_of::first_derived + d).inputs;
    for (std::size_t m = 0; m < numbers_of::first_derived; ++m)
      if (all.test(m)) plan.derived_seeds.push_back(spot_of(m));
    if (plan.derived_seeds.size() > widest_term) throw std::logic_error("acidity reads more than there is room for");
  }

  static std::vector<int> rows_of(const BodySlots& slots) {
    std::vector<int> rows = {slots.water, slots.heat};
    for (std::size_t i = 0; i < Contents<>::size; ++i) rows.push_back(slots.carried + static_cast<int>(i));
    return rows;
  }

  /// `by_flow(row)` names the place of a row's slope by the flow.
  template <class ByFlow>
  StreamPlan stream(std::size_t body, const BodySlots* from, const BodySlots& to, bool carries_state,
                    ByFlow&& by_flow) {
    StreamPlan s{body, {}, {}, {}, {}, nowhere};
    const std::vector<int> into = rows_of(to), out_of = from ? rows_of(*from) : std::vector<int>{};
    for (std::size_t i = 0; i < into.size(); ++i) {
      const std::size_t number = i == 1 ? numbers_of::temperature : numbers_of::carried + i - 2;
      if (from) {
        s.from_by_flow.push_back(by_flow(row_of(out_of[i])));
        s.from_by_own.push_back(i == 0 || !carries_state ? nowhere : local(body, row_of(out_of[i]), number));
      }
      s.to_by_flow.push_back(by_flow(row_of(into[i])));
      s.to_by_own.push_back(i == 0 || !carries_state ? nowhere : local(body, row_of(into[i]), number));
    }
    return s;
  }

  void plan_streams() {
    const Accounts& out = layout.outside;
    for (std::size_t i = 0; i < equations.paths().size(); ++i) {
      const FlowPath& p = equations.paths()[i];
      const std::size_t from = at(p.from), to = at(p.to);
      StreamPlan s = stream(from, &layout.bodies[from], layout.bodies[to], true,
                            [&](Spot row) { return p.by_overflow ? entry(row, gain_row(from)) : nowhere; });
      if (p.by_overflow && gain_row(to) != nowhere) s.gain_by_flow = entry(gain_row(to), gain_row(from));
      plan.paths.push_back(std::move(s));
    }
    const BodySlots ground = rates_detail::outside_body(out, out.spilt_water, out.spilt_heat);
    for (std::size_t b = 0; b < plan.bodies; ++b) {
      const auto by_water = [&](Spot row) { return local(b, row, numbers_of::water); };
      plan.spills.push_back(stream(b, &layout.bodies[b], ground, true, by_water));
      plan.gain_by_water.push_back(gain_row(b) == nowhere ? nowhere : by_water(gain_row(b)));
    }
    const BodySlots source = rates_detail::outside_body(out, out.source_water, out.source_heat);
    for (const Equations::SourcePlan& s : equations.sources()) {
      const std::size_t b = at(s.body);
      const auto by_water = [&](Spot row) { return local(b, row, numbers_of::water); };
      plan.sources.push_back(stream(b, &source, layout.bodies[b], false, by_water));
      if (gain_row(b) != nowhere) plan.sources.back().gain_by_flow = by_water(gain_row(b));
    }
  }

  /// Locals of one row by one body's numbers stand side by side.
  void plan_rows() {
    const auto met = local_at;
    for (const auto& [key, from] : met)
      if (const auto& [body, row, number] = key; number >= numbers_of::first_derived)
        for (const Spot seed : plan.derived_seeds) local(body, row, seed);
    std::vector<Spot> moved(plan.locals);
    Spot next = 0;
    for (auto& [key, local] : local_at) {
      moved[local] = next;
      local = next++;
    }
    move_locals(moved);
    for (const auto& [key, local] : local_at) {
      const auto& [body, row, number] = key;
      const BodySlots& slots = layout.bodies[body];
      if (plan.rows.empty() || plan.rows.back().body != body || row_planned != row) {
        plan.rows.push_back({body, nowhere, {}, {}, {}});
        row_planned = row;
      }
      LocalRow& r = plan.rows.back();
      if (number >= numbers_of::first_derived) {
        r.derived.push_back({local, spot_of(number - numbers_of::first_derived), nowhere});
        continue;
      }
      const int slot = number == numbers_of::water ? slots.water
                       : number == numbers_of::temperature
                           ? slots.heat
                           : slots.carried + static_cast<int>(number - numbers_of::carried);
      r.numbers.push_back({local, number, entry(row, spot_of(at(slot)))});
      r.by_water = entry(row, spot_of(at(slots.water)));
    }
    for (LocalRow& r : plan.rows)
      if (!r.derived.empty())
        for (const Spot seed : plan.derived_seeds)
          r.seeds.push_back(std::find_if(r.numbers.begin(), r.numbers.end(), [&](const LocalRow::One& one) {
                              return one.number == seed;
                            })->local);
  }
  Spot row_planned = nowhere;

  void move_locals(const std::vector<Spot>& to) {
    const auto move = [&](Spot& local) {
      if (local != nowhere) local = to[local];
    };
    for (TermPlan& t : plan.terms)
      for (TermSlope& s : t.each)
        if (s.local) move(s.into);
    for (auto* streams : {&plan.paths, &plan.spills, &plan.sources})
      for (StreamPlan& s : *streams) {
        for (auto* own : {&s.from_by_own, &s.to_by_own}) std::for_each(own->begin(), own->end(), move);
        if (streams == &plan.paths) continue;
        for (auto* flow : {&s.from_by_flow, &s.to_by_flow}) std::for_each(flow->begin(), flow->end(), move);
        move(s.gain_by_flow);
      }
    std::for_each(plan.gain_by_water.begin(), plan.gain_by_water.end(), move);
  }

  numerics::Pattern pattern() const {
    std::vector<std::set<int>> columns(plan.unknowns);
    for (std::size_t i = 0; i < plan.unknowns; ++i) columns[i].insert(static_cast<int>(i));
    for (const Entry& e : plan.entries)
      if (e.row < plan.unknowns) columns[e.column].insert(static_cast<int>(e.row));
    numerics::Pattern p;
    p.starts.push_back(0);
    for (const std::set<int>& column : columns) {
      p.rows.insert(p.rows.end(), column.begin(), column.end());
      p.starts.push_back(static_cast<int>(p.rows.size()));
    }
    return p;
  }

  numerics::Elimination build() {
    plan.bodies = layout.bodies.size();
    plan.inner = equations.inner();
    plan.slots = layout.size();
    number_gains();
    for (const Term& term : equations.terms()) trace(term);
    for (std::size_t i = 0; i < equations.paths().size(); ++i) trace({Process::fall, at(equations.paths()[i].from), i});
    trace_speciation();
    plan_streams();
    plan_rows();
    return numerics::Elimination(pattern());
  }
};

JacobianPlan::JacobianPlan(const Equations& equations)
    : elimination(Builder{equations, equations.layout(), *this}.build()) {
  sort_entries();
  at_place.assign(elimination.entries(), nowhere);
  for (std::size_t e = 0; e < in_matrix; ++e)
    at_place[elimination.place(entries[e].row, entries[e].column)] = spot_of(e);
  for (std::size_t i = 0; i < unknowns; ++i) diagonal.push_back(spot_of(elimination.place(i, i)));
}

void JacobianPlan::sort_entries() {
  const auto place = [&](const Entry& e) {
    return e.row < unknowns ? elimination.place(e.row, e.column) : elimination.entries() + e.row * unknowns + e.column;
  };
  std::vector<std::pair<std::size_t, Spot>> order;
  for (const Entry& e : entries) order.emplace_back(place(e), spot_of(order.size()));
  std::sort(order.begin(), order.end());
  std::vector<Spot> to(entries.size());
  std::vector<Entry> sorted;
  for (const auto& [where, from] : order) {
    to[from] = spot_of(sorted.size());
    sorted.push_back(entries[from]);
    in_matrix += sorted.back().row < unknowns;
  }
  entries = std::move(sorted);
  const auto move = [&](Spot& entry) {
    if (entry != nowhere) entry = to[entry];
  };
  for (TermPlan& t : terms)
    for (TermSlope& s : t.each)
      if (!s.local) move(s.into);
  for (StreamPlan& s : paths) {
    for (auto* flow : {&s.from_by_flow, &s.to_by_flow}) std::for_each(flow->begin(), flow->end(), move);
    move(s.gain_by_flow);
  }
  for (LocalRow& r : rows) {
    move(r.by_water);
    for (LocalRow::One& one : r.numbers) move(one.by_slot);
  }
  for (std::size_t e = 0; e < in_matrix; ++e)
    if (entries[e].row >= inner) of_gains.push_back(spot_of(e));
  std::stable_sort(of_gains.begin(), of_gains.end(), [&](Spot a, Spot b) { return entries[a].row < entries[b].row; });
}

}  // namespace leat::model
