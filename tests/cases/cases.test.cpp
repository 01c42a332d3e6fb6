// Two small systems, solved from their descriptions by the program's own solver, against answers computed elsewhere by
// other methods (pure Python, nested bisection on each pipe's inverted law). Tolerances as stated with those answers:
// flows 0.3 %, levels and heads 1 mm, volumes 1 L or 0.3 %.
#include "answers/check.h"
#include "model/flow/water_run.h"
#include "numerics/root.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using answers::check;
using answers::CheckAnswer;

#define EXPECT_FLOW(quantity, litres_per_hour) \
  EXPECT_NEAR((quantity).in(units::litre_per_hour), litres_per_hour, std::max(0.003 * std::abs(litres_per_hour), 1e-6))
#define EXPECT_LEVEL(quantity, metres) EXPECT_NEAR((quantity).si(), metres, 0.001)
#define EXPECT_CLOSE(value, wanted) EXPECT_NEAR(value, wanted, 0.003 * std::abs(wanted))

class Case1 : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("tests/cases/case-1.toml");
  CheckAnswer a = check(loop);
};

TEST_F(Case1, RunningFlowAndLevels) {
  ASSERT_TRUE(a.running_settled);
  EXPECT_FLOW(a.pumps[0].flow, 4188.2);
  EXPECT_LEVEL(a.vessels[0].running, 1.2302);
  EXPECT_LEVEL(a.vessels[1].running, 0.7216);
  EXPECT_LEVEL(a.vessels[2].running, 0.2554);
}

TEST_F(Case1, RimSleeveAndStandpipe) {
  EXPECT_LEVEL(a.overflows[0].over_rim, 0.0216);
  EXPECT_LEVEL(a.overflows[0].sleeve_loss, 0.0086);
  EXPECT_CLOSE(a.overflows[0].sleeve_velocity.si(), 0.290);
  EXPECT_LEVEL(a.overflows[0].standpipe_level, 0.744);
  EXPECT_FLOW(a.overflows[0].drowns_at, 15814.0);
  EXPECT_NEAR(a.overflows[0].falling, 0.385, 0.0015);  // three digits are given
}

TEST_F(Case1, PumpPointPowerAndEnergy) {
  EXPECT_NEAR(a.pumps[0].head.si(), 2.051, 0.001);
  EXPECT_CLOSE(a.pumps[0].power.si(), 66.7);
  EXPECT_NEAR(a.pumps[0].yearly.si() / 3.6e6, 585.0, 585.0 * 0.003);
}

TEST_F(Case1, DeliveryPipe) {
  EXPECT_CLOSE(a.pipes[0].velocity.si(), 1.281);
  EXPECT_CLOSE(a.pipes[0].reynolds, 43567.0);
  EXPECT_CLOSE(a.pipes[0].friction_factor, 0.02169);
  EXPECT_LEVEL(a.pipes[0].loss, 0.956);
}

TEST_F(Case1, TurnoverOfTheTank) {
  EXPECT_NEAR(a.vessels[0].water.si(), 0.9132, 0.001);
  EXPECT_CLOSE(a.vessels[0].turnover.si() * 3600.0, 4.586);
}

TEST_F(Case1, PowerCutWithTheCheckValveHolding) {
  ASSERT_TRUE(a.rest_settled);
  EXPECT_NEAR(a.drain_back.in(units::litre), 85.1, 1.0);
  EXPECT_LEVEL(a.vessels[2].at_rest, 0.350);
  EXPECT_LEVEL(a.vessels[2].freeboard_at_rest, 0.250);
}

/// Levels and flows after rest, and after the power has gone.
class Case1InTime : public Case1 {
 protected:
  model::Plumbing plumbing{loop};
  std::vector<Length<>> running() const {
    std::vector<Length<>> levels;
    for (const auto& v : a.vessels) levels.push_back(v.running);
    return levels;
  }
};

TEST_F(Case1InTime, FlowIsWithinOnePercentOfSteadyBefore300Seconds) {
  const auto run = model::run_water(plumbing, model::water_at_rest(loop), {Duration<>(300.0)});
  ASSERT_TRUE(run.finished);
  const model::Flows flows = plumbing.flows(run.end.levels, {});
  for (const Flow<> q : flows.overflows) EXPECT_NEAR(q.in(units::litre_per_hour), 4188.2, 41.9);
  EXPECT_LT(std::abs(run.missing.si()), 1e-9 * 1.795);
}

TEST_F(Case1InTime, DrainBackHasArrivedToNinetyFivePercentAfter299Seconds) {
  const double start = running()[2].si(), wanted = start + 0.95 * (0.350 - start);
  double arrived = 0.0;
  model::run_water(plumbing, model::water_at(loop, running()), {Duration<>(900.0), {{Duration<>(0.0), false}}},
                   [&](const model::WaterStep& step) {
                     if (step.levels(step.to)[2].si() < wanted) return numerics::Then::go_on;
                     arrived =
                         numerics::bracketed_root([&](double t) { return step.levels(Duration<>(t))[2].si() - wanted; },
                                                  step.from.si(), step.to.si(), 1e-3);
                     return numerics::Then::stop;
                   });
  EXPECT_NEAR(arrived, 299.0, 1.5);  // 0.5 %
}

TEST(Case1WithoutCheckValve, TankStopsFallingAtItsPipeAfter274Seconds) {
  const model::Loop loop = tests::read_loop("tests/cases/case-1-no-check-valve.toml");
  const model::Plumbing plumbing(loop);
  // The cut finds the loop at the running levels of the case with its check valve.
  const CheckAnswer before = check(tests::read_loop("tests/cases/case-1.toml"));
  std::vector<Length<>> levels;
  for (const auto& v : before.vessels) levels.push_back(v.running);
  const auto run =
      model::run_water(plumbing, model::water_at(loop, levels), {Duration<>(600.0), {{Duration<>(0.0), false}}});
  ASSERT_FALSE(run.events.empty());
  const auto drew_air = std::find_if(run.events.begin(), run.events.end(), [](const model::WaterEvent& e) {
    return e.what == model::WaterChange::end_draws_air;
  });
  ASSERT_NE(drew_air, run.events.end());
  EXPECT_NEAR(drew_air->at.si(), 274.0, 1.4);  // 0.5 %
  EXPECT_LEVEL(run.end.levels[0], 1.00);
}

TEST(Case1WithoutCheckValve, TankFallsToTheEndOfItsPipeAndTheSumpAlmostToItsRim) {
  const model::Loop loop = tests::read_loop("tests/cases/case-1-no-check-valve.toml");
  const CheckAnswer a = check(loop);
  ASSERT_TRUE(a.rest_settled);
  EXPECT_LEVEL(a.vessels[0].at_rest, 1.00);
  EXPECT_LEVEL(a.vessels[2].at_rest, 0.5944);
}

struct RingCase {
  const char* name;
  double pump, ring12, ring23, ring13, one, two, raft, bypass, h1, h2, h3;
};

void PrintTo(const RingCase& c, std::ostream* out) {
  *out << "bypass case " << c.name;
}

class RingMain : public ::testing::TestWithParam<RingCase> {};

TEST_P(RingMain, EveryFlowAndHead) {
  const RingCase& c = GetParam();
  const model::Loop loop = tests::read_loop(std::string("tests/cases/case-2") + c.name + ".toml");
  const model::Plumbing plumbing(loop);
  const CheckAnswer a = check(loop);
  ASSERT_TRUE(a.running_settled);
  EXPECT_FLOW(a.pumps[0].flow, c.pump);
  const double wanted[] = {c.pump, c.ring12, c.ring23, c.ring13, c.one, c.two, c.raft, c.bypass};
  for (std::size_t i = 0; i < 8; ++i) EXPECT_FLOW(a.pipes[i].flow, wanted[i]) << a.pipes[i].path;
  std::vector<Length<>> levels;
  for (const auto& v : a.vessels) levels.push_back(v.running);
  const model::Flows flows = plumbing.flows(levels, {});
  if (c.h1 > 0.0) {
    EXPECT_LEVEL(flows.junction_heads[0], c.h1);
  }
  EXPECT_LEVEL(flows.junction_heads[1], c.h2);
  EXPECT_LEVEL(flows.junction_heads[2], c.h3);
}

INSTANTIATE_TEST_SUITE_P(
    Case2, RingMain,
    ::testing::Values(
        RingCase{"a", 6817.95, 2748.60, 756.97, 2271.04, 1991.63, 1623.90, 1404.11, 1798.31, 1.8178, 1.6264, 1.5666},
        RingCase{"b", 6494.37, 3584.32, 918.24, 2910.05, 2666.08, 2243.16, 1585.13, 0.0, 2.1481, 1.8353, 1.7507},
        RingCase{"c", 6416.75, 1690.75, 1690.75, 2647.17, 0.0, 2626.09, 1711.82, 2078.84, 2.2249, 2.1466, 1.8915},
        RingCase{"d", 6994.01, 2144.94, 644.94, 1814.39, 1500.00, 1164.40, 1294.93, 3034.68, 1.6314, 1.5102, 1.4653},
        RingCase{"e", 7338.9, 384.1, 384.1, 616.7, 0.0, 0.0, 1000.8, 6338.1, 0.0, 1.2472, 1.2293}),
    [](const auto& p) { return std::string(p.param.name); });

TEST(RingMain, PumpOfCaseA) {
  const CheckAnswer a = check(tests::read_loop("tests/cases/case-2a.toml"));
  EXPECT_LEVEL(a.pumps[0].head, 2.1306);
  const double velocities[] = {1.329, 0.841, 0.367, 0.695, 0.966, 0.788, 1.193, 0.872};
  for (std::size_t i = 0; i < 8; ++i)
    EXPECT_NEAR(a.pipes[i].velocity.si(), velocities[i], 0.003 * velocities[i] + 0.0005);
}

}  // namespace
}  // namespace leat
