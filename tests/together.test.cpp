// The two integrators, and the two ways to the slopes, on the same equations.
#include "model/simulate/together.h"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>
#include <mutex>
#include <random>

#include "answers/priors.h"
#include "answers/running_water.h"
#include "model/equations/lanes_problem.h"
#include "model/flow/faults.h"
#include "numerics/lanes_integrator.h"
#include "tests/loop_file.h"

namespace leat::model {
namespace {

const CivilDate kFirst{2015, 4, 10};

/// An example under the real Seattle record, with members drawn as an ensemble draws them.
struct Stage {
  Loop loop;
  Weather weather;
  Plumbing plumbing;
  answers::RunningWater running;
  std::vector<answers::Prior> priors;
  std::vector<std::vector<double>> draws;
  Instant from, to;
  RunOptions options;

  Stage(const std::string& example, int days, std::size_t members) : Stage(tests::read_loop(example), days, members) {}
  Stage(const Loop& described, int days, std::size_t members)
      : weather(weather_of(described, days)),
        plumbing((loop = answers::with_water_as_warm_as_the_air(described, weather, kFirst), loop)),
        running(answers::running_water(plumbing)),
        priors(answers::priors_of(loop, weather)),
        draws(answers::stratified_draws(members, priors.size(), 5)),
        from(loop.site.place.clock.instant({kFirst, 0.0})),
        to(loop.site.place.clock.instant({kFirst.plus_days(days), 0.0})) {
    options.resow = true;
    options.hold_alkalinity = 1.5 * loop.limits.alkalinity_low;
  }

  static Weather weather_of(const Loop& loop, int days) {
    Problems problems;
    WeatherSources sources;
    sources.daily =
        read_daily_record(tests::slurp(std::string(LEAT_ROOT) + "/examples/weather/seattle-daily-2012-2015.csv"),
                          "seattle", "", problems);
    return assemble_weather(loop.site.place, sources, kFirst, days);
  }

  MemberInput member(const std::vector<double>& z) const {
    MemberInput m{loop, weather};
    for (std::size_t p = 0; p < priors.size(); ++p) priors[p].apply(z[p], m.loop, m.weather);
    return m;
  }

  std::vector<Trajectory> together(const std::vector<std::vector<double>>& z, std::size_t threads = 0,
                                   std::size_t narrower = 0, double tolerance = together_tolerance) const {
    std::vector<Trajectory> all(z.size());
    TogetherRequest request{
        plumbing,
        running.water,
        from,
        to,
        options,
        z.size(),
        [&](std::size_t m) { return member(z[m]); },
        [&](std::size_t m, const Loop&, const Equations&, const Forcing&, const Trajectory& run) { all[m] = run; }};
    request.threads = threads;
    request.narrower = narrower;
    request.tolerance = tolerance;
    EXPECT_EQ(simulate_together(request), 0u) << "members that had to be run alone";
    return all;
  }

  Trajectory alone(const std::vector<double>& z, double tolerance) const {
    const MemberInput m = member(z);
    const Forcing forcing(m.loop.site, m.weather);
    const Equations equations(m.loop, plumbing, running.water, forcing);
    RunOptions tight = options;
    tight.relative_tolerance = tolerance;
    return simulate(m.loop, equations, from, to, tight);
  }
};

/// Root mean square over all hours and slots, relative with a hundredth of the nominal size.
double apart(const Trajectory& a, const Trajectory& b, const Layout& layout) {
  double sum = 0.0;
  std::size_t count = 0;
  for (std::size_t h = 0; h < a.hours.size(); ++h)
    for (std::size_t i = 0; i < layout.size(); ++i) {
      if (layout.slots[i].outside) continue;
      const double off =
          (a.states[h][i] - b.states[h][i]) / (std::abs(b.states[h][i]) + 0.01 * layout.slots[i].nominal);
      sum += off * off;
      ++count;
    }
  return std::sqrt(sum / static_cast<double>(count));
}

class BothIntegrators : public testing::TestWithParam<const char*> {};

TEST_P(BothIntegrators, AgreeOnEachExampleAndCloseTheBooks) {
  const Stage stage(GetParam(), 4, 3);
  ASSERT_TRUE(stage.running.refused.empty()) << stage.running.refused;
  const std::vector<Trajectory> lanes = stage.together(stage.draws);
  const Forcing forcing(stage.loop.site, stage.weather);
  const Equations equations(stage.loop, stage.plumbing, stage.running.water, forcing);
  for (std::size_t m = 0; m < lanes.size(); ++m) {
    const Trajectory reference = stage.alone(stage.draws[m], 1e-8), usual = stage.alone(stage.draws[m], 1e-5);
    ASSERT_TRUE(lanes[m].finished) << lanes[m].said;
    ASSERT_EQ(lanes[m].hours.size(), reference.hours.size());
    const double error = apart(lanes[m], reference, equations.layout());
    EXPECT_LT(error, 1e-4);
    EXPECT_LT(error, 2.0 * apart(usual, reference, equations.layout()) + 1e-5) << "as good as the usual run";
    for (std::size_t l = 0; l < kLedgers.size(); ++l) {
      EXPECT_LT(std::abs(lanes[m].books.closure[l]), 1e-9) << ledger_name(kLedgers[l]);
      EXPECT_LT(std::abs(reference.books.closure[l]), 1e-9) << ledger_name(kLedgers[l]);
    }
    for (std::size_t d = 0; d < reference.days.size(); ++d)
      for (std::size_t b = 0; b < stage.loop.vessels.size(); ++b) {
        const BodyDay &is = lanes[m].days[d].bodies[b], &should = reference.days[d].bodies[b];
        EXPECT_NEAR(is.temperature.low, should.temperature.low, 0.01) << stage.loop.vessels[b].path;
        EXPECT_NEAR(is.temperature.high, should.temperature.high, 0.01) << stage.loop.vessels[b].path;
        EXPECT_NEAR(is.oxygen.low, should.oxygen.low, 2e-3 * should.oxygen.low + 1e-4) << stage.loop.vessels[b].path;
      }
  }
}

INSTANTIATE_TEST_SUITE_P(Examples, BothIntegrators,
                         testing::Values("examples/smallest/loop.toml", "examples/first-loop/loop.toml",
                                         "examples/five-beds/loop.toml", "examples/twelve/loop.toml"));

/// What is told of a single run: a hundredth of a kelvin, some thousandths of the oxygen.
void expect_as_told(const Stage& stage, const Trajectory& run, const Trajectory& reference, const std::string& of) {
  ASSERT_TRUE(run.finished) << of << ": " << run.said;
  ASSERT_EQ(run.hours.size(), reference.hours.size()) << of;
  for (std::size_t l = 0; l < kLedgers.size(); ++l)
    EXPECT_LT(std::abs(run.books.closure[l]), 1e-9) << of << ": " << ledger_name(kLedgers[l]);
  for (std::size_t d = 0; d < reference.days.size(); ++d)
    for (std::size_t b = 0; b < stage.loop.vessels.size(); ++b) {
      const BodyDay &is = run.days[d].bodies[b], &should = reference.days[d].bodies[b];
      const std::string where = of + ", " + stage.loop.vessels[b].path;
      EXPECT_NEAR(is.temperature.low, should.temperature.low, 0.01) << where;
      EXPECT_NEAR(is.temperature.high, should.temperature.high, 0.01) << where;
      EXPECT_NEAR(is.oxygen.low, should.oxygen.low, 5e-3 * should.oxygen.low + 1e-4) << where;
    }
}

/// One member has no need of lanes; nor has the ninth of nine.
TEST_P(BothIntegrators, AgreeOnARunAlone) {
  const Stage stage(GetParam(), 4, 9);
  const std::vector<Trajectory> nine = stage.together(stage.draws, 0, 0, alone_tolerance);
  expect_as_told(stage, nine.back(), stage.alone(stage.draws.back(), 1e-8), GetParam());
  const Trajectory one = stage.together({stage.draws.back()}, 0, 0, alone_tolerance).front();
  EXPECT_TRUE(one.states == nine.back().states) << "alone is alone";
}

/// Every fault after which the water settles, if only to stand still, so that the life in it can be run on.
TEST_P(BothIntegrators, AgreeOnEachFaultThatLeavesWater) {
  const Loop sound = tests::read_loop(GetParam());
  int ran = 0;
  for (const Fault& fault : possible_faults(sound)) {
    if (fault.kind == Fault::Kind::power_and_valves || fault.kind == Fault::Kind::check_valve) continue;  // see power
    Loop faulty = with_fault(sound, fault).loop;
    if (fault.kind == Fault::Kind::power)
      for (Pump& pump : faulty.pumps) pump.on = false;
    if (!answers::running_water(Plumbing(faulty)).refused.empty()) continue;  // its water goes on draining
    const Stage stage(faulty, 2, 1);
    const std::string of = fmt::format("fault {} of {}", static_cast<int>(fault.kind), fault.path);
    const Trajectory reference = stage.alone(stage.draws.front(), 1e-8);
    if (!reference.finished) continue;  // a vessel runs low
    expect_as_told(stage, stage.together(stage.draws, 0, 0, alone_tolerance).front(), reference, of);
    ++ran;
  }
  fmt::print("# {}: life goes on under {} faults\n", GetParam(), ran);
  EXPECT_GT(ran, 2);
}

void expect_same_bits(const Trajectory& a, const Trajectory& b) {
  EXPECT_TRUE(a.states == b.states);
  EXPECT_TRUE(a.pH == b.pH);
  ASSERT_EQ(a.days.size(), b.days.size());
  for (std::size_t d = 0; d < a.days.size(); ++d)
    for (std::size_t v = 0; v < a.days[d].bodies.size(); ++v) {
      EXPECT_EQ(a.days[d].bodies[v].temperature.low, b.days[d].bodies[v].temperature.low);
      EXPECT_EQ(a.days[d].bodies[v].oxygen.low, b.days[d].bodies[v].oxygen.low);
    }
}

TEST(Together, AMembersNumbersDependNeitherOnThreadsNorOnItsLane) {
  const Stage stage("examples/first-loop/loop.toml", 2, 20);
  const std::vector<Trajectory> one = stage.together(stage.draws, 1), four = stage.together(stage.draws, 4);
  for (std::size_t m = 0; m < one.size(); ++m) expect_same_bits(one[m], four[m]);
  std::vector<std::vector<double>> turned = stage.draws;  // within each pack of eight, and in the last of four
  std::reverse(turned.begin(), turned.begin() + 8);
  std::reverse(turned.begin() + 8, turned.begin() + 16);
  std::reverse(turned.begin() + 16, turned.end());
  const std::vector<Trajectory> other = stage.together(turned);
  for (std::size_t m = 0; m < 20; ++m) {
    const std::size_t there = m < 8 ? 7 - m : m < 16 ? 23 - m : 35 - m;
    expect_same_bits(one[m], other[there]);
  }
}

/// The widths differ in the last digits of the library's functions, and in nothing else.
TEST(Together, EveryWidthSaysTheSame) {
  const Stage stage("examples/first-loop/loop.toml", 2, 8);
  const Forcing forcing(stage.loop.site, stage.weather);
  const Equations equations(stage.loop, stage.plumbing, stage.running.water, forcing);
  const std::vector<Trajectory> widest = stage.together(stage.draws);
  for (std::size_t narrower = 1; narrower < lane_widths().size(); ++narrower) {
    const std::vector<Trajectory> other = stage.together(stage.draws, 0, narrower);
    for (std::size_t m = 0; m < widest.size(); ++m)
      EXPECT_LT(apart(widest[m], other[m], equations.layout()), 1e-10) << lane_widths()[narrower];
  }
}

/// Whatever can be drawn must reach the lanes: each thing alone, at both ends.
TEST(Together, EveryThingThatIsDrawnReachesItsLane) {
  const Stage stage("examples/first-loop/loop.toml", 2, 1);
  std::vector<std::vector<double>> z;
  for (std::size_t p = 0; p < stage.priors.size(); ++p)
    for (const double end : {-1.6, 1.6}) {
      z.emplace_back(stage.priors.size(), 0.0);
      z.back()[p] = end;
    }
  const std::vector<Trajectory> lanes = stage.together(z);
  const Forcing forcing(stage.loop.site, stage.weather);
  const Equations equations(stage.loop, stage.plumbing, stage.running.water, forcing);
  const Trajectory middle = stage.alone(std::vector<double>(stage.priors.size(), 0.0), 1e-7);
  for (std::size_t m = 0; m < z.size(); ++m) {
    const Trajectory alone = stage.alone(z[m], 1e-7);
    EXPECT_LT(apart(lanes[m], alone, equations.layout()), 1e-4) << stage.priors[m / 2].name;
    EXPECT_LT(apart(lanes[m], alone, equations.layout()), 0.5 * apart(middle, alone, equations.layout()))
        << stage.priors[m / 2].name << " does not reach the lane";
  }
}

/// A loop that runs dry in one lane tells so, and its neighbours go on.
TEST(Together, AMemberThatMustStopLeavesTheOthers) {
  Stage stage("examples/smallest/loop.toml", 3, 9);
  const auto z = stage.draws;
  std::vector<Trajectory> all(9);
  simulate_together(
      {stage.plumbing, stage.running.water, stage.from, stage.to, stage.options, 9,
       [&](std::size_t m) {
         MemberInput in = stage.member(z[m]);
         if (m == 4)  // a wind that no water stands
           in.loop.site.wind_shelter *= 4000.0;
         return in;
       },
       [&](std::size_t m, const Loop&, const Equations&, const Forcing&, const Trajectory& run) { all[m] = run; }});
  EXPECT_FALSE(all[4].finished);
  EXPECT_FALSE(all[4].said.empty());
  for (std::size_t m = 0; m < 9; ++m) EXPECT_EQ(all[m].finished, m != 4) << m << ": " << all[m].said;
}

// ---- slopes

/// All slopes by slots, from those that have the bodies' gains as unknowns of their own.
std::vector<double> without_gains(const JacobianPlan& plan, std::span<const double> entries, std::size_t slots) {
  const std::size_t rows = plan.unknowns + slots - plan.inner;
  std::vector<std::vector<double>> all(rows, std::vector<double>(plan.unknowns, 0.0));
  for (std::size_t e = 0; e < entries.size(); ++e) all[plan.entries[e].row][plan.entries[e].column] += entries[e];
  std::vector<double> dense(slots * plan.inner, 0.0);
  std::vector<std::vector<double>> gain(plan.unknowns - plan.inner, std::vector<double>(plan.inner, 0.0));
  for (std::size_t again = 0; again <= gain.size(); ++again)  // what is upstream settles first
    for (std::size_t g = 0; g < gain.size(); ++g)
      for (std::size_t j = 0; j < plan.inner; ++j) {
        gain[g][j] = all[plan.inner + g][j];
        for (std::size_t k = 0; k < gain.size(); ++k) gain[g][j] += all[plan.inner + g][plan.inner + k] * gain[k][j];
      }
  for (std::size_t i = 0; i < slots; ++i) {
    const std::size_t row = i < plan.inner ? i : plan.unknowns + i - plan.inner;
    for (std::size_t j = 0; j < plan.inner; ++j) {
      double& d = dense[i * plan.inner + j];
      d = all[row][j];
      for (std::size_t k = 0; k < gain.size(); ++k) d += all[row][plan.inner + k] * gain[k][j];
    }
  }
  return dense;
}

TEST(Slopes, ProcessByProcessAreThoseOfAllRatesAtOnce) {
  for (const char* example :
       {"examples/smallest/loop.toml", "examples/first-loop/loop.toml", "examples/twelve/loop.toml"}) {
    const Stage stage(example, 1, 1);
    const Forcing forcing(stage.loop.site, stage.weather);
    const Equations eq(stage.loop, stage.plumbing, stage.running.water, forcing);
    const JacobianPlan plan(eq);
    const std::size_t n = eq.layout().size();
    LanesProblem<double> problem(eq, plan, eq.plan(), forcing.hours());
    auto work = eq.scratch<JacobianDual>();
    std::vector<JacobianDual> room;
    std::vector<double> coloured(eq.pattern().entries()), dydt(n);
    std::mt19937 random(11);
    std::uniform_real_distribution<double> one(-1.0, 1.0);
    for (int trial = 0; trial < 12; ++trial) {
      std::vector<double> y = eq.initial_state();
      for (std::size_t i = 0; i < plan.inner; ++i)
        y[i] = std::abs(y[i] * (1.0 + 0.3 * one(random)) + 0.05 * eq.layout().slots[i].nominal * one(random));
      for (std::size_t b = 0; b < plan.bodies; ++b)  // about the usual level, where overflows begin and end
        y[static_cast<std::size_t>(eq.layout().bodies[b].water)] = eq.usual_water(b).si() * (1.0 + 0.02 * one(random));
      const double t = 3600.0 * trial + 1000.0;
      ASSERT_TRUE(problem.linearise(t, y, dydt));
      ASSERT_TRUE(eq.jacobian({forcing.start().seconds + t}, y, eq.neutral_guesses(), work, room, coloured));
      const std::vector<double> dense = without_gains(plan, problem.entries(), n);
      std::vector<double> expected(n * plan.inner, 0.0);
      for (std::size_t j = 0; j < plan.inner; ++j)
        for (auto k = static_cast<std::size_t>(eq.pattern().starts[j]);
             k < static_cast<std::size_t>(eq.pattern().starts[j + 1]); ++k)
          expected[static_cast<std::size_t>(eq.pattern().rows[k]) * plan.inner + j] = coloured[k];
      for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < plan.inner; ++j) {
          const double should = expected[i * plan.inner + j];
          const double least = 1e-9 * eq.layout().slots[i].nominal / eq.layout().slots[j].nominal / 3600.0;
          ASSERT_NEAR(dense[i * plan.inner + j], should, 1e-7 * (std::abs(should) + least))
              << eq.layout().slots[i].path << " by " << eq.layout().slots[j].path << " in " << example;
        }
    }
  }
}

}  // namespace
}  // namespace leat::model

namespace leat::numerics {
namespace {

/// y0' = -k (y0 - cos t) - sin t, y1' = y0 - y1, and the integral of y1, which nothing depends on: y0 = cos t.
struct Pulled {
  double k;
  double a = 0.0;
  std::size_t size() const { return 3; }
  std::size_t leading() const { return 2; }
  bool rates(double t, std::span<const double> y, std::span<double> f) {
    f[0] = -k * (y[0] - std::cos(t)) - std::sin(t);
    f[1] = y[0] - y[1];
    f[2] = y[1];
    return true;
  }
  bool linearise(double t, std::span<const double> y, std::span<double> f) { return rates(t, y, f); }
  void factor(double g) { a = g; }
  void solve(double g, std::span<double> u) {
    u[0] /= a + k;
    u[1] = (u[1] + u[0]) / (a + 1.0);
    u[2] = (u[2] + u[1]) / g;
  }
};

/// With y1(0) = 0: y1 = (cos t + sin t - e^-t) / 2.
TEST(LanesIntegrator, IsOfFourthOrderAlsoWhereTheRatesChangeWithTime) {
  std::vector<long> steps;
  for (const auto& [k, tolerance] : {std::pair{200.0, 1e-4}, {200.0, 1e-6}, {1.0, 1e-5}, {1.0, 1e-8}}) {
    Pulled problem{k};
    LanesIntegrator<double, Pulled> integrator(problem, {tolerance, {1e-3 * tolerance, 1e-3 * tolerance, 1e30}});
    const std::vector<double> start = {1.0, 0.0, 0.0};
    integrator.start(0.0, start);
    ASSERT_TRUE(integrator.advance(3.0, [](const auto&) { return true; }).reached);
    const double y1 = 0.5 * (std::cos(3.0) + std::sin(3.0) - std::exp(-3.0));
    const double y2 = 0.5 * (std::sin(3.0) - std::cos(3.0) + std::exp(-3.0));
    EXPECT_LT(std::abs(integrator.state()[0] - std::cos(3.0)), 10.0 * tolerance);
    EXPECT_LT(std::abs(integrator.state()[1] - y1), 10.0 * tolerance);
    EXPECT_LT(std::abs(integrator.state()[2] - y2), 100.0 * tolerance) << "what only follows";
    steps.push_back(integrator.counts().steps);
  }
  // Where nothing is stiff, a thousandth of the error for 10^(3/4) = 5.6 times the steps; of third order it were ten.
  EXPECT_LT(static_cast<double>(steps[3]), 8.0 * static_cast<double>(steps[2]));
}

}  // namespace
}  // namespace leat::numerics
