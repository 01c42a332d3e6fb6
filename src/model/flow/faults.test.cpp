#include "model/flow/faults.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "model/loop/description.h"

namespace leat::model {
namespace {

constexpr const char* kTwoVessels = R"([loop]
name = "two"
[tank.a]
area = "1 m2"
floor = "0.5 m"
rim = "1.5 m"
level = "1.2 m"
[sump.s]
area = "0.5 m2"
floor = "0 m"
rim = "0.6 m"
level = "0.4 m"
[pump.p]
in = "sump.s"
shut_off_head = "4 m"
largest_flow = "4000 L/h"
power = "40 W"
check_valve = true
dry_run_level = "0.1 m"
[pipe.up]
from = "pump.p"
to = "tank.a"
bore = "25 mm"
length = "3 m"
losses = 5
outlet_level = "0.9 m"
lowest_level = "0.05 m"
[overflow.a]
from = "tank.a"
to = "sump.s"
rim = "1.2 m"
standpipe_bore = "50 mm"
bore = "50 mm"
length = "2 m"
losses = 3
[source.tap]
to = "sump.s"
level = "0.35 m"
flow = "300 L/h"
)";

Loop read(const std::string& text) {
  Problems problems;
  const Description d = read_description(text, "two.toml", problems);
  Loop loop = make_loop(d, problems);
  EXPECT_TRUE(problems.empty());
  return loop;
}

class Faults : public ::testing::Test {
 protected:
  Loop loop = read(kTwoVessels);
  Plumbing plumbing{loop};
  Cycle cycle = find_cycle(plumbing, water_at_rest(loop));

  FaultRun with(Fault::Kind kind, const char* path, double hours = 4.0) const {
    FaultTimes times;
    times.span = Duration<>(3600.0 * hours);
    const FaultRun r = run_fault(loop, {kind, path}, cycle.start, times);
    EXPECT_TRUE(r.finished) << r.said;
    EXPECT_LT(std::abs(r.missing.si()), 1e-9);
    return r;
  }
};

TEST_F(Faults, EveryKindThatTheLoopCanHaveIsListedAndKeepsItsWater) {
  const auto all = possible_faults(loop);
  const auto has = [&](Fault::Kind kind) {
    return std::any_of(all.begin(), all.end(), [&](const Fault& f) { return f.kind == kind; });
  };
  for (const auto kind : {Fault::Kind::power, Fault::Kind::power_and_valves, Fault::Kind::blocked,
                          Fault::Kind::half_blocked, Fault::Kind::top_up_open, Fault::Kind::burst})
    EXPECT_TRUE(has(kind));
  EXPECT_FALSE(has(Fault::Kind::valve_stuck));
  for (const Fault& fault : all) with(fault.kind, fault.path.c_str());
}

TEST_F(Faults, APowerCutBringsTheFilmOverTheRimBackToTheSump) {
  const FaultRun r = with(Fault::Kind::power, "power");
  const double film = (r.before[0] - Length<>(1.2)).si();
  EXPECT_NEAR(r.after[0].si(), 1.2, 1e-3);
  EXPECT_NEAR(r.after[1].si() - r.before[1].si(), film / 0.5, 2e-3);
  EXPECT_EQ(r.lost().si(), 0.0);
  ASSERT_TRUE(r.fed_until[0]);
  EXPECT_LT(r.fed_until[0]->si(), 5.0);
}

TEST_F(Faults, ALeakingCheckValveDrainsTheTankToTheEndOfItsPipe) {
  const FaultRun r = with(Fault::Kind::power_and_valves, "power");
  EXPECT_NEAR(r.after[0].si(), 0.9, 1e-3);
  EXPECT_GT(r.lost().si(), 0.1);  // 0.3 m of the tank do not fit into the sump
  EXPECT_EQ(r.first_spill, 1);
}

TEST_F(Faults, ABlockedReturnFillsTheTankUntilThePumpRunsDry) {
  const FaultRun r = with(Fault::Kind::blocked, "overflow.a");
  ASSERT_TRUE(r.dry_after);
  EXPECT_EQ(r.dry_pump, "pump.p");
  EXPECT_FALSE(r.spills_after);  // the sump holds less than the tank has room for
}

TEST_F(Faults, ABlockedReturnWithTheFloatOpenSpillsForEver) {
  const FaultRun two = with(Fault::Kind::blocked_and_open, "overflow.a", 2.0);
  const FaultRun four = with(Fault::Kind::blocked_and_open, "overflow.a", 4.0);
  ASSERT_TRUE(four.spills_after);
  EXPECT_NEAR((four.lost() - two.lost()).in(units::litre), 600.0, 20.0);
}

TEST_F(Faults, ABurstDeliveryEmptiesTheSumpAndSiphonsTheTankDownToItsEnd) {
  const FaultRun r = with(Fault::Kind::burst, "pipe.up");
  EXPECT_NEAR(r.after[0].si(), 0.9, 1e-3);
  EXPECT_GT(r.burst.si(), 0.25);
  EXPECT_TRUE(r.dry_after);
}

TEST_F(Faults, WhenThePowerComesBackTheTankIsFedAgain) {
  FaultTimes times;
  times.returns = Duration<>(600.0);
  const FaultRun r = run_fault(loop, {Fault::Kind::power, "power"}, cycle.start, times);
  EXPECT_FALSE(r.fed_until[0]);
  EXPECT_NEAR(r.after[0].si(), r.before[0].si(), 1e-3);
}

}  // namespace
}  // namespace leat::model
