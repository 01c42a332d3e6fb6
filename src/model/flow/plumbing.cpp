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
  by_gravity(levels, setting, out);
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

double Plumbing::back_loss(const Overflow& o, double flow) const {
  return o.back ? back_laws_[static_cast<std::size_t>(&o - loop_.overflows.data())].at(flow).loss : 0.0;
}

/// What passes the rim from a height of water outside the sleeve: the sleeve takes k Q^2 of it.
///
///   weir     Q = c h^1.5, h + k c^2 h^3 = over, by Newton
///   orifice  Q = c sqrt(h), h (1 + k c^2) = over
Flow<> Plumbing::over_rim(const Overflow& o, double over) const {
  const science::RimCoefficients rim{Number<>(o.rim_coefficient), Number<>(0.60)};
  const auto free = [&](double h) {
    return science::standpipe_rim_flow(Length<>(h), o.standpipe_bore, rim, loop_.laws.gravity);
  };
  if (!o.sleeve) return free(over);
  const double k = sleeve_loss(o, Flow<>(1.0)).si();
  const double weir = science::rim_weir_flow(Length<>(1.0), o.standpipe_bore, rim.weir).si();
  const double a = k * weir * weir;
  double h = over;
  for (int i = 0; i < 40; ++i) {
    const double step = (h + a * h * h * h - over) / (1.0 + 3.0 * a * h * h);
    h -= step;
    if (std::abs(step) <= 1e-15 * over) break;
  }
  const double crossing = science::rim_crossing_head(o.standpipe_bore, rim, loop_.laws.gravity).si();
  if (h <= crossing) return free(h);
  const double hole = free(4.0 * crossing).si() / std::sqrt(4.0 * crossing);
  return free(over / (1.0 + k * hole * hole));
}

/// The smaller of what passes the rim and what the return carries once it has backed up to the rim.
Flow<> Plumbing::overflow_flow(const Overflow& o, Length<> up, Length<> down) const {
  if (up <= o.rim) return Flow<>(0.0);
  const Flow<> by_rim = over_rim(o, (up - o.rim).si());
  const double end = outlet_height(o, down).si(), top = up.si();
  if (end + back_loss(o, by_rim.si()) <= o.rim.si()) return by_rim;
  const double k = sleeve_loss(o, Flow<>(1.0)).si();
  const auto backed_up = [&](double q) { return end + back_loss(o, q) + k * q * q - top; };
  if (backed_up(0.0) >= 0.0) return Flow<>(0.0);
  if (backed_up(by_rim.si()) <= 0.0) return by_rim;
  return Flow<>(numerics::bracketed_root(backed_up, 0.0, by_rim.si(), 1e-15));
}

}  // namespace leat::model
