// A power cut, every figure of it: recomputed by independent means, to the last digit printed or 3 %.
#include <cmath>

#include "answers/emergency_table.h"
#include "answers/outage.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class PowerCut : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("tests/stories/salters-hythe.toml");
  DrawdownInput still = [] {
    DrawdownInput input;
    input.water = Volume<>(1.0);
    input.open_surface = Area<>(1.1);
    input.temperature = Temperature<>::from_celsius(14.0);
    input.oxygen = Density<>(9.0e-3);
    return input;
  }();

  static const TimeLeft& of(const Drawdown& d, FishState state) {
    for (const TimeLeft& t : d.states)
      if (t.state == state) return t;
    throw std::out_of_range("no such state");
  }
  static double hours(const Drawdown& d, FishState state, bool to_three) {
    const TimeLeft& t = of(d, state);
    return (to_three ? t.to_danger : t.to_low).likely.si() / 3600.0;
  }
  static std::string why(const Drawdown& d, const std::string& what) {
    for (const Action& action : d.actions)
      if (action.what.find(what) != std::string::npos) return action.why;
    return {};
  }
};

TEST_F(PowerCut, DemandAndSaturation) {
  const Drawdown d = draw_down(loop, 0, still);
  EXPECT_NEAR(d.demand.si() * 3.6e6, 2.42, 0.03 * 2.42);  // 269 mg/kg/h of 9 kg
  EXPECT_NEAR(1e3 * d.saturation.si(), 10.31, 0.005);
}

TEST_F(PowerCut, TimeToFiveAndThreeInEachState) {
  const Drawdown d = draw_down(loop, 0, still);
  const struct {
    FishState state;
    double five, three;
  } rows[] = {{FishState::fed, 1.2, 1.8},
              {FishState::usual, 1.7, 2.6},
              {FishState::fasted, 3.6, 5.6},
              {FishState::frightened, 0.9, 1.4}};
  for (const auto& row : rows) {
    EXPECT_NEAR(hours(d, row.state, false), row.five, std::max(0.05, 0.03 * row.five)) << state_name(row.state);
    EXPECT_NEAR(hours(d, row.state, true), row.three, std::max(0.05, 0.03 * row.three)) << state_name(row.state);
  }
  EXPECT_EQ(d.states.front().state, FishState::frightened);  // the earliest end first
}

TEST_F(PowerCut, WhatBuysTimeInWhichOrder) {
  still.battery = Energy<>(115.0 * 3600.0);
  still.comes_back = Volume<>(0.299);
  still.vent_in_doubt = true;
  const Drawdown d = draw_down(loop, 0, still);
  ASSERT_GE(d.actions.size(), 6u);
  const char* order[] = {"no feed", "hands", "air by battery", "buckets", "sump", "vent"};
  for (std::size_t i = 0; i < 6; ++i) EXPECT_NE(d.actions[i].what.find(order[i]), std::string::npos) << i;
  EXPECT_NE(why(d, "air by battery").find("0.65 to 1.6 g"), std::string::npos) << why(d, "air by battery");
  EXPECT_NE(why(d, "air by battery").find("14 h"), std::string::npos);
  EXPECT_NE(why(d, "buckets").find("0.96 g an hour: 40 %"), std::string::npos) << why(d, "buckets");
  EXPECT_NE(why(d, "brim").find("299 L"), std::string::npos);
  for (const Action& action : d.actions)
    if (action.what.find("battery") != std::string::npos) {
      EXPECT_NE(action.caution.find("generator"), std::string::npos);
    }
}

TEST_F(PowerCut, ADenseTankHasTwentyOneToThirtyMinutes) {
  loop.fish[0].count = 200.0;  // 30 kg
  still.temperature = Temperature<>::from_celsius(18.0);
  still.oxygen = Density<>(8.0e-3);
  const Drawdown d = draw_down(loop, 0, still);
  EXPECT_NEAR(60.0 * hours(d, FishState::fed, true), 21.0, 1.0);
  EXPECT_NEAR(60.0 * hours(d, FishState::usual, true), 30.0, 1.0);
}

TEST_F(PowerCut, TheBandHoldsTheMiddleAndIsWide) {
  for (const TimeLeft& t : draw_down(loop, 0, still).states) {
    EXPECT_LT(t.to_danger.soonest, t.to_danger.likely);
    EXPECT_LT(t.to_danger.likely, t.to_danger.latest);
    EXPECT_LT(t.to_low.likely, t.to_danger.likely);
  }
}

TEST_F(PowerCut, FewFishNeverFallAndThatIsSaid) {
  loop.fish[0].count = 1.0;
  loop.fish[0].mass = Mass<>(0.05);
  const Drawdown d = draw_down(loop, 0, still);
  EXPECT_TRUE(std::isinf(hours(d, FishState::fasted, true)));
}

TEST_F(PowerCut, OxygenAlreadyGoneGivesNoTime) {
  still.oxygen = Density<>(2.0e-3);
  const Drawdown d = draw_down(loop, 0, still);
  EXPECT_EQ(hours(d, FishState::fed, true), 0.0);
}

TEST_F(PowerCut, ATankWithoutFishHasNothingToCountDown) {
  loop.fish.clear();
  EXPECT_FALSE(draw_down(loop, 0, still).has_fish);
}

TEST_F(PowerCut, ALoopWithoutFishIsNotOneWhoseFishAreSafe) {
  OutageRequest request;
  request.fault = {model::Fault::Kind::power, "power"};
  EXPECT_TRUE(outage(loop, request).has_fish);
  loop.fish.clear();
  const OutageAnswer a = outage(loop, request);
  EXPECT_FALSE(a.has_fish);
  EXPECT_TRUE(a.fish.empty());
}

TEST_F(PowerCut, TheWholeAnswerLeavesTheTankItsWater) {
  OutageRequest request;
  request.fault = {model::Fault::Kind::power, "power"};
  request.temperature = Temperature<>::from_celsius(14.0);
  request.oxygen = Density<>(9.0e-3);
  request.fed_ago = Duration<>(2.0 * 3600.0);
  const OutageAnswer a = outage(loop, request);
  ASSERT_TRUE(a.finished) << a.said;
  EXPECT_NEAR(a.vessels[0].after.si(), 1.3091, 0.001);
  ASSERT_EQ(a.fish.size(), 1u);
  EXPECT_EQ(a.fish[0].likely, FishState::fed);
  EXPECT_NEAR(hours(a.fish[0], FishState::fed, true), 1.8, 0.054);
}

TEST_F(PowerCut, AnOverflowWithoutVentThatFillsDrawsTheTankDown) {
  loop.overflows[0].vented = false;
  loop.overflows[0].back->bore = Length<>(0.0405);  // small enough to fill
  loop.overflows[0].standpipe_bore = Length<>(0.0405);
  loop.vessels[1].rim = Length<>(3.0);  // a sump that takes it all, so that it goes on
  const model::Plumbing plumbing(loop);
  const model::Cycle cycle = model::find_cycle(plumbing, model::water_at_rest(loop));
  ASSERT_NE(cycle.kind, model::Cycle::Kind::none) << cycle.said;
  EXPECT_LT(cycle.vessels[0].low.si(), 1.0);  // the rim is at 1.309: it runs on as a siphon until the pump keeps up
  loop.overflows[0].vented = true;
  const model::Cycle open = model::find_cycle(plumbing, model::water_at_rest(loop));
  EXPECT_GT(open.vessels[0].low.si(), 1.30);
}

TEST_F(PowerCut, AnAirLineThatRunsOnGivesTime) {
  model::AirLine stone;
  stone.vessel = 0;
  stone.flow = Flow<>(20e-3 / 60.0);
  stone.depth = Length<>(0.8);
  stone.transfer_per_metre = 0.02;
  loop.airs.push_back(stone);
  OutageRequest request;
  request.temperature = Temperature<>::from_celsius(14.0);
  request.oxygen = Density<>(9.0e-3);
  request.fault = {model::Fault::Kind::power, "power"};
  const double without = hours(outage(loop, request).fish.at(0), FishState::fed, true);
  request.fault = {model::Fault::Kind::pump, "pump.main"};
  EXPECT_GT(hours(outage(loop, request).fish.at(0), FishState::fed, true), 1.3 * without);
}

TEST_F(PowerCut, TheTableForTheWallCoversColdToWarm) {
  const auto tables = emergency_tables(loop);
  ASSERT_EQ(tables.size(), 1u);
  EXPECT_EQ(tables[0].rows.size(), 5u * 3u * 4u);
  double before = 1e300;
  for (const auto& row : tables[0].rows)
    if (row.stock == 1.0 && row.state == FishState::fed) {
      EXPECT_LT(row.to_danger.likely.si(), before);
      before = row.to_danger.likely.si();
    }
}

}  // namespace
}  // namespace leat::answers
