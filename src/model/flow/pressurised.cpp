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

/// With r q^2 of an entry before it.
LossAndSlope entering(LossAndSlope l, double r, double q) {
  return {l.loss + r * q * std::abs(q), l.slope + 2.0 * r * std::abs(q)};
}

constexpr double kShallowest = 1e-9;  ///< m; a pool no deeper than this counts as dry

bool has(const std::vector<bool>& list, std::size_t i) {
  return i < list.size() && list[i];
}

}  // namespace

/// A pool of depth d lets 1.70 pi D d^1.5 over the edge of an opening, and takes all of that depth for it. Deeper than
/// two bores nothing is left of it.
Plumbing::Work::Loss Plumbing::Work::entry_loss(double depth, double bore) {
  if (depth >= 2.0 * bore) return {};
  const double d = std::max(depth, kShallowest), weir = 1.70 * std::numbers::pi * bore;
  const double fade = 1.0 - d / (2.0 * bore), factor = fade * fade / (weir * weir * d * d);
  return {factor, depth <= kShallowest ? 0.0 : -factor * (2.0 / d + 1.0 / (bore * fade))};
}

Plumbing::Work::Work(const Plumbing& plumbing)
    : plumbing_(plumbing),
      loop_(plumbing.loop_),
      junctions_(static_cast<int>(loop_.junctions.size())),
      pumps_(static_cast<int>(loop_.pumps.size())),
      solver_(build()),
      law_([this](std::size_t link, double q) { return law(link, q); }) {
  entries_.resize(loop_.pipes.size());
  stopped_entries_.resize(loop_.pumps.size());
  shares_.assign(loop_.pumps.size(), 1.0);
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
  for (int p = 0; p < pumps_; ++p) {
    const int n = fixed();
    standing_given_.push_back(n - network.unknown);
    network.links.push_back({n, junctions_ + p, false, false});
  }
  return network;
}

LossAndSlope Plumbing::Work::pump_law(std::size_t p, double q) const {
  const auto& curve = loop_.pumps[p].curve;
  const Flow<> while_running(q / shares_[p]);
  return {-curve.head(while_running).si(), -curve.slope(while_running).si() / shares_[p]};
}

LossAndSlope Plumbing::Work::standing_law(std::size_t p, double q) const {
  const double share = 1.0 - shares_[p];
  LossAndSlope l = at_flow(plumbing_.stopped_pump_laws_[p], q / share);
  if (q > 0.0) l = entering(l, stopped_entries_[p].factor, q / share);
  l.slope /= share;
  return l;
}

LossAndSlope Plumbing::Work::law(std::size_t link, double q) const {
  if (link < loop_.pumps.size()) return pump_law(link, q);
  if (link >= standing(0)) return standing_law(link - standing(0), q);
  link -= loop_.pumps.size();
  if (link >= loop_.pipes.size()) return at_flow(plumbing_.valve_laws_[link - loop_.pipes.size()], q);
  const Entry& entry = entries_[link];
  return entering(at_flow(plumbing_.pipe_laws_[link], q), q >= 0.0 ? entry.forward.factor : entry.back.factor, q);
}

void Plumbing::Work::set_pumps(std::span<const Length<>> levels, const Setting& setting) {
  constexpr double kNever = 1e-9;
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
    const Pump& pump = loop_.pumps[p];
    const Length<> level = levels[at(pump.vessel)];
    given_[p] = given_[at(standing_given_[p])] = level.si();
    const bool may_run = setting.power && pump.on && !has(setting.tripped, p) && !has(setting.stopped, p);
    const bool hunts = p < setting.running.size() && setting.running[p] >= 0.0;
    shares_[p] = !may_run ? 0.0 : hunts ? setting.running[p] : 1.0;
    numerics::NetworkLink &running = solver_.links()[p], &stands = solver_.links()[standing(p)];
    running.shut = shares_[p] <= kNever;
    running.one_way = pump.check_valve;
    stands.shut = pump.check_valve || pipe_of_pump_[p] < 0 || shares_[p] >= 1.0 - kNever;
    stands.back_only = false;
    stopped_entries_[p] = {};
    if (stands.shut) continue;
    const double depth = (level - loop_.vessels[at(pump.vessel)].floor).si();
    stopped_entries_[p] = entry_loss(depth, loop_.pipes[at(pipe_of_pump_[p])].run.bore.si());
    stands.back_only = depth <= kShallowest;
  }
}

void Plumbing::Work::set_mouth(std::size_t i, std::span<const Length<>> levels) {
  const int g = from_given_[i];
  if (g < 0) return;
  const Pipe& pipe = loop_.pipes[i];
  const Length<> level = levels[at(pipe.from.index)];
  const Length<> mouth = pipe.inlet_level.value_or(loop_.vessels[at(pipe.from.index)].floor);
  const double depth = (level - mouth).si();
  given_[at(g)] = std::max(level, mouth).si();
  entries_[i].forward = entry_loss(depth, pipe.run.bore.si());
  solver_.links()[loop_.pumps.size() + i].back_only = depth <= kShallowest;
}

void Plumbing::Work::set_end(std::size_t i, std::span<const Length<>> levels, const Setting& setting) {
  const int g = to_given_[i];
  if (g < 0) return;
  const Pipe& pipe = loop_.pipes[i];
  numerics::NetworkLink& link = solver_.links()[loop_.pumps.size() + i];
  const Length<> level = levels[at(pipe.to.index)], floor = loop_.vessels[at(pipe.to.index)].floor;
  const Length<> end = std::max(pipe.outlet_level.value_or(floor), floor);
  const bool drowned = i < setting.drowned.size() ? bool(setting.drowned[i]) : !pipe.outlet_level || level > end;
  const bool pool_decides = !pipe.outlet_level || has(setting.slurping, i);
  link.one_way = !drowned || (pool_decides && (level - end).si() <= kShallowest);
  if (link.one_way && link.back_only) link.shut = true;
  given_[at(g)] = (pipe.outlet_level ? std::max(*pipe.outlet_level, level) : level).si();
  if (pool_decides) entries_[i].back = entry_loss((level - end).si(), pipe.run.bore.si());
}

void Plumbing::Work::set_pipes(std::span<const Length<>> levels, const Setting& setting) {
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    numerics::NetworkLink& link = solver_.links()[loop_.pumps.size() + i];
    link.shut = loop_.pipes[i].blocked;
    link.one_way = link.back_only = false;
    entries_[i] = {};
    set_mouth(i, levels);
    set_end(i, levels, setting);
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

/// The same question again has the same answer: who watches a step's end asks what the next step begins with.
const numerics::NetworkSolution& Plumbing::Work::solve(std::span<const Length<>> levels_now, const Setting& setting) {
  if (solver_.solution().solved && setting == asked_ && std::ranges::equal(levels_now, asked_at_))
    return solver_.solution();
  asked_ = setting;
  asked_at_.assign(levels_now.begin(), levels_now.end());
  set_pumps(levels_now, setting);
  set_pipes(levels_now, setting);
  set_valves(setting);
  return solver_.solve(law_, given_);
}

/// Adds what all flows change when the head of one given node rises by `weight` with the level of its vessel.
void Plumbing::Work::add_slope(int vessel, int given, double weight, std::span<double> entries) {
  if (weight == 0.0) return;
  solver_.slopes(solver_.unknown() + given, flow_slopes_);
  const std::size_t n = loop_.vessels.size();
  const auto gains = [&](int v, double q) { entries[at(vessel) * n + at(v)] += weight * q; };
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p)
    gains(loop_.pumps[p].vessel, -flow_slopes_[p] - flow_slopes_[standing(p)]);
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const double q = flow_slopes_[loop_.pumps.size() + i];
    if (loop_.pipes[i].from.what == End::What::vessel) gains(loop_.pipes[i].from.index, -q);
    if (loop_.pipes[i].to.what == End::What::vessel) gains(loop_.pipes[i].to.index, q);
  }
}

/// A shallow pool lets in more as it deepens, which counts like so much more head.
double Plumbing::Work::deepens(std::size_t link, const Loss& loss, bool forward) const {
  const double q = solver_.solution().flows[link];
  return (q > 0.0) == forward ? -loss.slope * q * q : 0.0;
}

/// A float that hunts lets its pump run longer, and stand less, as the level rises: that too counts like head.
void Plumbing::Work::add_pump_slopes(std::span<double> entries) {
  const auto& flows = solver_.solution().flows;
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
    const Pump& pump = loop_.pumps[p];
    const double share = shares_[p], q = flows[p], still = flows[standing(p)];
    const bool hunts = share > 0.0 && share < 1.0;
    const double rises = hunts ? 1.0 / (*pump.float_on - *pump.float_off).si() : 0.0;
    const auto counts = [&](double slope, double flow, double part) { return rises * slope * flow / part; };
    if (!solver_.links()[p].shut)
      add_slope(pump.vessel, static_cast<int>(p), 1.0 + counts(pump_law(p, q).slope, q, share), entries);
    if (!solver_.links()[standing(p)].shut) {
      const double in_pool = deepens(standing(p), stopped_entries_[p], true) / ((1.0 - share) * (1.0 - share));
      add_slope(pump.vessel, standing_given_[p],
                1.0 + in_pool - counts(standing_law(p, still).slope, still, 1.0 - share), entries);
    }
  }
}

/// The head at a pipe's end follows its vessel's level, unless an open end or a mouth above the water holds it.
void Plumbing::Work::add_slopes(std::span<double> entries) {
  add_pump_slopes(entries);
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const Pipe& pipe = loop_.pipes[i];
    const std::size_t link = loop_.pumps.size() + i;
    const auto follows = [&](int g, const std::optional<Length<>>& end) {
      return !end || given_[at(g)] > end->si() ? 1.0 : 0.0;
    };
    if (const int g = from_given_[i]; g >= 0)
      add_slope(pipe.from.index, g, follows(g, pipe.inlet_level) + deepens(link, entries_[i].forward, true), entries);
    if (const int g = to_given_[i]; g >= 0)
      add_slope(pipe.to.index, g, follows(g, pipe.outlet_level) + deepens(link, entries_[i].back, false), entries);
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
  for (Flow<>& q : f.pumps) q = Flow<>(s.flows[l] + s.flows[work.standing(l)]), ++l;
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
