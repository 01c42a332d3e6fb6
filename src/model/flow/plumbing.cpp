#include "model/flow/plumbing.h"

#include <algorithm>
#include <cmath>

#include "model/flow/pressurised.h"
#include "numerics/root.h"
#include "science/hydraulics/rim_flow.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

std::unique_ptr<Plumbing::Work, void (*)(Plumbing::Work*)> Plumbing::make_work() const {
  return {new Work(*this), [](Work* work) { delete work; }};
}

void Plumbing::flows(std::span<const Length<>> levels, const Setting& setting, Work& work, Flows& out) const {
  pressurised(levels, setting, work, out);
  gravity_flows(levels, setting, out);
  with_outside(levels, setting, out);
}

Flows Plumbing::flows(std::span<const Length<>> levels, const Setting& setting) const {
  Flows out;
  flows(levels, setting, *make_work(), out);
  return out;
}

std::vector<Flow<>> Plumbing::net(const Flows& f) const {
  std::vector<double> net(loop_.vessels.size());
  this->net(f, net);
  std::vector<Flow<>> flows;
  for (std::size_t v = 0; v < net.size(); ++v)  // a float valve, or a vessel's size, makes good any change
    flows.emplace_back(loop_.vessels[v].held_level ? 0.0 : net[v]);
  return flows;
}

void Plumbing::net(const Flows& f, std::span<double> net) const {
  std::fill(net.begin(), net.end(), 0.0);
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) net[at(loop_.pumps[p].vessel)] -= f.pumps[p].si();
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
    const Pipe& pipe = loop_.pipes[i];
    if (pipe.from.what == End::What::vessel) net[at(pipe.from.index)] -= f.pipes[i].si();
    if (pipe.to.what == End::What::vessel) net[at(pipe.to.index)] += f.pipes[i].si();
  }
  const auto between = [&](const auto& list, const std::vector<Flow<>>& flows) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      net[at(list[i].from)] -= flows[i].si();
      net[at(list[i].to)] += flows[i].si();
    }
  };
  between(loop_.overflows, f.overflows);
  between(loop_.siphons, f.siphons);
  between(loop_.drain_holes, f.drain_holes);
  between(loop_.weirs, f.weirs);
  between(loop_.returns, f.returns);
  for (std::size_t v = 0; v < loop_.vessels.size(); ++v) net[v] -= f.spills[v].si() + f.evaporation[v].si();
  for (std::size_t s = 0; s < loop_.sources.size(); ++s) net[at(loop_.sources[s].vessel)] += f.top_ups[s].si();
}

std::vector<Passage> Plumbing::passages(const Flows& f) const {
  std::vector<Passage> all;
  const auto between = [&](const auto& list, const std::vector<Flow<>>& flows) {
    for (std::size_t i = 0; i < list.size(); ++i) all.push_back({&list[i].path, list[i].from, list[i].to, flows[i]});
  };
  between(loop_.overflows, f.overflows);
  between(loop_.siphons, f.siphons);
  between(loop_.drain_holes, f.drain_holes);
  between(loop_.weirs, f.weirs);
  between(loop_.returns, f.returns);
  for (std::size_t v = 0; v < loop_.vessels.size(); ++v)
    all.push_back({&loop_.vessels[v].path, static_cast<int>(v), -1, f.spills[v]});
  return all;
}

Length<> Plumbing::loss(const PipeRun& run, Flow<> flow) const {
  return science::pipe_loss(flow, run, loop_.laws.viscosity, loop_.laws.gravity);
}

Length<> Plumbing::pump_head(const Pump& pump, Flow<> flow) const {
  return pump.curve.head(flow);
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

}  // namespace leat::model
