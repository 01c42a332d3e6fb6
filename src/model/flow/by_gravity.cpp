// Flows that two levels alone decide: rims, siphons, holes, weirs, returns, brims.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "model/flow/plumbing.h"
#include "model/flow/pressurised.h"
#include "numerics/root.h"
#include "science/hydraulics/drops.h"
#include "science/hydraulics/gravity_return.h"
#include "science/hydraulics/pipe_loss.h"
#include "science/hydraulics/rim_flow.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}
Flow<> none() {
  return Flow<>(0.0);
}
const Length<> kSoft(2e-6);  ///< below this head a hole's law is rounded off

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

  double flow(double head) const {
    if (head <= 0.0) return 0.0;
    const double h = std::log(head);
    const auto above = std::upper_bound(log_head.begin() + 1, log_head.end() - 1, h);
    const auto i = static_cast<std::size_t>(above - log_head.begin());
    const double slope = (log_flow[i] - log_flow[i - 1]) / (log_head[i] - log_head[i - 1]);
    return std::exp(log_flow[i - 1] + slope * (h - log_head[i - 1]));
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

/// The control that lets the least through: mouth and barrel with a free end, or the full pipe against a drowned one.
Flow<> Plumbing::return_flow(std::size_t index, Length<> up, Length<> down) const {
  const GravityReturn& r = loop_.returns[index];
  if (r.blocked || up <= r.inlet_level || up <= down) return none();
  const Flow<> free(return_heads_[index]->flow((up - r.inlet_level).si()));
  if (down <= r.outlet_level) return free;
  return std::min(free, Flow<>(return_laws_[index].flow((up - down).si())));
}

Flow<> Plumbing::idle_flow(std::size_t siphon, Length<> up, Length<> down) const {
  const Siphon& s = loop_.siphons[siphon];
  if (s.blocked || up <= s.rim) return none();
  const Flow<> over = science::standpipe_rim_flow(up - s.rim, s.run.bore, {Number<>(s.rim_coefficient), Number<>(0.60)},
                                                  loop_.laws.gravity);
  return std::min(over, full_flow(siphon, up, down));
}

Flow<> Plumbing::full_flow(std::size_t siphon, Length<> up, Length<> down) const {
  const Siphon& s = loop_.siphons[siphon];
  const Length<> outlet = s.outlet_level ? std::max(*s.outlet_level, down) : down;
  if (s.blocked || up <= outlet) return none();
  return Flow<>(siphon_laws_[siphon].flow((up - outlet).si()));
}

Flow<> Plumbing::priming_flow(const Siphon& s) const {
  return science::drain_flow_at(Number<>(s.priming), s.run.bore, loop_.laws.gravity);
}

Flow<> Plumbing::priming_flow(const Overflow& o) const {
  return science::drain_flow_at(Number<>(0.54), o.standpipe_bore, loop_.laws.gravity);
}

Flow<> Plumbing::full_flow(const Overflow& o, Length<> up, Length<> down) const {
  if (o.blocked || !o.back) return none();
  const auto short_of = [&](double q) {
    return (standpipe_level(o, Flow<>(q), down) + sleeve_loss(o, Flow<>(q)) - up).si();
  };
  return short_of(0.0) >= 0.0 ? none() : Flow<>(numerics::bracketed_root(short_of, 0.0, 1.0, 1e-14));
}

/// All passages; or, given the flows at other levels, only those that touch one vessel.
void Plumbing::by_gravity(std::span<const Length<>> levels, const Setting& setting, Flows& f, int touching,
                          const Flows* others) const {
  const auto fill = [&](std::vector<Flow<>> Flows::*part, const auto& list, auto law) {
    std::vector<Flow<>>& out = f.*part;
    out.resize(list.size());
    for (std::size_t i = 0; i < list.size(); ++i)
      if (others && list[i].from != touching && list[i].to != touching)
        out[i] = (others->*part)[i];
      else
        out[i] = list[i].blocked ? none() : law(list[i], i);
  };
  fill(&Flows::overflows, loop_.overflows, [&](const Overflow& o, std::size_t i) {
    const Length<> up = levels[at(o.from)], down = levels[at(o.to)];
    return i < setting.siphoning.size() && setting.siphoning[i] ? full_flow(o, up, down) : overflow_flow(o, up, down);
  });
  fill(&Flows::siphons, loop_.siphons, [&](const Siphon& s, std::size_t i) {
    const Length<> up = levels[at(s.from)], down = levels[at(s.to)];
    const double share = i < setting.share.size() ? setting.share[i] : -1.0;
    if (share >= 0.0) return share * full_flow(i, up, down) + (1.0 - share) * idle_flow(i, up, down);
    return i < setting.primed.size() && setting.primed[i] ? full_flow(i, up, down) : idle_flow(i, up, down);
  });
  fill(&Flows::drain_holes, loop_.drain_holes, [&](const DrainHole& h, std::size_t) {
    const Length<> head = levels[at(h.from)] - std::max(h.level, levels[at(h.to)]);
    return h.count *
           science::drain_hole_flow_soft(head, h.diameter, Number<>(h.coefficient), loop_.laws.gravity, kSoft);
  });
  fill(&Flows::weirs, loop_.weirs, [&](const Weir& w, std::size_t) {
    const double h = (levels[at(w.from)] - w.crest).si(), back = (levels[at(w.to)] - w.crest).si();
    if (h <= 0.0 || back >= h) return none();
    const double free = w.coefficient * w.width.si() * h * std::sqrt(h);
    return Flow<>(back <= 0.0 ? free : free * std::pow(1.0 - std::pow(back / h, 1.5), 0.385));  // Villemonte 1947
  });
  fill(&Flows::returns, loop_.returns,
       [&](const GravityReturn& r, std::size_t i) { return return_flow(i, levels[at(r.from)], levels[at(r.to)]); });
}

void Plumbing::slopes(std::span<const Length<>> levels, const Setting& setting, Work& work,
                      std::span<double> entries) const {
  const std::size_t n = loop_.vessels.size();
  std::fill(entries.begin(), entries.end(), 0.0);
  work.add_slopes(entries);
  // Passages know two levels each: differences of the one flow.
  Flows here, moved;
  std::vector<Length<>> at_nudge(levels.begin(), levels.end());
  by_gravity(levels, setting, here);
  const Length<> nudge(1e-7);
  for (std::size_t v = 0; v < n; ++v) {
    at_nudge[v] = levels[v] + nudge;
    by_gravity(at_nudge, setting, moved, static_cast<int>(v), &here);
    at_nudge[v] = levels[v];
    const auto add = [&](const auto& list, const std::vector<Flow<>>& before, const std::vector<Flow<>>& after) {
      for (std::size_t i = 0; i < list.size(); ++i) {
        const double slope = (after[i] - before[i]).si() / nudge.si();
        entries[v * n + at(list[i].from)] -= slope;
        entries[v * n + at(list[i].to)] += slope;
      }
    };
    add(loop_.overflows, here.overflows, moved.overflows);
    add(loop_.siphons, here.siphons, moved.siphons);
    add(loop_.drain_holes, here.drain_holes, moved.drain_holes);
    add(loop_.weirs, here.weirs, moved.weirs);
    add(loop_.returns, here.returns, moved.returns);
  }
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

}  // namespace leat::model
