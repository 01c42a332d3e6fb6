#include "model/flow/water_run.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/flow/water_rates.h"
#include "numerics/root.h"

namespace leat::model {
namespace {

using numerics::Then;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}
constexpr double kFlowing = 1e-6;  ///< m3/s through a sequencing valve below which it counts as still

constexpr double kSliver = 1e-6;  ///< s; what comes so shortly before the end of a run comes at its end

const Length<> kUnder(2e-7);  ///< by which a step may pass under a floor

class Runner {
  const Plumbing& plumbing_;
  const Loop& loop_;
  const WaterPlan& plan_;
  const WaterWatch& watch_;
  WaterState state_;
  Switches switches_;
  WaterRates rates_, watched_;  ///< the second for those who watch, so that their questions move no bit of the run
  const WaterPlaces& places_;
  std::vector<double> y_;
  double clock0_, t_ = 0.0;
  WaterRun out_;

  // ---- timers and power

  double next_edge(const Pump& pump) const {
    if (!pump.schedule) return std::numeric_limits<double>::infinity();
    const double period = pump.schedule->period().si(), on = pump.schedule->on_for.si();
    double phase = std::fmod(clock0_ + t_ - pump.schedule->starts_after.si(), period);
    if (phase < 0.0) phase += period;
    if (period - phase < 1e-6) phase = 0.0;
    const double edge = phase < on - 1e-6 ? on : period;
    return t_ + edge - phase;
  }

  bool timer_is_off(const Pump& pump) const {
    if (!pump.schedule) return false;
    const double period = pump.schedule->period().si(), since = clock0_ + t_ - pump.schedule->starts_after.si();
    if (since < -1e-6) return true;
    return std::fmod(since + 1e-6, period) >= pump.schedule->on_for.si();
  }

  void note(WaterChange what, const std::string& path, int detail = 0) {
    out_.events.push_back({what, Duration<>(t_), path, detail});
  }

  void set_timers(bool silent) {
    for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
      const Pump& pump = loop_.pumps[p];
      const bool off = timer_is_off(pump);
      if (off == state_.timer_off[p]) continue;
      state_.timer_off[p] = off;
      state_.setting.stopped[p] = off || state_.float_off[p];
      if (!off) rearm(p);
      if (!silent) note(off ? WaterChange::pump_stops : WaterChange::pump_starts, pump.path);
    }
  }

  /// A pump that ran dry tries again at its next start.
  void rearm(std::size_t p) {
    const Pump& pump = loop_.pumps[p];
    if (y_[at(pump.vessel)] > pump.dry_run_level.si() + 0.005) state_.setting.tripped[p] = false;
  }

  void change_power(bool on) {
    state_.setting.power = on;
    note(on ? WaterChange::power_returns : WaterChange::power_fails, "power");
    for (std::size_t p = 0; p < loop_.pumps.size(); ++p)
      if (on) rearm(p);
  }

  // ---- sequencing valves

  double inflow(std::size_t v, const Flows& flows) const {
    double q = 0.0;
    for (std::size_t i = 0; i < loop_.pipes.size(); ++i)
      if (loop_.pipes[i].to.what == End::What::valve && at(loop_.pipes[i].to.index) == v) q += flows.pipes[i].si();
    return q;
  }

  bool disc_falls(const SequencingValve& valve, std::size_t turn) const {
    if (!valve.drop_head || !valve.level) return true;
    const Pipe& open = loop_.pipes[at(valve.outlets[turn])];
    const Length<> standing = open.outlet_level.value_or(open.highest);
    return standing - *valve.level <= *valve.drop_head;
  }

  /// Starts and stops of the flow through each valve; true if one has turned.
  bool turn_valves() {
    if (loop_.valves.empty()) return false;
    std::vector<Length<>> levels;
    for (std::size_t v = 0; v < places_.vessels; ++v) levels.emplace_back(y_[v]);
    Flows flows;
    rates_.flows(levels, flows);
    bool turned = false;
    for (std::size_t v = 0; v < loop_.valves.size(); ++v) {
      const SequencingValve& valve = loop_.valves[v];
      ValveMemory& memory = state_.valves[v];
      const bool flows_now = inflow(v, flows) > kFlowing;
      if (flows_now == memory.flowing) continue;
      memory.flowing = flows_now;
      const double clock = clock0_ + t_;
      if (!flows_now) {
        memory.lifted = memory.lifted_for > 0.0 && memory.lifted_for >= valve.lift_time.si();
        memory.stopped_at = clock;
        memory.lifted_for = 0.0;
        continue;
      }
      if (memory.stopped_at < -1e200) continue;  // its very first start
      int& turn = state_.setting.turn[v];
      const bool falls = clock - memory.stopped_at >= valve.drop_time.si() && disc_falls(valve, at(turn));
      const bool moves = memory.lifted && falls && !valve.stuck;
      if (moves) turn = (turn + 1) % static_cast<int>(valve.outlets.size());
      note(moves ? WaterChange::valve_turns : WaterChange::valve_stays, valve.path, turn);
      turned = turned || moves;
    }
    return turned;
  }

  void lift_valves(const WaterStep& step) {
    if (loop_.valves.empty()) return;
    Flows flows;
    rates_.flows(step.levels(step.to), flows);
    for (std::size_t v = 0; v < loop_.valves.size(); ++v)
      if (inflow(v, flows) >= loop_.valves[v].lift_flow.si()) state_.valves[v].lifted_for += (step.to - step.from).si();
  }

  // ---- one stretch

  class Stretch final : public WaterStep {
    Runner& runner_;
    const numerics::Step& step_;
    mutable std::vector<double> y_;
    mutable std::vector<Length<>> levels_;
    mutable Flows flows_;
    mutable double flows_at_ = -1.0;

   public:
    Stretch(Runner& runner, const numerics::Step& step, double end) : runner_(runner), step_(step) {
      y_.resize(runner.places_.size());
      levels_.resize(runner.places_.vessels);
      from = Duration<>(step.from);
      to = Duration<>(end);
      setting = &runner.state_.setting;
    }
    const std::vector<Length<>>& levels(Duration<> when) const override {
      step_.at(when.si(), y_);
      for (std::size_t v = 0; v < levels_.size(); ++v) levels_[v] = Length<>(y_[v]);
      return levels_;
    }
    const Flows& flows(Duration<> when) const override {
      if (when.si() != flows_at_) runner_.watched_.flows(levels(when), flows_);
      flows_at_ = when.si();
      return flows_;
    }
  };

  /// The switch that flips first within a step, and when.
  std::pair<std::size_t, double> first_flip(const Stretch& whole) {
    std::size_t which = switches_.count();
    double when = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < switches_.count(); ++i) {
      const double begin = std::max(whole.from.si(), switches_.rested(i, state_));
      const double end = std::min(whole.to.si(), when);
      if (begin > end) continue;
      const auto due = [&](double t) { return switches_.due(i, state_, whole.levels(Duration<>(t))); };
      if (due(end) <= 0.0) continue;
      const double flips = due(begin) > 0.0 ? begin : numerics::bracketed_root(due, begin, end, 1e-7);
      if (flips < when) {
        when = flips;
        which = i;
      }
    }
    return {which, when};
  }

  /// A vessel that runs empty does so ever more slowly; a step that overlooks it would end under the floor.
  bool is_under_floor(const Stretch& s, double until) const {
    const std::vector<Length<>> before = s.levels(s.from);
    for (const double when : {0.5 * (s.from.si() + until), until}) {
      const auto& levels = s.levels(Duration<>(when));
      for (std::size_t v = 0; v < levels.size(); ++v)
        if (levels[v] < std::min(loop_.vessels[v].floor - kUnder, before[v] - 0.05 * kUnder)) return true;
    }
    return false;
  }

  void see_marks(const Stretch& s) {
    for (const double share : {0.0, 0.5, 1.0}) {
      const Duration<> when = s.from + share * (s.to - s.from);
      const auto& levels = s.levels(when);
      for (std::size_t v = 0; v < levels.size(); ++v) {
        LevelMarks& m = out_.marks[v];
        if (levels[v] < m.low) m.low = levels[v], m.low_at = when;
        if (levels[v] > m.high) m.high = levels[v], m.high_at = when;
      }
    }
  }

  void see_spills(const Stretch& s) {
    if (!plan_.outside) return;
    const std::vector<Length<>> before = s.levels(s.from);
    const std::vector<Length<>> after = s.levels(s.to);
    for (std::size_t v = 0; v < before.size(); ++v) {
      const Length<> rim = loop_.vessels[v].rim;
      if ((before[v] > rim) == (after[v] > rim)) continue;
      const double when = numerics::bracketed_root([&](double t) { return (s.levels(Duration<>(t))[v] - rim).si(); },
                                                   s.from.si(), s.to.si(), 1e-6);
      out_.events.push_back({after[v] > rim ? WaterChange::spill_begins : WaterChange::spill_ends, Duration<>(when),
                             loop_.vessels[v].path, 0});
    }
  }

  Then observe(const Stretch& s) {
    see_marks(s);
    see_spills(s);
    lift_valves(s);
    return watch_ ? watch_(s) : Then::go_on;
  }

  void begin() {
    y_.assign(places_.size(), 0.0);
    for (std::size_t v = 0; v < places_.vessels; ++v) {
      y_[v] = state_.levels[v].si();
      out_.marks.push_back({state_.levels[v], state_.levels[v], {}, {}});
    }
    state_.setting.outside = plan_.outside;
    state_.setting.evaporation = plan_.evaporation;
    set_timers(true);
    turn_valves();
  }

  double next_stop(std::size_t power_changes) const {
    double stop = plan_.span.si();
    for (const Pump& pump : loop_.pumps) stop = std::min(stop, next_edge(pump));
    if (power_changes < plan_.power.size()) stop = std::min(stop, plan_.power[power_changes].at.si());
    return plan_.span.si() - stop < kSliver ? plan_.span.si() : stop;
  }

  void finish() {
    state_.clock = clock0_ + t_;
    for (std::size_t v = 0; v < places_.vessels; ++v) {
      state_.levels[v] = Length<>(y_[v]);
      out_.spilled.emplace_back(y_[places_.spill(v)]);
      out_.into_held.emplace_back(y_[places_.held(v)]);
    }
    out_.topped_up = Volume<>(y_[places_.top_up()]);
    out_.evaporated = Volume<>(y_[places_.evaporated()]);
    out_.reached = Duration<>(t_);
    out_.end = state_;
  }

 public:
  Runner(const Plumbing& plumbing, WaterState start, const WaterPlan& plan, const WaterWatch& watch)
      : plumbing_(plumbing),
        loop_(plumbing.loop()),
        plan_(plan),
        watch_(watch),
        state_(std::move(start)),
        switches_(plumbing),
        rates_(plumbing, switches_, state_),
        watched_(plumbing, switches_, state_),
        places_(rates_.places()),
        clock0_(state_.clock) {}

  WaterRun run() {
    numerics::System system{
        places_.size(),
        [this](double, std::span<const double> y, std::span<double> d) { return rates_.rates(y, d); },
        [this](double, std::span<const double> y, std::span<double> j) { return rates_.slopes(y, j); },
        {}};
    system.followers = places_.size() - places_.vessels;
    numerics::Tolerance tolerance{0.0, std::vector<double>(places_.size(), plan_.tolerance)};
    for (std::size_t i = places_.vessels; i < places_.size(); ++i) tolerance.absolute[i] = 1e3;
    const auto integrator = numerics::make_rosenbrock_integrator(std::move(system), tolerance, 3600.0);
    const Volume<> before = water_in(loop_, state_.levels);
    begin();
    std::size_t power_changes = 0;
    std::size_t seen = out_.events.size();
    bool ended = false;
    while (t_ < plan_.span.si() && !ended) {
      const double stop = next_stop(power_changes);
      std::size_t flipping = switches_.count();
      integrator->start(t_, y_);
      const auto done = integrator->advance(stop, [&](const numerics::Step& step) {
        Stretch whole(*this, step, step.to);
        const auto [which, when] = first_flip(whole);
        if (is_under_floor(whole, std::min(when, step.to))) return Then::shorter;
        if (which == switches_.count()) {
          ended = observe(whole) == Then::stop;
          return ended ? Then::stop : Then::go_on;
        }
        Stretch part(*this, step, when);
        ended = observe(part) == Then::stop;
        step.at(when, y_);
        t_ = when;
        flipping = which;
        return Then::stop;
      });
      if (!done.reached && !done.stopped) {
        out_.said = "the levels could not be followed: " + done.said;
        t_ = done.time;
        break;
      }
      if (flipping == switches_.count()) {
        y_.assign(integrator->state().begin(), integrator->state().end());
        t_ = done.time;
        while (power_changes < plan_.power.size() && plan_.power[power_changes].at.si() <= t_ + 1e-9)
          change_power(plan_.power[power_changes++].on);
        set_timers(false);
      } else {
        switches_.flip(flipping, state_, Duration<>(t_), out_.events);
      }
      turn_valves();
      for (; seen < out_.events.size(); ++seen) ended = ended || (plan_.until && plan_.until(out_.events[seen]));
    }
    out_.finished = out_.said.empty();
    out_.steps = integrator->counts().steps;
    finish();
    Volume<> left = out_.evaporated;
    for (std::size_t v = 0; v < places_.vessels; ++v) left += out_.spilled[v] + out_.into_held[v];
    out_.missing = before - water_in(loop_, out_.end.levels) - left + out_.topped_up;
    return std::move(out_);
  }
};

}  // namespace

WaterRun run_water(const Plumbing& plumbing, WaterState start, const WaterPlan& plan, const WaterWatch& watch) {
  return Runner(plumbing, std::move(start), plan, watch).run();
}

}  // namespace leat::model
