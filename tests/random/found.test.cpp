// What random loops found, each as the smallest loop that showed it.
#include <gtest/gtest.h>

#include "answers/ahead.h"
#include "model/flow/faults.h"
#include "model/flow/water_rates.h"
#include "tests/loop_file.h"

namespace leat::model {
namespace {

using numerics::Then;
const Duration<> kSixHours(6.0 * 3600.0);

Loop read(const std::string& text) {
  Problems problems;
  Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

const std::string kTwoVessels = R"([sump.low]
area = "0.0209 m2"
floor = "0 m"
rim = "0.60 m"
level = "0.38 m"
[raft_bed.high]
area = "1.3 m2"
floor = "0.20 m"
rim = "0.55 m"
)";
const std::string kPumpBack = R"([pump.main]
in = "sump.low"
shut_off_head = "0.8 m"
largest_flow = "400 L/h"
[pipe.main]
from = "pump.main"
to = "raft_bed.high"
bore = "17 mm"
length = "3 m"
losses = 4
outlet_level = "0.56 m"
)";

/// A wide passage that has drowned, with a small vessel below it: both levels stay together.
void expect_even(const std::string& passage) {
  const Loop loop = read(kTwoVessels + passage + kPumpBack);
  const Plumbing plumbing(loop);
  const WaterRun run = run_water(plumbing, water_at(loop, {Length<>(0.38), Length<>(0.40)}), {kSixHours});
  ASSERT_TRUE(run.finished) << run.said;
  EXPECT_LT(run.steps, 1500);
  EXPECT_NEAR(run.end.levels[0].si(), run.end.levels[1].si(), 5e-4);
}

TEST(Found, ADrownedWeirIsFollowedInFewSteps) {
  expect_even("[weir.edge]\nfrom = \"raft_bed.high\"\nto = \"sump.low\"\ncrest = \"0.22 m\"\nwidth = \"0.577 m\"\n");
}

TEST(Found, ARimThatFallsFreelyDrownsWithoutAJump) {
  expect_even(
      "[overflow.edge]\nfrom = \"raft_bed.high\"\nto = \"sump.low\"\nrim = \"0.22 m\"\nstandpipe_bore = \"103.6 "
      "mm\"\n");
}

TEST(Found, ADrownedHoleIsFollowedInFewSteps) {
  expect_even("[drain_hole.edge]\nfrom = \"raft_bed.high\"\nto = \"sump.low\"\ndiameter = \"40 mm\"\ncount = 6\n");
}

TEST(Found, AGravityReturnDrownsWithoutAJump) {
  const Loop loop = read(kTwoVessels + R"([gravity_return.level]
from = "raft_bed.high"
to = "sump.low"
bore = "68.5 mm"
length = "2 m"
losses = 5
inlet_level = "0.30 m"
outlet_level = "0.30 m"
)" + kPumpBack);
  const Plumbing plumbing(loop);
  const Length<> up(0.38), end(0.30);
  EXPECT_NEAR(plumbing.return_flow(0, up, end - Length<>(1e-9)).si(),
              plumbing.return_flow(0, up, end + Length<>(1e-9)).si(), 1e-9);
}

TEST(Found, SlopesAreTheDifferencesOfTheFlows) {
  const Loop loop = read(kTwoVessels + R"([weir.edge]
from = "raft_bed.high"
to = "sump.low"
crest = "0.22 m"
width = "0.3 m"
[pipe.foot]
from = "raft_bed.high"
to = "sump.low"
bore = "27 mm"
length = "2 m"
losses = 3
inlet_level = "0.30 m"
)" + kPumpBack);
  const Plumbing plumbing(loop);
  const auto work = plumbing.make_work();
  // Free, drowned, and with the mouth of the pipe in a pool of a few millimetres.
  for (const auto& [low, high] : {std::pair{0.1, 0.4}, {0.35, 0.4}, {0.1, 0.304}, {0.28, 0.3002}}) {
    const std::vector<Length<>> levels{Length<>(low), Length<>(high)};
    Flows flows;
    std::vector<double> slopes(4), before(2), after(2);
    plumbing.flows(levels, {}, *work, flows);
    plumbing.slopes(levels, {}, *work, slopes);
    for (std::size_t j = 0; j < 2; ++j) {
      std::vector<Length<>> moved = levels;
      moved[j] = levels[j] - Length<>(1e-7);
      plumbing.flows(moved, {}, *work, flows);
      plumbing.net(flows, before);
      moved[j] = levels[j] + Length<>(1e-7);
      plumbing.flows(moved, {}, *work, flows);
      plumbing.net(flows, after);
      for (std::size_t i = 0; i < 2; ++i) {
        const double difference = (after[i] - before[i]) / 2e-7;
        EXPECT_NEAR(slopes[j * 2 + i], difference, 1e-5 * std::abs(difference) + 1e-8) << low << " " << high << i << j;
      }
    }
  }
}

const std::string kTank = R"([sump.low]
area = "0.5 m2"
floor = "-1 m"
rim = "0 m"
level = "-0.6 m"
[tank.high]
area = "0.06 m2"
floor = "0.1 m"
rim = "0.6 m"
level = "0.5 m"
)";

/// The lowest that a vessel comes in six hours.
double lowest(const Loop& loop, std::size_t vessel) {
  const Plumbing plumbing(loop);
  double least = 1e9;
  const WaterRun run = run_water(plumbing, water_at_rest(loop), {kSixHours}, [&](const WaterStep& step) {
    for (const double share : {0.5, 1.0})
      least = std::min(least, step.levels(step.from + share * (step.to - step.from))[vessel].si());
    return Then::go_on;
  });
  EXPECT_TRUE(run.finished) << run.said;
  EXPECT_LT(std::abs(run.missing.si()), 1e-12);
  return least;
}

TEST(Found, APipeInTheFloorEmptiesAVesselAndNoMore) {
  const Loop loop = read(kTank +
                         "[pipe.foot]\nfrom = \"tank.high\"\nto = \"sump.low\"\nbore = \"101.6 mm\"\nlength = \"7 "
                         "m\"\nlosses = 4\noutlet_level = \"-0.8 m\"\n");
  EXPECT_GE(lowest(loop, 1), 0.1 - 1e-6);
}

TEST(Found, AStoppedPumpSiphonsItsVesselEmptyAndNoMore) {
  const Loop loop = read(kTank + R"([pump.old]
in = "tank.high"
check_valve = false
on = false
[pipe.old]
from = "pump.old"
to = "sump.low"
bore = "45.2 mm"
length = "2 m"
losses = 4
outlet_level = "-0.5 m"
)");
  EXPECT_GE(lowest(loop, 1), 0.1 - 1e-6);
}

TEST(Found, ASiphonStopsAtOnceWhereItBreaks) {
  // Five litres, emptied in two seconds: it must not wait before it may break.
  const Loop loop = read(R"([sump.low]
area = "0.5 m2"
floor = "-1 m"
rim = "0 m"
level = "-0.6 m"
[gravel_bed.small]
area = "0.05 m2"
floor = "0.1 m"
rim = "0.4 m"
[siphon.wide]
from = "gravel_bed.small"
to = "sump.low"
rim = "0.34 m"
break_level = "0.102 m"
bore = "68.5 mm"
length = "0.3 m"
losses = 2
[source.hose]
to = "gravel_bed.small"
flow = "9000 L/h"
stuck_open = true
)");
  EXPECT_GE(lowest(loop, 1), 0.102 - 1e-6);
}

TEST(Found, NoWaterIsMissingBesideAVeryWideConductance) {
  // A stopped pump's loss is flat at no flow; a main of 102 mm behind a hose of 12.
  const Loop loop = read(kTank + R"([pump.main]
in = "sump.low"
shut_off_head = "2.5 m"
largest_flow = "11149 L/h"
check_valve = false
stopped_loss = 46.2
on_for = "10 min"
off_for = "45 min"
[junction.a]
[pipe.main]
from = "pump.main"
to = "junction.a"
bore = "101.6 mm"
length = "0.3 m"
losses = 1
[pipe.hose]
from = "junction.a"
to = "tank.high"
bore = "12 mm"
length = "30 m"
losses = 7
[pipe.bypass]
from = "junction.a"
to = "sump.low"
bore = "101.6 mm"
length = "0.3 m"
losses = 1
)");
  EXPECT_GE(lowest(loop, 0), -1.0);
}

TEST(Found, WatchingMovesNoBitOfTheRun) {
  const Loop loop = read(kTwoVessels +
                         "[weir.edge]\nfrom = \"raft_bed.high\"\nto = \"sump.low\"\ncrest = \"0.45 m\"\nwidth = \"0.1 "
                         "m\"\n" +
                         kPumpBack);
  const Plumbing plumbing(loop);
  const WaterRun alone = run_water(plumbing, water_at_rest(loop), {kSixHours});
  const WaterRun watched = run_water(plumbing, water_at_rest(loop), {kSixHours}, [](const WaterStep& step) {
    for (const double share : {0.9, 0.1, 1.0}) (void)step.flows(step.from + share * (step.to - step.from));
    return Then::go_on;
  });
  EXPECT_EQ(alone.steps, watched.steps);
  for (std::size_t v = 0; v < 2; ++v) EXPECT_EQ(alone.end.levels[v].si(), watched.end.levels[v].si());
}

/// Two timers on one sump; what the pumps lift runs back over a weir.
Loop with_timers(const std::string& one, const std::string& other) {
  std::string pumps;
  for (const auto& [name, timer] : {std::pair{std::string("one"), one}, {std::string("two"), other}})
    pumps += "[pump." + name + "]\nin = \"sump.low\"\nshut_off_head = \"2 m\"\nlargest_flow = \"900 L/h\"\n" + timer +
             "[pipe." + name + "]\nfrom = \"pump." + name +
             "\"\nto = \"tank.high\"\nbore = \"21.2 mm\"\nlength = \"3 m\"\nlosses = 4\n";
  return read(kTank + "[weir.edge]\nfrom = \"tank.high\"\nto = \"sump.low\"\ncrest = \"0.5 m\"\nwidth = \"0.2 m\"\n" +
              pumps);
}

TEST(Found, TimersWithoutACommonPeriodDoNotRepeat) {
  const Loop loop =
      with_timers("on_for = \"5 min\"\noff_for = \"20 min\"\n", "on_for = \"45 min\"\noff_for = \"7 s\"\n");
  EXPECT_EQ(find_cycle(Plumbing(loop), water_at_rest(loop)).kind, Cycle::Kind::mean);
}

TEST(Found, TwoSiphonsThatDriftDoNotRepeatYet) {
  const Loop loop = tests::read_loop("tests/random/two-siphons.toml");
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic) << "in the end they fall into step";
  const WaterRun run = run_water(plumbing, cycle.start, {cycle.period});
  for (std::size_t v = 0; v < run.end.levels.size(); ++v)
    EXPECT_NEAR(run.end.levels[v].si(), cycle.start.levels[v].si(), 1e-5) << loop.vessels[v].path;
}

TEST(Found, BeforeItsFirstStartATimerHasNoCycle) {
  const Loop loop = with_timers("on_for = \"5 min\"\noff_for = \"5 min\"\nstarts_after = \"40 min\"\n",
                                "on_for = \"4 min\"\noff_for = \"6 min\"\n");
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic);
  EXPECT_NEAR(cycle.running[0], 0.5, 1e-6);
}

TEST(Found, FloatsThatHuntRunOnTheMean) {
  // Two floats of a twentieth of a millimetre over a weir that brings the water back at once: both hunt, both run for a
  // share of time.
  std::string floats = "float_off = \"-0.60030 m\"\nfloat_on = \"-0.60025 m\"\n";
  const Loop loop = with_timers(floats, floats);
  const Plumbing plumbing(loop);
  const WaterRun run = run_water(plumbing, water_at_rest(loop), {kSixHours});
  ASSERT_TRUE(run.finished) << run.said;
  EXPECT_EQ(std::count_if(run.events.begin(), run.events.end(),
                          [](const WaterEvent& e) { return e.what == WaterChange::hunts; }),
            2);
  EXPECT_LT(run.steps, 3000);
  EXPECT_LT(std::abs(run.missing.si()), 1e-12);
}

/// Water that freezes, and nothing to eat: a parabola of fasting heat that turned negative let fish grow there, out of
/// ammonia that the water did not have (seed 5 of the lives, the 717th).
TEST(Found, FishInIceWaterDoNotGrowOutOfTheWater) {
  const Loop loop = read(
      "[place]\nlatitude = 58.6\n[water]\ntemperature = \"0.5 degC\"\nammonia = \"0.02 mg/L as N\"\n[tank.pond]\narea "
      "= "
      "\"0.64 m2\"\ndepth = \"0.5 m\"\n[fish.trout]\nin = \"tank.pond\"\ncount = 22\nmass = \"461.6 g\"\n");
  const CivilDate first{2016, 12, 1};
  WeatherSources sources;
  sources.daily = DailyRecord{};
  for (int d = 0; d < 4; ++d) {
    WeatherDay day;
    day.date = first.plus_days(d);
    day.low = Temperature<>::from_celsius(-6.0);
    day.high = Temperature<>::from_celsius(-2.0);
    sources.daily->days.push_back(day);
  }
  const answers::AheadAnswer a =
      answers::ahead(loop, assemble_weather(loop.site.place, sources, first, 4), {first, 4, false});
  ASSERT_TRUE(a.finished) << a.said;
  EXPECT_LT(a.vessels[0].days.back().temperature_low.value, 273.15);
  for (const auto& day : a.vessels[0].days) EXPECT_GT(day.ammonia, 0.0);
  EXPECT_LT(a.fish[0].mean_mass.back(), a.fish[0].mass_at_start);
}

}  // namespace
}  // namespace leat::model
