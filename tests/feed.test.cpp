// What today's feed follows from: warmth, the table, and what the water must not hold.
#include "answers/feed.h"

#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class Feed : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  static FeedRequest at(double celsius) {
    FeedRequest r;
    r.temperature = Temperature<>::from_celsius(celsius);
    r.oxygen = Density<>(9e-3);
    return r;
  }
  double grams(const FeedRequest& r) const { return 1e3 * feed(loop, r).groups.at(0).today.si(); }
};

TEST_F(Feed, RisesWithWarmthAndStopsInColdAndHeat) {
  EXPECT_LT(grams(at(6.0)), grams(at(10.0)));
  EXPECT_LT(grams(at(10.0)), grams(at(14.0)));
  EXPECT_EQ(grams(at(1.0)), 0.0);
  EXPECT_EQ(grams(at(21.0)), 0.0);
}

TEST_F(Feed, StaysWithinTheGuardOfTheTable) {
  for (double t = 4.0; t <= 18.0; t += 1.0) {
    const GroupFeed g = feed(loop, at(t)).groups.at(0);
    EXPECT_LE(g.share_of_mass, 1.5 * g.ration.by_table.si() * 86400.0 + 1e-12) << t;
  }
}

TEST_F(Feed, PoisonAndGaspingStopIt) {
  FeedRequest r = at(14.0);
  r.ammonia = Density<>(1e-3);
  r.pH = 8.6;  // 9 % un-ionised
  EXPECT_EQ(grams(r), 0.0);
  r.pH = 6.8;
  EXPECT_GT(grams(r), 0.0);
  r.oxygen = Density<>(4e-3);
  EXPECT_EQ(grams(r), 0.0);
}

TEST_F(Feed, LeftOverFeedTakesAFifthOff) {
  FeedRequest r = at(12.0);
  const double all = grams(r);
  r.left_over = true;
  EXPECT_NEAR(grams(r), 0.8 * all, 1e-9);
}

TEST_F(Feed, MealsAddUpAndWhatWasTakenIsSaid) {
  const FeedAnswer a = feed(loop, {});
  const GroupFeed& g = a.groups.at(0);
  EXPECT_NEAR(g.a_meal.si() * static_cast<double>(g.meals.size()), g.today.si(), 1e-12);
  EXPECT_EQ(a.assumed.size(), 4u) << "oxygen; ammonia, pH and nitrite as the file has them, which says the temperature";
}

TEST_F(Feed, WhatTheFileSaysOfItsWaterCounts) {
  loop.water.ammonia = Concentration<>(20e-3 / 14.007e-3);
  EXPECT_TRUE(feed(loop, {}).groups.at(0).stop) << "un-ionised ammonia over its limit";
  FeedRequest read;
  read.ammonia = Density<>(0.1e-3);
  EXPECT_FALSE(feed(loop, read).groups.at(0).stop) << "what was read today goes before the file";
  loop.water.ammonia_said = false;
  EXPECT_FALSE(feed(loop, {}).groups.at(0).stop);
}

}  // namespace
}  // namespace leat::answers
