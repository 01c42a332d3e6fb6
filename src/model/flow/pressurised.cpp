#include "model/flow/pressurised.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "science/hydraulics/pipe_loss.h"

namespace leat::model {
namespace {

using numerics::LossAndSlope;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

LossAndSlope at_flow(const science::PipeLaw& law, double q) {
  const auto l = law.at(q);
  return {l.loss, l.slope};
}

/// A pool of depth d lets 1.70 pi D d^1.5 over the edge of an opening, and takes all of that depth for it. Deeper than
/// two bores nothing is left of it.
double entry_loss(double depth, double bore) {
  if (depth >= 2.0 * bore) return 0.0;
  const double fade = 1.0 - std::max(depth, 0.0) / (2.0 * bore);
  const double d = std::max(depth, 1e-7), weir = 1.70 * std::numbers::pi * bore;
  return fade * fade / (weir * weir * d * d);
}

bool has(const std::vector<bool>& list, std::size_t i) {
  return i < list.size() && list[i];
}

}  // namespace

Plumbing::Work::Work(const Plumbing& plumbing)
    : plumbing_(plumbing),
      loop_(plumbing.loop_),
      junctions_(static_cast<int>(loop_.junctions.size())),
      pumps_(static_cast<int>(loop_.pumps.size())),
      solver_(build()),
      law_([this](std::size_t link, double q) { return law(link, q); }) {
  entries_.resize(loop_.pipes.size());
  pump_laws_.resize(loop_.pumps.size());
  flow_slopes_.resize(solver_.links().size());
}

numerics::Network Plumbing::Work::build() {
  numerics::Network network;
  network.unknown = junctions_ + pumps_ + 2 * static_cast<int>(loop_.valves.size());
  const auto fixed = [&] {
    given_.push_back(0.0);
    return network.unknown + static_cast<int>(given_.size()) - 1;
  };
  for (int p = 0; p < pumps_; ++p) network.links.push_back({fixed(), junctions_ + p, false, false});
  pipe_of_pump_.assign(at(pumps_), -1);
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const auto node = [&](const End& end, bool is_start, std::vector<int>& given) {
      given.push_back(-1);
      switch (end.what) {
        case End::What::junction:
          return end.index;
        case End::What::pump:
          return junctions_ + end.index;
        case End::What::valve:
          return valve_node(at(end.index), is_start);
        default:
          break;
      }
      const int n = fixed();
      given.back() = n - network.unknown;
      return n;
    };
    const Pipe& pipe = loop_.pipes[i];
    if (pipe.from.what == End::What::pump && pipe_of_pump_[at(pipe.from.index)] < 0)
      pipe_of_pump_[at(pipe.from.index)] = static_cast<int>(i);
    const int from = node(pipe.from, true, from_given_), to = node(pipe.to, false, to_given_);
    network.links.push_back({from, to, false, false});
  }
  for (std::size_t v = 0; v < loop_.valves.size(); ++v)
    network.links.push_back({valve_node(v, false), valve_node(v, true), false, false});
  return network;
}

LossAndSlope Plumbing::Work::law(std::size_t link, double q) const {
  if (link < loop_.pumps.size()) {
    const Pump& pump = loop_.pumps[link];
    if (pump_laws_[link] == PumpLaw::running)
      return {-pump.curve.head(Flow<>(q)).si(), -pump.curve.slope(Flow<>(q)).si()};
    if (pump_laws_[link] == PumpLaw::shut) return {q, 1.0};
    return at_flow(plumbing_.stopped_pump_laws_[link], q);
  }
  link -= loop_.pumps.size();
  if (link >= loop_.pipes.size()) return at_flow(plumbing_.valve_laws_[link - loop_.pipes.size()], q);
  LossAndSlope l = at_flow(plumbing_.pipe_laws_[link], q);
  const double r = q >= 0.0 ? entries_[link].forward : entries_[link].back;
  if (r > 0.0) {
    l.loss += r * q * std::abs(q);
    l.slope += 2.0 * r * std::abs(q);
  }
  return l;
}

void Plumbing::Work::set_pumps(std::span<const Length<>> levels, const Setting& setting) {
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
    const Pump& pump = loop_.pumps[p];
    given_[p] = levels[at(pump.vessel)].si();
    const bool runs = setting.power && pump.on && !has(setting.tripped, p) && !has(setting.stopped, p);
    const bool through = !runs && !pump.check_valve && pipe_of_pump_[p] >= 0;
    pump_laws_[p] = runs ? PumpLaw::running : through ? PumpLaw::through : PumpLaw::shut;
    numerics::NetworkLink& link = solver_.links()[p];
    link.shut = pump_laws_[p] == PumpLaw::shut;
    link.one_way = pump.check_valve;
  }
}

void Plumbing::Work::set_pipes(std::span<const Length<>> levels, const Setting& setting) {
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const Pipe& pipe = loop_.pipes[i];
    numerics::NetworkLink& link = solver_.links()[loop_.pumps.size() + i];
    link.shut = pipe.blocked;
    link.one_way = false;
    Entry& entry = entries_[i] = {};
    const double bore = pipe.run.bore.si();
    bool dry = false;
    if (const int g = from_given_[i]; g >= 0) {
      const Length<> level = levels[at(pipe.from.index)];
      const Length<> mouth = pipe.inlet_level.value_or(loop_.vessels[at(pipe.from.index)].floor);
      given_[at(g)] = std::max(level, mouth).si();
      entry.forward = entry_loss((level - mouth).si(), bore);
      dry = level <= mouth;
    }
    const int g = to_given_[i];
    if (g < 0) continue;
    const Length<> level = levels[at(pipe.to.index)];
    const bool drowned =
        i < setting.drowned.size() ? bool(setting.drowned[i]) : !pipe.outlet_level || level > *pipe.outlet_level;
    link.one_way = !drowned;
    if (dry && !drowned) link.shut = true;
    given_[at(g)] = (pipe.outlet_level ? std::max(*pipe.outlet_level, level) : level).si();
    if (has(setting.slurping, i)) {
      link.one_way = level <= *pipe.outlet_level;
      entry.back = entry_loss((level - *pipe.outlet_level).si(), bore);
    }
    if (!pipe.outlet_level) entry.back = entry_loss((level - loop_.vessels[at(pipe.to.index)].floor).si(), bore);
  }
}

/// One outlet of each valve is open.
void Plumbing::Work::set_valves(const Setting& setting) {
  for (std::size_t v = 0; v < loop_.valves.size(); ++v) {
    const SequencingValve& valve = loop_.valves[v];
    const std::size_t open = v < setting.turn.size() ? at(setting.turn[v]) : at(valve.first);
    for (std::size_t k = 0; k < valve.outlets.size(); ++k)
      if (k != open) solver_.links()[loop_.pumps.size() + at(valve.outlets[k])].shut = true;
  }
}

const numerics::NetworkSolution& Plumbing::Work::solve(std::span<const Length<>> levels_now, const Setting& setting) {
  set_pumps(levels_now, setting);
  set_pipes(levels_now, setting);
  set_valves(setting);
  return solver_.solve(law_, given_);
}

/// The head at a pipe's end follows its vessel's level, unless an open end or a mouth above the water holds it.
void Plumbing::Work::add_slopes(std::span<double> entries) {
  const std::size_t n = loop_.vessels.size();
  const auto add = [&](int vessel, int given) {
    solver_.slopes(solver_.unknown() + given, flow_slopes_);
    const auto gains = [&](int v, double q) { entries[at(vessel) * n + at(v)] += q; };
    for (std::size_t p = 0; p < loop_.pumps.size(); ++p) gains(loop_.pumps[p].vessel, -flow_slopes_[p]);
    for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
      const double q = flow_slopes_[loop_.pumps.size() + i];
      if (loop_.pipes[i].from.what == End::What::vessel) gains(loop_.pipes[i].from.index, -q);
      if (loop_.pipes[i].to.what == End::What::vessel) gains(loop_.pipes[i].to.index, q);
    }
  };
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) add(loop_.pumps[p].vessel, static_cast<int>(p));
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const Pipe& pipe = loop_.pipes[i];
    const auto follows = [&](int g, const std::optional<Length<>>& end) {
      return g >= 0 && (!end || given_[at(g)] > end->si());
    };
    if (follows(from_given_[i], pipe.inlet_level)) add(pipe.from.index, from_given_[i]);
    if (follows(to_given_[i], pipe.outlet_level)) add(pipe.to.index, to_given_[i]);
  }
}

void Plumbing::pressurised(std::span<const Length<>> levels, const Setting& setting, Work& work, Flows& f) const {
  f.solved = true;
  f.pumps.resize(loop_.pumps.size());
  f.pipes.resize(loop_.pipes.size());
  if (loop_.pumps.empty() && loop_.pipes.empty()) return;
  const auto& s = work.solve(levels, setting);
  f.solved = s.solved;
  std::size_t l = 0;
  for (Flow<>& q : f.pumps) q = Flow<>(s.flows[l++]);
  for (Flow<>& q : f.pipes) q = Flow<>(s.flows[l++]);
  const auto heads = [&](std::vector<Length<>>& out, std::size_t count, auto node) {
    out.resize(count);
    for (std::size_t i = 0; i < count; ++i) out[i] = Length<>(s.heads[at(node(i))]);
  };
  heads(f.junction_heads, loop_.junctions.size(), [](std::size_t i) { return static_cast<int>(i); });
  heads(f.pump_outlet_heads, loop_.pumps.size(), [&](std::size_t i) { return work.junctions() + static_cast<int>(i); });
  heads(f.valve_inlet_heads, loop_.valves.size(), [&](std::size_t i) { return work.valve_node(i, false); });
  heads(f.valve_outlet_heads, loop_.valves.size(), [&](std::size_t i) { return work.valve_node(i, true); });
}

}  // namespace leat::model
