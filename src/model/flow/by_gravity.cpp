// Flows that two levels alone decide: rims, siphons, holes, weirs, returns; and what passes to and from outside.
#include <algorithm>
#include <array>
#include <cmath>

#include "model/flow/plumbing.h"
#include "model/flow/pressurised.h"
#include "science/hydraulics/gravity_return.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}
Flow<> none() {
  return Flow<>(0.0);
}

}  // namespace

/// Flow against head of a gravity return, tabulated: its profile is too dear to follow at every step.
struct Plumbing::HeadTable {
  static constexpr std::size_t kSize = 96;
  std::array<double, kSize> log_head, log_flow;

  HeadTable(const science::ReturnPipe& pipe, const Laws& laws) {
    const double most = 3.0 * pipe.run.bore.si() * pipe.run.bore.si() * std::sqrt(pipe.run.bore.si());
    for (std::size_t i = 0; i < kSize; ++i) {
      const double q = most * std::pow(1e-5, 1.0 - static_cast<double>(i) / (kSize - 1)) * 4.0;
      log_flow[i] = std::log(q);
      log_head[i] = std::log(science::gravity_return_head(Flow<>(q), pipe, laws.viscosity, laws.gravity).si());
      if (i > 0) log_head[i] = std::max(log_head[i], log_head[i - 1] + 1e-9);
    }
  }

  struct FlowAndSlope {
    double flow, slope;
  };
  FlowAndSlope flow(double head) const {
    const double h = std::log(head);
    const auto above = std::upper_bound(log_head.begin() + 1, log_head.end() - 1, h);
    const auto i = static_cast<std::size_t>(above - log_head.begin());
    const double slope = (log_flow[i] - log_flow[i - 1]) / (log_head[i] - log_head[i - 1]);
    const double q = std::exp(log_flow[i - 1] + slope * (h - log_head[i - 1]));
    return {q, slope * q / head};
  }
};

Plumbing::Plumbing(const Loop& loop) : loop_(loop) {
  const auto law = [&](const PipeRun& run) { return science::PipeLaw(run, loop.laws.viscosity, loop.laws.gravity); };
  const auto fittings = [&](Length<> bore, double k) { return law({bore, Length<>(0.0), Length<>(0.0), Number<>(k)}); };
  for (const Pipe& pipe : loop.pipes) pipe_laws_.push_back(law(pipe.run));
  for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
    const auto pipe = std::find_if(loop.pipes.begin(), loop.pipes.end(), [&](const Pipe& candidate) {
      return candidate.from.what == End::What::pump && at(candidate.from.index) == p;
    });
    const Length<> bore = pipe == loop.pipes.end() ? Length<>(0.03) : pipe->run.bore;
    stopped_pump_laws_.push_back(fittings(bore, loop.pumps[p].stopped_loss));
  }
  for (const SequencingValve& valve : loop.valves) valve_laws_.push_back(fittings(valve.bore, valve.loss));
  for (const Overflow& o : loop.overflows) back_laws_.push_back(o.back ? law(*o.back) : science::PipeLaw());
  for (const Siphon& s : loop.siphons) siphon_laws_.push_back(law(s.run));
  for (const GravityReturn& r : loop.returns) return_laws_.push_back(law(r.run));
  for (const GravityReturn& r : loop.returns)
    return_heads_.push_back(std::make_unique<HeadTable>(
        science::ReturnPipe{r.run, (r.inlet_level - r.outlet_level) / r.run.length}, loop.laws));
}
Plumbing::~Plumbing() = default;

Length<> Plumbing::mouth_head(const GravityReturn& r, Flow<> flow) const {
  return science::gravity_return_head(flow, {r.run, (r.inlet_level - r.outlet_level) / r.run.length},
                                      loop_.laws.viscosity, loop_.laws.gravity);
}

/// The control that lets the least through: mouth and barrel with a free end, or the full pipe.
Plumbing::Passing Plumbing::gravity_return(std::size_t i, double up, double down) const {
  const GravityReturn& r = loop_.returns[i];
  const double over = up - r.inlet_level.si(), end = std::max(down, r.outlet_level.si());
  if (over <= 0.0 || up <= end) return {};
  const auto [free, by_over] = return_heads_[i]->flow(over);
  if (carries(return_laws_[i], free, up, end)) return {free, by_over, 0.0};
  const Passing full = through(return_laws_[i], 0.0, up, end);
  if (free <= full.flow) return {free, by_over, 0.0};
  return {full.flow, full.by_up, end == down ? full.by_down : 0.0};
}

Flow<> Plumbing::return_flow(std::size_t index, Length<> up, Length<> down) const {
  return Flow<>(loop_.returns[index].blocked ? 0.0 : gravity_return(index, up.si(), down.si()).flow);
}

template <class See>
void Plumbing::by_gravity(std::span<const Length<>> levels, const Setting& setting, See&& see) const {
  const auto each = [&](std::vector<Flow<>> Flows::*part, const auto& list, auto law) {
    for (std::size_t i = 0; i < list.size(); ++i) {
      const double up = levels[at(list[i].from)].si(), down = levels[at(list[i].to)].si();
      see(part, i, list[i].from, list[i].to, list[i].blocked ? Passing{} : law(i, up, down));
    }
  };
  each(&Flows::overflows, loop_.overflows, [&](std::size_t i, double up, double down) {
    const bool full = i < setting.siphoning.size() && setting.siphoning[i];
    return full ? full_overflow(i, up, down) : overflow(i, up, down);
  });
  each(&Flows::siphons, loop_.siphons, [&](std::size_t i, double up, double down) {
    const double share = i < setting.share.size() ? setting.share[i] : -1.0;
    if (share < 0.0) {
      const bool full = i < setting.primed.size() && setting.primed[i];
      return full ? primed_siphon(i, up, down) : idle_siphon(i, up, down);
    }
    const Passing f = primed_siphon(i, up, down), idle = idle_siphon(i, up, down);
    const auto mean = [&](double a, double b) { return share * a + (1.0 - share) * b; };
    const Siphon& s = loop_.siphons[i];
    const double rises = share > 0.0 && share < 1.0 ? 1.0 / (priming_level(s) - s.break_level).si() : 0.0;
    return Passing{mean(f.flow, idle.flow), mean(f.by_up, idle.by_up) + rises * (f.flow - idle.flow),
                   mean(f.by_down, idle.by_down)};
  });
  const auto plain = [&](Passing (Plumbing::*law)(std::size_t, double, double) const) {
    return [this, law](std::size_t i, double up, double down) { return (this->*law)(i, up, down); };
  };
  each(&Flows::drain_holes, loop_.drain_holes, plain(&Plumbing::drain_hole));
  each(&Flows::weirs, loop_.weirs, plain(&Plumbing::weir));
  each(&Flows::returns, loop_.returns, plain(&Plumbing::gravity_return));
}

void Plumbing::gravity_flows(std::span<const Length<>> levels, const Setting& setting, Flows& f) const {
  f.overflows.resize(loop_.overflows.size());
  f.siphons.resize(loop_.siphons.size());
  f.drain_holes.resize(loop_.drain_holes.size());
  f.weirs.resize(loop_.weirs.size());
  f.returns.resize(loop_.returns.size());
  by_gravity(levels, setting, [&](std::vector<Flow<>> Flows::*part, std::size_t i, int, int, const Passing& p) {
    (f.*part)[i] = Flow<>(p.flow);
  });
}

void Plumbing::slopes(std::span<const Length<>> levels, const Setting& setting, Work& work,
                      std::span<double> entries) const {
  const std::size_t n = loop_.vessels.size();
  std::fill(entries.begin(), entries.end(), 0.0);
  work.add_slopes(entries);
  by_gravity(levels, setting, [&](std::vector<Flow<>> Flows::*, std::size_t, int from, int to, const Passing& p) {
    entries[at(from) * n + at(from)] -= p.by_up;
    entries[at(from) * n + at(to)] += p.by_up;
    entries[at(to) * n + at(from)] -= p.by_down;
    entries[at(to) * n + at(to)] += p.by_down;
  });
}

/// Brims that spill, floats that let water in, the sun that takes it.
void Plumbing::with_outside(std::span<const Length<>> levels, const Setting& setting, Flows& f) const {
  f.spills.assign(loop_.vessels.size(), none());
  f.evaporation.assign(loop_.vessels.size(), none());
  f.top_ups.assign(loop_.sources.size(), none());
  if (!setting.outside) return;
  for (std::size_t v = 0; v < loop_.vessels.size(); ++v) {
    const Vessel& vessel = loop_.vessels[v];
    if (vessel.held_level) continue;
    const double over = (levels[v] - vessel.rim).si();
    if (over > 0.0) f.spills[v] = Flow<>(1.70 * vessel.perimeter().si() * over * std::sqrt(over));
    const double wet = std::clamp((levels[v] - vessel.floor).si() / 1e-3, 0.0, 1.0);
    const double open = vessel.kind == VesselKind::gravel_bed ? 1.0 : 1.0 - vessel.cover;
    f.evaporation[v] = Flow<>(setting.evaporation.si() * vessel.area.si() * open * wet);
  }
  for (std::size_t s = 0; s < loop_.sources.size(); ++s) {
    const Source& source = loop_.sources[s];
    if (source.stuck_open) {
      f.top_ups[s] = source.float_flow;
    } else if (source.float_level && source.top_up != TopUp::none) {
      const double under = (*source.float_level - levels[at(source.vessel)]).si();
      f.top_ups[s] = std::clamp(under / 0.01, 0.0, 1.0) * source.float_flow;  // 10 mm from shut to open
    }
  }
}

/// Spills and floats of one vessel move with its own level only.
Plumbing::OutsideSlopes Plumbing::outside_slopes(std::size_t v, double level, const Setting& setting) const {
  OutsideSlopes slopes;
  const Vessel& vessel = loop_.vessels[v];
  if (!setting.outside || vessel.held_level) return slopes;
  const double over = level - vessel.rim.si();
  if (over > 0.0) slopes.spill = 1.5 * 1.70 * vessel.perimeter().si() * std::sqrt(over);
  for (const Source& source : loop_.sources) {
    if (at(source.vessel) != v || source.stuck_open || !source.float_level || source.top_up == TopUp::none) continue;
    const double under = (source.float_level->si() - level) / 0.01;
    if (under > 0.0 && under < 1.0) slopes.top_up -= source.float_flow.si() / 0.01;
  }
  return slopes;
}

}  // namespace leat::model
