#include "model/flow/switches.h"

#include <algorithm>

#include "science/hydraulics/rim_flow.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}
constexpr double kNever = -1.0;
const Length<> kFoot(2e-3);  ///< a sleeve lets air in when this little water stands above the floor

bool can_siphon(const Overflow& o) {
  return !o.vented && o.sleeve && o.back && !o.blocked;
}

}  // namespace

Switches::Switches(const Plumbing& plumbing) : plumbing_(plumbing), loop_(plumbing.loop()) {
  for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
    if (loop_.vessels[at(loop_.pumps[p].vessel)].held_level) continue;
    all_.push_back({Kind::dry, p});
    if (loop_.pumps[p].float_on) all_.push_back({Kind::floating, p});
  }
  for (std::size_t s = 0; s < loop_.siphons.size(); ++s)
    if (!loop_.siphons[s].blocked) all_.push_back({Kind::siphon, s});
  for (std::size_t o = 0; o < loop_.overflows.size(); ++o)
    if (can_siphon(loop_.overflows[o])) all_.push_back({Kind::overflow, o});
  for (std::size_t i = 0; i < loop_.pipes.size(); ++i)
    if (loop_.pipes[i].to.what == End::What::vessel && loop_.pipes[i].outlet_level) all_.push_back({Kind::end, i});
}

bool Switches::is_on(const One& one, const WaterState& state) const {
  switch (one.kind) {
    case Kind::dry:
      return state.setting.tripped[one.index];
    case Kind::floating:
      return !state.float_off[one.index];
    case Kind::siphon:
      return state.setting.primed[one.index];
    case Kind::overflow:
      return state.setting.siphoning[one.index];
    case Kind::end:
      return state.setting.drowned[one.index];
  }
  return false;
}

double Switches::rested(std::size_t i, const WaterState& state) const {
  return all_[i].last + (all_[i].kind == Kind::dry || is_on(all_[i], state) ? 0.0 : kDwell);
}

double Switches::due(std::size_t i, const WaterState& state, std::span<const Length<>> levels) const {
  const One& one = all_[i];
  if (one.hunting) return kNever;
  const bool on = is_on(one, state);
  switch (one.kind) {
    case Kind::dry: {
      const Pump& pump = loop_.pumps[one.index];
      const bool runs = state.setting.power && pump.on && !state.setting.stopped[one.index];
      return on || !runs ? kNever : (pump.dry_run_level - levels[at(pump.vessel)]).si();
    }
    case Kind::floating: {
      const Pump& pump = loop_.pumps[one.index];
      const Length<> level = levels[at(pump.vessel)];
      return on ? (*pump.float_off - level).si() : (level - *pump.float_on).si();
    }
    case Kind::siphon: {
      const Siphon& s = loop_.siphons[one.index];
      if (on) return (s.break_level - plumbing_.level_before(one.index, levels[at(s.from)], levels[at(s.to)])).si();
      return (plumbing_.idle_flow(one.index, levels[at(s.from)], levels[at(s.to)]) / plumbing_.priming_flow(s)).si() -
             1.0;
    }
    case Kind::overflow: {
      const Overflow& o = loop_.overflows[one.index];
      const Length<> up = levels[at(o.from)];
      if (on) return (loop_.vessels[at(o.from)].floor + kFoot - up).si();
      if (up <= o.rim) return kNever;
      const Flow<> over = science::standpipe_rim_flow(up - o.rim, o.standpipe_bore);
      return (over / plumbing_.priming_flow(o)).si() - 1.0;
    }
    case Kind::end: {
      const Pipe& pipe = loop_.pipes[one.index];
      const double under = (levels[at(pipe.to.index)] - *pipe.outlet_level).si();
      return on ? -under : under;
    }
  }
  return kNever;
}

WaterEvent Switches::toggle(const One& one, WaterState& state, Duration<> when) const {
  const std::size_t i = one.index;
  const bool on = is_on(one, state);
  switch (one.kind) {
    case Kind::dry:
      state.setting.tripped[i] = true;
      return {WaterChange::pump_runs_dry, when, loop_.pumps[i].path};
    case Kind::floating:
      state.float_off[i] = on;
      state.setting.stopped[i] = state.float_off[i] || state.timer_off[i];
      return {on ? WaterChange::pump_stops : WaterChange::pump_starts, when, loop_.pumps[i].path};
    case Kind::siphon:
      state.setting.primed[i] = !on;
      return {on ? WaterChange::siphon_breaks : WaterChange::siphon_primes, when, loop_.siphons[i].path};
    case Kind::overflow:
      state.setting.siphoning[i] = !on;
      return {on ? WaterChange::overflow_breaks : WaterChange::overflow_siphons, when, loop_.overflows[i].path};
    case Kind::end:
      state.setting.drowned[i] = !on;
      return {on ? WaterChange::end_draws_air : WaterChange::end_drowns, when, loop_.pipes[i].path};
  }
  return {};
}

void Switches::hunt(One& one, WaterState& state) const {
  one.hunting = true;
  if (one.kind == Kind::end) state.setting.slurping[one.index] = state.setting.drowned[one.index] = true;
  if (one.kind == Kind::floating) {
    state.float_off[one.index] = false;
    state.setting.stopped[one.index] = state.timer_off[one.index];
  }
}

void Switches::flip(std::size_t i, WaterState& state, Duration<> when, std::vector<WaterEvent>& events) {
  One& one = all_[i];
  events.push_back(toggle(one, state, when));
  one.last = when.si();
  std::erase_if(one.recent, [&](double t) { return t < when.si() - kWindow; });
  one.recent.push_back(when.si());
  if (one.recent.size() <= kTooOften) return;
  hunt(one, state);
  events.push_back({WaterChange::hunts, when, events.back().path});
}

void Switches::shares(std::span<const Length<>> levels, Setting& setting) const {
  const auto ramp = [](Length<> level, Length<> none, Length<> all) {
    return std::clamp(((level - none) / (all - none)).si(), 0.0, 1.0);
  };
  for (const One& one : all_) {
    if (!one.hunting) continue;
    if (one.kind == Kind::siphon) {
      const Siphon& s = loop_.siphons[one.index];
      setting.share[one.index] = ramp(levels[at(s.from)], s.break_level, plumbing_.priming_level(s));
    } else if (one.kind == Kind::floating) {
      const Pump& p = loop_.pumps[one.index];
      setting.running[one.index] = ramp(levels[at(p.vessel)], *p.float_off, *p.float_on);
    }
  }
}

}  // namespace leat::model
