// Pulsed water: what whole cycles say, beside each switch followed at its moment.
#include "model/flow/pulses.h"

#include <gtest/gtest.h>

#include <cmath>

#include "answers/ahead.h"
#include "answers/running_water.h"
#include "model/simulate/pulsing.h"
#include "model/simulate/simulate.h"
#include "tests/loop_file.h"

namespace leat::model {
namespace {

const CivilDate kFirst{2015, 4, 10};

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// The first example with its pump on a timer.
Loop on_timer(const std::string& on, const std::string& off) {
  std::string text = tests::slurp(std::string(LEAT_ROOT) + "/examples/first-loop/loop.toml");
  const std::string valve = "check_valve = true\n";
  text.replace(text.find(valve), valve.size(), valve + "on_for = \"" + on + "\"\noff_for = \"" + off + "\"\n");
  Problems problems;
  Loop loop = make_loop(read_description(text, "timer.toml", problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

Weather weather_of(const Loop& loop, int days) {
  Problems problems;
  WeatherSources sources;
  sources.daily = read_daily_record(
      tests::slurp(std::string(LEAT_ROOT) + "/examples/weather/seattle-daily-2012-2015.csv"), "seattle", "", problems);
  return assemble_weather(loop.site.place, sources, kFirst, days);
}

/// A loop with pulsed water and all that it is run with.
struct Stage {
  Loop loop;
  Weather weather;
  Plumbing plumbing{loop};
  Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  Settled running = mean_water(loop, cycle);
  Pulses pulses = pulses_of(plumbing, cycle);
  Forcing forcing{loop.site, weather};

  Stage(const std::string& on, const std::string& off, int days)
      : loop(on_timer(on, off)), weather(weather_of(loop, days)) {}
  Instant start() const { return loop.site.place.clock.instant({kFirst, 0.0}); }
};

/// Means over each hour of what a body's water holds, (thing, hour, body).
using Means = std::array<std::vector<std::vector<double>>, Contents<>::size>;

/// A run of its own, without `simulate`: the reference integrator, a meal at the start and every 12 h, means by
/// quadrature over its steps.
class Hourly {
  const Stage& stage_;
  const Equations& equations_;
  Pulsing pulsing_;
  std::vector<double> y_ = equations_.initial_state(), guess_ = equations_.neutral_guesses(), sum_, now_;
  Scratch<double> work_ = equations_.scratch<double>();
  Scratch<JacobianDual> dual_ = equations_.scratch<JacobianDual>();
  std::vector<JacobianDual> room_;

  bool slopes(double t, std::span<const double> y, std::span<double> entries) {
    return equations_.jacobian({stage_.start().seconds + t}, y, guess_, dual_, room_, entries);
  }
  numerics::System system() {
    return {equations_.layout().size(),
            [this](double t, std::span<const double> y, std::span<double> d) {
              return equations_.rates<double>({stage_.start().seconds + t}, y, guess_, work_, d);
            },
            [this](double t, std::span<const double> y, std::span<double> entries) {
              if (!slopes(t, y, entries)) return false;
              if (work_.map) work_.map->add_slopes(entries);
              return true;
            },
            equations_.pattern()};
  }
  bool pulse(double t) {
    for (std::size_t b = 0; b < guess_.size(); ++b) {
      work_.bodies[b] = equations_.body(b, y_, guess_[b]);
      guess_[b] = work_.bodies[b].pH.si();
      work_.air[b] = gas_equilibrium(work_.bodies[b].temperature, equations_.forcing().pressure);
    }
    const bool jumps =
        pulsing_.arrive(t, work_.bodies, work_.air, [&](std::span<double> entries) { return slopes(t, y_, entries); });
    EXPECT_EQ(pulsing_.said(), "");
    pulsing_.run_in(work_);
    pulsing_.run_in(dual_);
    return jumps;
  }
  void feed() {
    for (const FishSlots& f : equations_.layout().fish) y_[at(f.gut[0])] += 0.03;
  }
  void add(const numerics::Step& step) {
    const double h = step.to - step.from, reach = 0.5 * std::sqrt(0.6);
    for (const auto& [where, weight] : {std::pair{0.5 - reach, 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + reach, 5.0 / 18}}) {
      step.at(step.from + where * h, now_);
      for (const BodySlots& b : equations_.layout().bodies)
        for (std::size_t i = 0; i < Contents<>::size; ++i)
          sum_[at(b.carried) + i] += weight * h * now_[at(b.carried) + i] / now_[at(b.water)];
    }
  }

 public:
  long steps = 0;

  Hourly(const Stage& stage, const Equations& equations)
      : stage_(stage), equations_(equations), pulsing_(equations, &stage.pulses) {
    sum_.assign(y_.size(), 0.0);
    now_ = sum_;
  }

  Means run(int hours) {
    Means means;
    std::set<double> stops;
    for (int h = 1; h <= hours; ++h) stops.insert(3600.0 * h);
    pulsing_.add_stops(3600.0 * hours, stops);
    const auto integrator = numerics::make_bdf_integrator(system(), tolerance(equations_.layout(), 1e-6));
    feed();
    pulse(0.0);
    integrator->start(0.0, y_);
    for (const double stop : stops) {
      EXPECT_TRUE(integrator
                      ->advance(stop,
                                [&](const numerics::Step& step) {
                                  add(step);
                                  return numerics::Then::go_on;
                                })
                      .reached);
      std::copy(integrator->state().begin(), integrator->state().end(), y_.begin());
      bool jumps = false;
      if (std::fmod(stop, 3600.0) == 0.0) {
        for (std::size_t i = 0; i < means.size(); ++i) {
          means[i].emplace_back();
          for (const BodySlots& b : equations_.layout().bodies)
            means[i].back().push_back(sum_[at(b.carried) + i] / 3600.0);
        }
        std::fill(sum_.begin(), sum_.end(), 0.0);
        if (jumps = std::fmod(stop, 12 * 3600.0) == 0.0; jumps) feed();
      }
      if (pulse(stop) || jumps) integrator->start(stop, y_);
    }
    steps = integrator->counts().steps;
    return means;
  }
};

double worst(const Means& a, const Means& b, std::size_t thing, std::size_t body) {
  double most = 0.0;
  for (std::size_t h = 6; h < a[thing].size(); ++h)
    most = std::max(most, std::abs(a[thing][h][body] / b[thing][h][body] - 1.0));
  return most;
}

constexpr std::size_t kOxygen = 0, kAmmonia = 2, kNitrite = 3;

/// A quarter of an hour on, three off. Vessels: tank, raft bed, two gravel beds, sump. In the gravel next to nothing is
/// left of ammonia (0.01 mg/L as N), and how fast it goes changes with pH within the cycle, which no linear map sees.
TEST(Pulses, ByWholeCyclesAreRightWhereMeanFlowsAreNot) {
  const Stage stage("15 min", "45 min", 2);
  ASSERT_EQ(why_not_by_cycles(stage.loop, stage.pulses), "");
  const Equations plain(stage.loop, stage.plumbing, stage.running, stage.forcing),
      cycles(stage.loop, stage.plumbing, stage.running, stage.forcing, stage.pulses, Pulsed::by_cycles),
      resolved(stage.loop, stage.plumbing, stage.running, stage.forcing, stage.pulses, Pulsed::resolved);
  Hourly by_mean(stage, plain), by_cycles(stage, cycles), by_switches(stage, resolved);
  const Means m = by_mean.run(30), c = by_cycles.run(30), r = by_switches.run(30);
  for (const std::size_t body : {0, 1, 4}) {
    EXPECT_LT(worst(c, r, kOxygen, body), 0.02) << body;
    EXPECT_LT(worst(c, r, kAmmonia, body), 0.02) << body;
    EXPECT_LT(worst(c, r, kNitrite, body), 0.02) << body;
  }
  for (const std::size_t bed : {2, 3}) {
    EXPECT_LT(worst(c, r, kOxygen, bed), 0.02) << bed;
    EXPECT_LT(worst(c, r, kAmmonia, bed), 0.06) << bed;
  }
  EXPECT_GT(worst(m, r, kAmmonia, 0), 0.06);
  EXPECT_GT(worst(m, r, kAmmonia, 4), 0.12);
  EXPECT_LT(by_cycles.steps, by_switches.steps / 5);
}

/// Both ways of a run close their books, and find the same lowest oxygen of a day in the tank.
TEST(Pulses, CloseTheirBooksAndAgreeOnTheLowestOxygen) {
  const Stage stage("15 min", "45 min", 2);
  std::array<Trajectory, 2> runs;
  for (const Pulsed how : {Pulsed::by_cycles, Pulsed::resolved}) {
    const Equations equations(stage.loop, stage.plumbing, stage.running, stage.forcing, stage.pulses, how);
    RunOptions options;
    options.pulses = &stage.pulses;
    Trajectory& run = runs[how == Pulsed::resolved];
    run = simulate(stage.loop, equations, stage.start(), {stage.start().seconds + 2 * 86400.0}, options);
    ASSERT_TRUE(run.finished) << run.said;
    EXPECT_EQ(run.not_by_cycles, "");
    for (std::size_t l = 0; l < kLedgers.size(); ++l)
      EXPECT_LT(std::abs(run.books.closure[l]), 1e-9) << ledger_name(kLedgers[l]);
  }
  const auto lowest = [&](const Trajectory& run) { return run.days[1].bodies[0].oxygen.low; };
  EXPECT_NEAR(lowest(runs[0]) / lowest(runs[1]), 1.0, 0.01);
}

TEST(Pulses, StretchesFillTheCycleAndBringBackWhatTheyTake) {
  const Stage stage("15 min", "45 min", 1);
  double before = 0.0;
  for (const Stretch& s : stage.pulses.stretches) {
    EXPECT_EQ(s.from, before);
    EXPECT_GT(s.to, s.from);
    before = s.to;
  }
  EXPECT_NEAR(before, 3600.0, 1e-6);
  std::vector<double> net(stage.loop.vessels.size(), 0.0);
  for (const FlowPath& p : stage.pulses.paths) net[at(p.from)] -= p.flow.si(), net[at(p.to)] += p.flow.si();
  for (const double q : net) EXPECT_LT(std::abs(q) * 3600.0, 2e-3);  // m3 in a cycle
  EXPECT_EQ(stage.pulses.at(0.5), 0u);
  EXPECT_EQ(stage.pulses.at(3600.5), 0u);
  EXPECT_EQ(stage.pulses.at(-1.0), stage.pulses.stretches.size() - 1);
}

/// Members run by mean flows, so without being moved none of them would reach down to the run that they surround.
TEST(Pulses, BandsSurroundTheRunThatTheyBelongTo) {
  const Loop loop = on_timer("15 min", "45 min");
  answers::AheadRequest request{kFirst, 3};
  request.members = 40;
  const answers::AheadAnswer a = answers::ahead(loop, weather_of(loop, 3), request);
  ASSERT_TRUE(a.bands);
  for (std::size_t d = 0; d < 3; ++d) {
    const answers::VesselDay& day = a.vessels[0].days[d];
    const answers::TankBands& tank = a.bands->tanks[0];
    EXPECT_LT(tank.oxygen_low[d].low, day.oxygen_low.value);
    EXPECT_GT(tank.oxygen_low[d].high, day.oxygen_low.value);
    EXPECT_NEAR(tank.oxygen_low[d].middle, day.oxygen_low.value, 0.02);  // mol/m3
    EXPECT_LT(tank.ammonia[d].low, day.ammonia);
    EXPECT_GT(tank.ammonia[d].high, day.ammonia);
  }
}

/// In ten hours of standing water oxygen falls in ways that a whole cycle cannot show: each switch is followed.
TEST(Pulses, LongCyclesAreFollowedSwitchBySwitch) {
  const Loop loop = on_timer("10 h", "14 h");
  const Plumbing plumbing(loop);
  const answers::RunningWater running = answers::running_water(plumbing, 3);
  EXPECT_EQ(running.how, Pulsed::resolved);
  EXPECT_NE(running.not_by_cycles.find("24.0 h"), std::string::npos) << running.not_by_cycles;
  const Loop hourly = on_timer("15 min", "45 min");
  const Plumbing plumbing_hourly(hourly);
  EXPECT_EQ(answers::running_water(plumbing_hourly, 14).how, Pulsed::resolved);
  EXPECT_EQ(answers::running_water(plumbing_hourly, 28).how, Pulsed::by_cycles);
  const answers::AheadAnswer a = answers::ahead(loop, weather_of(loop, 3), {kFirst, 3});
  ASSERT_TRUE(a.finished) << a.said;
  EXPECT_FALSE(a.mean_of_pulses);
  const bool told = std::any_of(a.assumptions.begin(), a.assumptions.end(),
                                [](const Assumption& x) { return x.value == "switch by switch"; });
  EXPECT_TRUE(told);
  EXPECT_GT(a.vessels[2].days[1].oxygen_low.value, 0.0);
  EXPECT_LT(a.vessels[2].days[1].oxygen_low.value, 0.03);  // mol/m3: gravel that nothing flows through
}

/// Beds that flood and drain, and far more stretches than can be followed one by one.
TEST(Pulses, BedsThatFloodAndDrainAreTakenByMeanFlowsAndThatIsSaid) {
  const Loop loop = tests::read_loop("examples/five-beds/loop.toml");
  const Plumbing plumbing(loop);
  const answers::RunningWater running = answers::running_water(plumbing, 14);
  EXPECT_EQ(running.how, Pulsed::mean);
  EXPECT_NE(running.not_by_cycles.find(" within each cycle"), std::string::npos) << running.not_by_cycles;
  const answers::AheadAnswer a = answers::ahead(loop, weather_of(loop, 14), {kFirst, 14, false});
  const bool told = std::any_of(a.assumptions.begin(), a.assumptions.end(), [&](const Assumption& x) {
    return x.value == "by mean flows" && x.reason.find(running.not_by_cycles) != std::string::npos;
  });
  EXPECT_TRUE(told);
}

}  // namespace
}  // namespace leat::model
