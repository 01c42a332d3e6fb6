#include "model/flow/plumbing.h"

#include <algorithm>
#include <cmath>

#include "numerics/root.h"
#include "science/hydraulics/rim_flow.h"

namespace leat::model {
namespace {

using numerics::LossAndSlope;
using numerics::NetworkLink;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Head at a pipe's end in a vessel: its open end, or the water above it.
Length<> end_head(const std::optional<Length<>>& outlet, Length<> level) {
  return outlet ? std::max(*outlet, level) : level;
}

bool is_submerged(const Pipe& pipe, Length<> level) {
  return !pipe.outlet_level || level > *pipe.outlet_level;
}

/// The network of one setting: junctions first, then one node at each pump's outlet, then nodes of given head.
struct Assembly {
  numerics::Network network;
  std::vector<double> given;
  std::vector<std::size_t> pipe_links, pump_links;

  int fixed(double head) {
    given.push_back(head);
    return network.unknown + static_cast<int>(given.size()) - 1;
  }
};

std::function<LossAndSlope(double)> pipe_law(const PipeRun& run, const Laws& laws) {
  return [run, laws](double q) {
    const auto l = science::pipe_loss_and_slope(Flow<>(q), run, laws.viscosity, laws.gravity);
    return LossAndSlope{l.loss.si(), l.slope.si()};
  };
}

const Pipe* pipe_from_pump(const Loop& loop, int pump) {
  for (const Pipe& pipe : loop.pipes)
    if (pipe.from.what == End::What::pump && pipe.from.index == pump) return &pipe;
  return nullptr;
}

}  // namespace

Plumbing::Plumbing(const Loop& loop) : loop_(loop) {}

Length<> Plumbing::loss(const PipeRun& run, Flow<> flow) const {
  return science::pipe_loss(flow, run, loop_.laws.viscosity, loop_.laws.gravity);
}

Length<> Plumbing::pump_head(const Pump& pump, Flow<> flow) const {
  return pump.curve.head(flow);
}

Flows Plumbing::flows(std::span<const Length<>> levels, const Setting& setting) const {
  Assembly a;
  const int junctions = static_cast<int>(loop_.junctions.size());
  a.network.unknown = junctions + static_cast<int>(loop_.pumps.size());
  const auto node_of = [&](const Pipe& pipe, const End& end, bool is_outlet) {
    if (end.what == End::What::junction) return end.index;
    if (end.what == End::What::pump) return junctions + end.index;
    return a.fixed((is_outlet ? end_head(pipe.outlet_level, levels[at(end.index)]) : levels[at(end.index)]).si());
  };
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
    const Pump& pump = loop_.pumps[p];
    const Pipe* outlet = pipe_from_pump(loop_, static_cast<int>(p));
    const Length<> level = levels[at(pump.vessel)];
    const bool tripped = p < setting.tripped.size() && setting.tripped[p];
    const bool runs = setting.power && pump.on && !tripped;
    NetworkLink link{a.fixed(level.si()), junctions + static_cast<int>(p), {}, pump.check_valve, false};
    if (runs) {
      link.law = [&pump](double q) {
        return LossAndSlope{-pump.curve.head(Flow<>(q)).si(), -pump.curve.slope(Flow<>(q)).si()};
      };
    } else if (pump.check_valve || !outlet) {
      link.shut = true;
      link.law = [](double q) { return LossAndSlope{q, 1.0}; };
    } else {
      link.law = pipe_law({outlet->run.bore, Length<>(0.0), Length<>(0.0), Number<>(pump.stopped_loss)}, loop_.laws);
    }
    a.pump_links.push_back(a.network.links.size());
    a.network.links.push_back(std::move(link));
  }
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const Pipe& pipe = loop_.pipes[i];
    const auto submerged = [&] {
      return i < setting.drowned.size() ? bool(setting.drowned[i]) : is_submerged(pipe, levels[at(pipe.to.index)]);
    };
    const bool free_end = pipe.to.what == End::What::vessel && !submerged();
    NetworkLink link{node_of(pipe, pipe.from, false), node_of(pipe, pipe.to, true), {}, free_end, pipe.blocked};
    link.law = pipe_law(pipe.run, loop_.laws);
    a.pipe_links.push_back(a.network.links.size());
    a.network.links.push_back(std::move(link));
  }
  Flows f;
  if (!a.network.links.empty()) {
    const auto s = numerics::solve_network(a.network, a.given);
    f.solved = s.solved;
    for (const std::size_t l : a.pump_links) f.pumps.emplace_back(s.flows[l]);
    for (const std::size_t l : a.pipe_links) f.pipes.emplace_back(s.flows[l]);
    for (int j = 0; j < a.network.unknown; ++j)
      (j < junctions ? f.junction_heads : f.pump_outlet_heads).emplace_back(s.heads[at(j)]);
  }
  for (const Overflow& o : loop_.overflows)
    f.overflows.push_back(o.blocked ? Flow<>(0.0) : overflow_flow(o, levels[at(o.from)], levels[at(o.to)]));
  return f;
}

std::vector<Flow<>> Plumbing::net(const Flows& f) const {
  std::vector<Flow<>> net(loop_.vessels.size(), Flow<>(0.0));
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) net[at(loop_.pumps[p].vessel)] -= f.pumps[p];
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const Pipe& pipe = loop_.pipes[i];
    if (pipe.from.what == End::What::vessel) net[at(pipe.from.index)] -= f.pipes[i];
    if (pipe.to.what == End::What::vessel) net[at(pipe.to.index)] += f.pipes[i];
  }
  for (std::size_t i = 0; i < loop_.overflows.size(); ++i) {
    net[at(loop_.overflows[i].from)] -= f.overflows[i];
    net[at(loop_.overflows[i].to)] += f.overflows[i];
  }
  for (std::size_t v = 0; v < loop_.vessels.size(); ++v)
    if (loop_.vessels[v].held_level) net[v] = Flow<>(0.0);  // its float valve, or its size, makes good any change
  return net;
}

Length<> Plumbing::sleeve_loss(const Overflow& o, Flow<> flow) const {
  if (!o.sleeve) return Length<>(0.0);
  const double d_out = o.sleeve->bore.si(), d_in = o.sleeve->standpipe_outside.si();
  const double velocity = flow.si() / (M_PI / 4.0 * (d_out * d_out - d_in * d_in));
  return Length<>(o.sleeve->loss * velocity * velocity / (2.0 * loop_.laws.gravity.si()));
}

Length<> Plumbing::head_over_rim(const Overflow& o, Flow<> flow) const {
  return science::standpipe_rim_head(flow, o.standpipe_bore, {Number<>(o.rim_coefficient), Number<>(0.60)},
                                     loop_.laws.gravity);
}

Length<> Plumbing::outlet_height(const Overflow& o, Length<> receiving) const {
  if (o.outlet_level) return std::max(*o.outlet_level, receiving);
  return receiving;
}

Length<> Plumbing::standpipe_level(const Overflow& o, Flow<> flow, Length<> receiving) const {
  return o.back ? outlet_height(o, receiving) + loss(*o.back, flow) : outlet_height(o, receiving);
}

Flow<> Plumbing::drowning_flow(const Overflow& o, const std::function<Length<>(Flow<>)>& receiving) const {
  const Flow<> most(1.0);
  if (!o.back) return most;
  const auto over = [&](double q) { return (standpipe_level(o, Flow<>(q), receiving(Flow<>(q))) - o.rim).si(); };
  if (over(0.0) >= 0.0) return Flow<>(0.0);
  return Flow<>(numerics::bracketed_root(over, 0.0, most.si(), 1e-14));
}

/// The smaller of what passes the rim and what the return carries once it has backed up to the rim.
Flow<> Plumbing::overflow_flow(const Overflow& o, Length<> up, Length<> down) const {
  if (up <= o.rim) return Flow<>(0.0);
  const auto over_rim = [&](double q) {
    return (o.rim + head_over_rim(o, Flow<>(q)) + sleeve_loss(o, Flow<>(q)) - up).si();
  };
  const double width = 1e-15;
  const Flow<> by_rim(numerics::bracketed_root(over_rim, 0.0, 1.0, width));
  if (standpipe_level(o, by_rim, down) <= o.rim) return by_rim;
  const auto backed_up = [&](double q) {
    return (standpipe_level(o, Flow<>(q), down) + sleeve_loss(o, Flow<>(q)) - up).si();
  };
  if (backed_up(0.0) >= 0.0) return Flow<>(0.0);
  return std::min(by_rim, Flow<>(numerics::bracketed_root(backed_up, 0.0, 1.0, width)));
}

}  // namespace leat::model
