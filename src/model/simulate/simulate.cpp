#include "model/simulate/simulate.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "model/simulate/deeds.h"
#include "model/simulate/feeding.h"
#include "model/simulate/member.h"
#include "model/simulate/pulsing.h"
#include "numerics/root.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// One run: the state, the books' opening, and what has been seen so far.
class Run final : public Member {
  const Loop& loop_;
  const Equations& equations_;
  const Layout& layout_;
  Trajectory out_;
  std::vector<double> y_, opening_, guess_;
  Scratch<double> work_ = equations_.scratch<double>();
  Scratch<JacobianDual> dual_work_ = equations_.scratch<JacobianDual>();
  std::vector<JacobianDual> dual_room_;
  std::vector<double> before_, after_, slope_before_, slope_after_, inside_, inside_slope_;
  std::vector<double> entries_;
  bool dense_ = false;
  Instant start_;
  double length_ = 0.0;
  RunOptions options_;
  Doing doing_;
  std::unique_ptr<Pulsing> pulsing_;

  const Clock& clock() const { return loop_.site.place.clock; }

  bool slopes(double t, std::span<const double> y, std::span<double> entries) {
    if (!equations_.jacobian({start_.seconds + t}, y, guess_, dual_work_, dual_room_, entries)) return false;
    if (work_.map) work_.map->add_slopes(entries);
    return true;
  }

  bool jacobian(double t, std::span<const double> y, std::span<double> out) {
    if (!dense_) return slopes(t, y, out);
    const numerics::Pattern& p = equations_.pattern();
    entries_.resize(p.entries());
    if (!slopes(t, y, entries_)) return false;
    std::fill(out.begin(), out.end(), 0.0);
    for (std::size_t j = 0; j < layout_.size(); ++j)
      for (int k = p.starts[j]; k < p.starts[j + 1]; ++k) out[j * layout_.size() + at(p.rows[at(k)])] = entries_[at(k)];
    return true;
  }

  numerics::System system() {
    return {layout_.size(),
            [this](double t, std::span<const double> y, std::span<double> d) {
              return equations_.rates<double>(Instant{start_.seconds + t}, y, guess_, work_, d);
            },
            [this](double t, std::span<const double> y, std::span<double> entries) { return jacobian(t, y, entries); },
            dense_ ? numerics::Pattern{} : equations_.pattern()};
  }

  void refresh_guesses() {
    for (std::size_t b = 0; b < guess_.size(); ++b) guess_[b] = equations_.body(b, y_, guess_[b]).pH.si();
  }

  /// Which water runs from here on. True if the flows jump.
  bool pulse(double t) {
    if (!pulsing_) return false;
    for (std::size_t b = 0; b < guess_.size(); ++b) {
      work_.bodies[b] = equations_.body(b, y_, guess_[b]);
      work_.air[b] = gas_equilibrium(work_.bodies[b].temperature, equations_.forcing().pressure);
    }
    const bool jumps = pulsing_->arrive(t, work_.bodies, work_.air, [&](std::span<double> entries) {
      return equations_.jacobian({start_.seconds + t}, y_, guess_, dual_work_, dual_room_, entries);
    });
    pulsing_->run_in(work_);
    pulsing_->run_in(dual_work_);
    if (work_.map) see_within_cycle({start_.seconds + t});
    return jumps;
  }

  /// Oxygen of a cycle's lowest and highest moment.
  void see_within_cycle(Instant t) {
    if (!equations_.rates<double>(t, y_, guess_, work_, after_)) return;
    const std::vector<CycleMap::Range> oxygen = pulsing_->map()->oxygen(work_.bodies, work_.before_flows);
    Day& day = day_of(t);
    for (std::size_t b = 0; b < oxygen.size(); ++b) {
      day.bodies[b].oxygen.take(std::max(0.0, oxygen[b].low), t);
      day.bodies[b].oxygen.take(oxygen[b].high, t);
    }
  }

  void record_hour(Instant t) {
    out_.hours.push_back(t);
    out_.states.push_back(y_);
    out_.pH.push_back(guess_);
  }

  Day& day_of(Instant t) {
    const CivilDate date = clock().local(t).date;
    if (out_.days.empty() || !(out_.days.back().date == date))
      out_.days.push_back(
          {date, std::vector<BodyDay>(loop_.vessels.size()), std::vector<double>(loop_.fish.size(), 0.0)});
    return out_.days.back();
  }

  /// Value and slope of a body's temperature (which = 0) or oxygen (1) from a state and its rates.
  std::pair<double, double> value_and_slope(std::size_t b, int which, std::span<const double> y,
                                            std::span<const double> dy) const {
    const BodySlots& s = layout_.bodies[b];
    const double stones = which == 0 ? equations_.stones(b).si() : 0.0;
    const double unit = which == 0 ? water_heat.si() : 1.0;
    const int slot = which == 0 ? s.heat : s.oxygen();
    const double capacity = unit * y[at(s.water)] + stones;
    const double per = y[at(slot)] / capacity;
    const double slope = (dy[at(slot)] - per * unit * dy[at(s.water)]) / capacity;
    // The temperature rises with the heat, so its extremes stand where those of the heat do.
    return {which == 0 ? temperature_with_ice(per).celsius() : per, slope};
  }

  /// Extremes inside one step: its two ends, and wherever the slope of its polynomial crosses zero.
  void watch(const numerics::Step& step) {
    step.at(step.to, after_);
    step.slope_at(step.to, slope_after_);
    step.at(step.from, before_);
    step.slope_at(step.from, slope_before_);
    Day& day = day_of({start_.seconds + 0.5 * (step.from + step.to)});
    for (std::size_t b = 0; b < loop_.vessels.size(); ++b)
      for (const int which : {0, 1}) {
        Extremes& e = which == 0 ? day.bodies[b].temperature : day.bodies[b].oxygen;
        const auto [v0, s0] = value_and_slope(b, which, before_, slope_before_);
        const auto [v1, s1] = value_and_slope(b, which, after_, slope_after_);
        e.take(v0, {start_.seconds + step.from});
        e.take(v1, {start_.seconds + step.to});
        if (s0 * s1 >= 0.0) continue;
        const auto slope = [&](double t) {
          step.at(t, inside_);
          step.slope_at(t, inside_slope_);
          return value_and_slope(b, which, inside_, inside_slope_).second;
        };
        const double t = numerics::bracketed_root(slope, step.from, step.to, 1.0);
        step.at(t, inside_);
        e.take(value_and_slope(b, which, inside_, inside_slope_).first, {start_.seconds + t});
      }
  }

  void feed(std::size_t g, Instant t, std::optional<double> given) {
    FishGroup group = doing_.group_now(g);
    if (group.count < 0.5) return;
    const auto meals = static_cast<double>(std::max<std::size_t>(1, group.meals.size()));
    if (given) group.feed = MassRate<>(*given * meals / units::day.si());  // they eat of it what appetite allows
    const BodyState<double> water = equations_.body(at(group.vessel), y_, guess_[at(group.vessel)]);
    const Ration ration = ration_of(group, Mass<>(y_[at(layout_.fish[g].biomass)]), water.temperature, water.oxygen);
    const double offered = ration.a_day.si() / meals;
    const double eaten = offered * ration.eaten_share;
    const FishMatter& m = layout_.matter[g];
    y_[at(layout_.fish[g].gut[0])] += eaten;
    y_[at(layout_.outside.feed_nitrogen)] -= offered * m.feed_nitrogen;
    y_[at(layout_.outside.feed_carbon)] -= offered * m.feed_carbon;
    leave_to_rot(offered - eaten, m, at(group.vessel));
    day_of(t).fed_kg[g] += offered;
    out_.happenings.push_back(
        {t, group.path,
         fmt::format("fed {:.1f} g{}", offered * 1e3,
                     eaten < 0.95 * offered ? fmt::format(", about {:.1f} g eaten", eaten * 1e3) : "")});
  }

  /// Feed that nobody ate lies in the water.
  void leave_to_rot(double feed, const FishMatter& m, std::size_t body) {
    const BodySlots& water = layout_.bodies[body];
    y_[at(water.solids_nitrogen())] += feed * m.feed_nitrogen;
    y_[at(water.solids_carbon())] += feed * m.feed_carbon;
    y_[at(water.solids_phosphorus())] += feed * m.feed_phosphorus;
    y_[at(layout_.outside.feed_minerals)] -= feed * m.feed_phosphorus;
  }

  struct Meal {
    double t;
    std::size_t group;
    std::optional<double> given{};  ///< kg; nothing: by the rule
    bool operator<(const Meal& o) const { return t < o.t; }
  };

  std::vector<Meal> meals_;
  std::size_t next_meal_ = 0;

  std::vector<Meal> meals(Instant to, const RunOptions& options) const {
    std::vector<Meal> all;
    CivilDate date = clock().local(start_).date;
    const Instant by_rule = std::max(start_, options.given_until.value_or(start_));
    for (; clock().instant({date, 0.0}) < to; date = date.plus_days(1))
      for (std::size_t g = 0; g < loop_.fish.size(); ++g)
        for (const double hour : loop_.fish[g].meals)
          if (const Instant t = clock().instant({date, hour}); t >= by_rule && t < to)
            all.push_back({t.seconds - start_.seconds, g});
    for (const Given& g : options.given)
      if (g.when >= start_ && g.when < std::min(to, by_rule) && g.group < loop_.fish.size())
        all.push_back({g.when.seconds - start_.seconds, g.group, g.feed.si()});
    std::stable_sort(all.begin(), all.end());
    return all;
  }

  std::set<double> stops(double length, Hours hours) const {
    std::set<double> all{length};
    for (double t = 3600.0; hours == Hours::stopped_at && t < length; t += 3600.0) all.insert(t);
    CivilDate date = clock().local(start_).date;
    for (;;) {
      date = date.plus_days(1);
      const double t = clock().instant({date, 0.0}).seconds - start_.seconds;
      if (t >= length) break;
      if (t > 0.0) all.insert(t);
    }
    return all;
  }

  /// What is done at midnight. True if the state was changed.
  bool deeds(const RunOptions& options, Instant t) {
    if (!is_midnight(t)) return false;
    const bool cut = options.resow && doing_.harvest(t);
    return (options.hold_alkalinity && doing_.dose_base(*options.hold_alkalinity, t)) || cut;
  }

  bool feed_until(double t) {
    const std::size_t first = next_meal_;
    for (; next_meal_ < meals_.size() && meals_[next_meal_].t <= t; ++next_meal_)
      feed(meals_[next_meal_].group, {start_.seconds + t}, meals_[next_meal_].given);
    return next_meal_ > first;
  }

  bool is_midnight(Instant t) const { return clock().local(t).hour < 1e-6; }

  bool cannot_pulse() const { return pulsing_ && !pulsing_->said().empty(); }

  double least_water(std::size_t b) const {
    return pulsing_ ? pulsing_->least_water(b) : 0.25 * equations_.usual_water(b).si();
  }

  /// A vessel that water leaves and that holds less than a quarter of what is usual: the flows of the settled loop then
  /// no longer stand. Looks at the end of the last step.
  std::optional<std::size_t> runs_low() const {
    for (const FlowPath& p : equations_.paths()) {
      if (p.by_overflow && equations_.pulsed() == Pulsed::resolved)
        continue;  // it lets out in proportion to what it holds
      if (const std::size_t b = at(p.from); after_[at(layout_.bodies[b].water)] < least_water(b)) return b;
    }
    return std::nullopt;
  }

  std::string why_it_stopped(const numerics::Advance& done) const {
    const double days = done.time / 86400.0;
    if (const auto low = done.stopped ? runs_low() : std::nullopt)
      return fmt::format(
          "after {:.2f} days {} holds less than a quarter of its usual {:.0f} L: more leaves it than comes in, so the "
          "flows "
          "of the running loop no longer stand. Give it a [source], or the loop more water",
          days, loop_.vessels[*low].path, equations_.usual_water(*low).si() * 1e3);
    return fmt::format("stopped after {:.2f} days at {}: {}", days, layout_.slots[done.worst].path, done.said);
  }

 public:
  Run(const Loop& loop, const Equations& equations, Instant from)
      : loop_(loop),
        equations_(equations),
        layout_(equations.layout()),
        y_(equations.initial_state()),
        guess_(equations.neutral_guesses()),
        start_(from),
        doing_(loop, equations, from, y_, guess_, out_) {
    for (auto* room : {&before_, &after_, &slope_before_, &slope_after_, &inside_, &inside_slope_})
      room->resize(layout_.size());
    start_as_fed_before(loop_, equations_, y_);
    opening_ = y_;
  }

  std::set<double> begin(Instant to, const RunOptions& options, Hours hours) override {
    options_ = options;
    length_ = to.seconds - start_.seconds;
    refresh_guesses();
    record_hour(start_);
    meals_ = meals(to, options);
    std::set<double> all = stops(length_, hours);
    for (const Meal& meal : meals_)
      if (meal.t > 0.0) all.insert(meal.t);
    for (const double moment : doing_.moments(to))
      if (moment > 0.0) all.insert(moment);
    if (options_.pulses) pulsing_ = std::make_unique<Pulsing>(equations_, options_.pulses);
    if (pulsing_) pulsing_->add_stops(length_, all);
    doing_.due(start_);
    feed_until(0.0);
    pulse(0.0);
    return all;
  }
  std::span<double> state() override { return y_; }
  std::span<const double> guesses() const override { return guess_; }

  bool arrive(double stop, std::span<const double> pH) override {
    pH.empty() ? refresh_guesses() : static_cast<void>(std::copy(pH.begin(), pH.end(), guess_.begin()));
    if (std::fmod(stop, 3600.0) == 0.0) record_hour({start_.seconds + stop});
    if (stop >= length_) return false;
    const bool jumps = pulse(stop);
    const bool at_midnight = deeds(options_, {start_.seconds + stop}), due = doing_.due({start_.seconds + stop});
    return feed_until(stop) || at_midnight || due || jumps;
  }

  void pass(double hour, std::span<const double> pH) override {
    std::copy(pH.begin(), pH.end(), guess_.begin());
    record_hour({start_.seconds + hour});
  }

  bool see(const numerics::Step& step) override {
    watch(step);
    return !runs_low();
  }

  Trajectory end(const numerics::Advance& last, const numerics::Counts& counts) override {
    out_.finished = last.reached;
    if (pulsing_ && out_.not_by_cycles.empty()) out_.not_by_cycles = pulsing_->said();
    if (!last.reached) out_.said = why_it_stopped(last);
    for (std::size_t l = 0; l < kLedgers.size(); ++l)
      out_.books.closure[l] = layout_.closure(kLedgers[l], opening_, y_);
    out_.books.opening = opening_;
    out_.books.closing = y_;
    out_.counts = counts;
    return std::move(out_);
  }

  /// By the reference integrator.
  Trajectory run(Instant to, const RunOptions& options) {
    dense_ = options.dense;
    const std::set<double> all = begin(to, options, Hours::stopped_at);
    if (cannot_pulse()) return end({}, {});
    const numerics::Tolerance allowed = tolerance(layout_, options.relative_tolerance);
    const auto integrator = equations_.pulsed() == Pulsed::resolved
                                ? numerics::make_integrator_by_stretches(system(), allowed)
                                : numerics::make_bdf_integrator(system(), allowed);
    integrator->start(0.0, y_);
    numerics::Advance last;
    for (const double stop : all) {
      last = integrator->advance(stop, [this](const numerics::Step& step) {
        return see(step) ? numerics::Then::go_on : numerics::Then::stop;
      });
      std::copy(integrator->state().begin(), integrator->state().end(), y_.begin());
      if (!last.reached) break;
      if (arrive(stop, {})) integrator->start(stop, y_);
      if (cannot_pulse()) return end({}, integrator->counts());
    }
    return end(last, integrator->counts());
  }
};

}  // namespace

void Extremes::take(double value, Instant when) {
  if (value < low) {
    low = value;
    low_at = when;
  }
  if (value > high) {
    high = value;
    high_at = when;
  }
}

numerics::Tolerance tolerance(const Layout& layout, double relative) {
  numerics::Tolerance t{relative, {}};
  for (const Slot& slot : layout.slots)
    t.absolute.push_back(slot.outside ? 1e30 : slot.small * slot.nominal * relative);
  return t;
}

std::unique_ptr<Member> make_member(const Loop& loop, const Equations& equations, Instant from) {
  return std::make_unique<Run>(loop, equations, from);
}

Trajectory simulate(const Loop& loop, const Equations& equations, Instant from, Instant to, const RunOptions& options) {
  return Run(loop, equations, from).run(to, options);
}

}  // namespace leat::model
