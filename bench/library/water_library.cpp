// The project's own moving water behind a C interface: level rates, their slopes and the switches' event functions one
// by one, so that other integrators can follow the very same day; and the project's own run of it beside them.
#include <algorithm>
#include <fstream>
#include <memory>
#include <sstream>

#include "model/flow/water_rates.h"
#include "model/flow/water_run.h"
#include "model/loop/loop.h"

namespace {

using namespace leat;
using namespace leat::model;

std::string slurp(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

/// One loop, and its water as somebody else moves it.
struct Water {
  Loop loop;
  std::unique_ptr<Plumbing> plumbing;
  WaterState state;
  std::unique_ptr<Switches> switches;
  std::unique_ptr<WaterRates> rates;
  std::vector<double> y, d, entries;
  std::vector<Length<>> levels;
  std::vector<WaterEvent> events;

  std::size_t vessels() const { return loop.vessels.size(); }

  void reset() {
    state = water_at_rest(loop);
    state.setting.outside = true;
    switches = std::make_unique<Switches>(*plumbing);
    rates = std::make_unique<WaterRates>(*plumbing, *switches, state);
    const std::size_t size = rates->places().size();
    y.assign(size, 0.0);
    d.assign(size, 0.0);
    entries.assign(size * size, 0.0);
    levels = state.levels;
    events.clear();
  }

  void read(const double* from) {
    std::copy(from, from + vessels(), y.begin());
    for (std::size_t v = 0; v < levels.size(); ++v) levels[v] = Length<>(from[v]);
  }
};

Water& water(void* handle) {
  return *static_cast<Water*>(handle);
}

}  // namespace

extern "C" {

void* leat_water_open(const char* path) {
  auto w = std::make_unique<Water>();
  Problems problems;
  w->loop = make_loop(read_description(slurp(path), path, problems), problems);
  if (!problems.empty()) return nullptr;
  w->plumbing = std::make_unique<Plumbing>(w->loop);
  w->reset();
  return w.release();
}

void leat_water_close(void* handle) {
  delete static_cast<Water*>(handle);
}

/// Vessels, switches, pumps, valves.
void leat_water_sizes(void* handle, int* sizes) {
  const Water& w = water(handle);
  sizes[0] = static_cast<int>(w.vessels());
  sizes[1] = static_cast<int>(w.switches->count());
  sizes[2] = static_cast<int>(w.loop.pumps.size());
  sizes[3] = static_cast<int>(w.loop.valves.size());
}

void leat_water_start(void* handle, double* levels) {
  Water& w = water(handle);
  w.reset();
  for (std::size_t v = 0; v < w.vessels(); ++v) levels[v] = w.state.levels[v].si();
}

int leat_water_rates(void* handle, const double* levels, double* rates) {
  Water& w = water(handle);
  w.read(levels);
  if (!w.rates->rates(w.y, w.d)) return 1;
  std::copy_n(w.d.begin(), w.vessels(), rates);
  return 0;
}

/// The same for `count` rows of levels one after the other; keeps the last rates.
void leat_water_rates_many(void* handle, const double* levels, int count, double* rates) {
  const auto n = static_cast<int>(water(handle).vessels());
  for (int i = 0; i < count; ++i) leat_water_rates(handle, levels + i * n, rates);
}

/// Row by row.
int leat_water_slopes(void* handle, const double* levels, double* slopes) {
  Water& w = water(handle);
  w.read(levels);
  if (!w.rates->rates(w.y, w.d) || !w.rates->slopes(w.y, w.entries)) return 1;
  const std::size_t n = w.vessels(), size = w.y.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j) slopes[i * n + j] = w.entries[j * size + i];
  return 0;
}

/// The event functions: a switch is due while its own is above 0.
void leat_water_due(void* handle, const double* levels, double* due) {
  Water& w = water(handle);
  w.read(levels);
  for (std::size_t i = 0; i < w.switches->count(); ++i) due[i] = w.switches->due(i, w.state, w.levels);
}

void leat_water_rested(void* handle, double* from) {
  const Water& w = water(handle);
  for (std::size_t i = 0; i < w.switches->count(); ++i) from[i] = w.switches->rested(i, w.state);
}

/// Returns what it was, as a number of WaterChange.
int leat_water_flip(void* handle, int i, double at) {
  Water& w = water(handle);
  w.switches->flip(static_cast<std::size_t>(i), w.state, Duration<>(at), w.events);
  return static_cast<int>(w.events.back().what);
}

/// On for, off for, start; on for 0: it has no timer.
void leat_water_timer(void* handle, int pump, double* timer) {
  const auto& schedule = water(handle).loop.pumps[static_cast<std::size_t>(pump)].schedule;
  timer[0] = schedule ? schedule->on_for.si() : 0.0;
  timer[1] = schedule ? schedule->period().si() : 0.0;
  timer[2] = schedule ? schedule->starts_after.si() : 0.0;
}

void leat_water_set_timer(void* handle, int pump, int off, const double* levels) {
  Water& w = water(handle);
  const auto p = static_cast<std::size_t>(pump);
  w.state.timer_off[p] = off != 0;
  w.state.setting.stopped[p] = off || w.state.float_off[p];
  const Pump& it = w.loop.pumps[p];
  if (!off && levels[it.vessel] > it.dry_run_level.si() + 0.005) w.state.setting.tripped[p] = false;
}

/// Lift flow, lift time, drop time, outlets; outlets 0: one of those whose drop depends on a head.
void leat_water_valve(void* handle, int valve, double* numbers) {
  const SequencingValve& v = water(handle).loop.valves[static_cast<std::size_t>(valve)];
  numbers[0] = v.lift_flow.si();
  numbers[1] = v.lift_time.si();
  numbers[2] = v.drop_time.si();
  numbers[3] = v.drop_head || v.stuck ? 0.0 : static_cast<double>(v.outlets.size());
  numbers[4] = v.first;
}

void leat_water_turn(void* handle, int valve, int outlet) {
  water(handle).state.setting.turn[static_cast<std::size_t>(valve)] = outlet;
}

double leat_water_valve_inflow(void* handle, int valve, const double* levels) {
  Water& w = water(handle);
  w.read(levels);
  Flows flows;
  w.rates->flows(w.levels, flows);
  double q = 0.0;
  for (std::size_t i = 0; i < w.loop.pipes.size(); ++i)
    if (w.loop.pipes[i].to.what == End::What::valve && w.loop.pipes[i].to.index == valve) q += flows.pipes[i].si();
  return q;
}

/// A sump with a pump, one pipe from it to the open air over a tank, one plain overflow back: its numbers, for those
/// who write its rates once more. Returns 0 for any other loop.
int leat_water_plain_loop(void* handle, double* out) {
  const Loop& l = water(handle).loop;
  if (l.vessels.size() != 2 || l.pumps.size() != 1 || l.pipes.size() != 1 || l.overflows.size() != 1) return 0;
  const Pump& pump = l.pumps[0];
  const Pipe& pipe = l.pipes[0];
  const Overflow& over = l.overflows[0];
  if (!pump.curve.is_power() || !pump.check_valve || !pipe.outlet_level || over.sleeve || over.back) return 0;
  if (!l.siphons.empty() || !l.drain_holes.empty() || !l.weirs.empty() || !l.returns.empty()) return 0;
  const int sump = pump.vessel, tank = pipe.to.index;
  for (const double number :
       {double(sump), double(tank), l.vessels[static_cast<std::size_t>(sump)].water_area().si(),
        l.vessels[static_cast<std::size_t>(tank)].water_area().si(), pump.curve.shutoff().si(), pump.curve.fall(),
        pump.curve.exponent(), pipe.run.bore.si(), pipe.run.length.si(), pipe.run.roughness.si(),
        pipe.run.minor_losses.si(), pipe.outlet_level->si(), over.rim.si(), over.standpipe_bore.si(),
        over.rim_coefficient, l.laws.gravity.si(), l.laws.viscosity.si()})
    *out++ = number;
  return 1;
}

/// The project's own run from rest. Writes the end's levels, the first `room` events (what, when, then the levels at
/// that time when `with_levels`) and counts; returns whether it reached the end.
int leat_water_run(void* handle, double span, double tolerance, int with_levels, double* end, double* events, int room,
                   long* counts) {
  Water& w = water(handle);
  const std::size_t n = w.vessels(), row = 2 + n;
  std::vector<std::pair<double, std::vector<Length<>>>> ends;
  WaterWatch watch;
  if (with_levels)
    watch = [&](const WaterStep& step) {
      ends.emplace_back(step.to.si(), step.levels(step.to));
      return numerics::Then::go_on;
    };
  WaterPlan plan;
  plan.span = Duration<>(span);
  plan.tolerance = tolerance;
  const WaterRun run = run_water(*w.plumbing, water_at_rest(w.loop), plan, watch);
  if (!run.finished) return 0;
  for (std::size_t v = 0; v < n; ++v) end[v] = run.end.levels[v].si();
  counts[0] = run.steps;
  counts[1] = static_cast<long>(run.events.size());
  for (std::size_t e = 0; e < run.events.size() && e < static_cast<std::size_t>(room); ++e) {
    events[e * row] = static_cast<double>(run.events[e].what);
    events[e * row + 1] = run.events[e].at.si();
    for (const auto& [at, levels] : ends)
      if (at == run.events[e].at.si())
        for (std::size_t v = 0; v < n; ++v) events[e * row + 2 + v] = levels[v].si();
  }
  return 1;
}

}  // extern "C"
