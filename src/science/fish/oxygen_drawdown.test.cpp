#include "science/fish/oxygen_drawdown.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

Density<> mg(double per_litre) {
  return Density<>(1e-3 * per_litre);
}
Frequency<> an_hour(double x) {
  return Frequency<>(x / 3600.0);
}
Density<> mg_an_hour(double x) {
  return Density<>(1e-3 * x / 3600.0);
}
double hours_to(double from, double level, double exchange, double demand) {
  return time_to_oxygen_level(mg(from), mg(level), mg(10.306), an_hour(exchange), mg_an_hour(demand)).in(units::hour);
}
Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}

TEST(StillTank, WithoutASurfaceFallsInAStraightLine) {
  EXPECT_NEAR(hours_to(9.0, 5.0, 0.0, 2.0), 2.0, 1e-12);
  EXPECT_TRUE(std::isinf(hours_to(9.0, 5.0, 0.0, 0.0)));
}

TEST(StillTank, AnAlmostDeadSurfaceIsAlmostNone) {
  for (const double k : {1e-4, 1e-8, 1e-12, 1e-15}) EXPECT_NEAR(hours_to(9.0, 5.0, k, 2.0), 2.0, 5.0 * k + 1e-9) << k;
}

TEST(StillTank, TimeAndOxygenAreEachOthersInverse) {
  for (const double k : {0.0, 1e-6, 0.033, 0.2})
    for (const double level : {8.0, 5.0, 3.0, 0.5}) {
      const double t = hours_to(9.0, level, k, 3.0);
      ASSERT_TRUE(std::isfinite(t));
      const Density<> left = still_tank_oxygen_after(mg(9.0), mg(10.306), an_hour(k), mg_an_hour(3.0), t * units::hour);
      EXPECT_NEAR(1e3 * left.si(), level, 1e-9) << k << ' ' << level;
    }
}

TEST(StillTank, RestsWhereTheSurfaceGivesWhatIsTaken) {
  const double rest = 10.306 - 1.0 / 0.2;  // 5.306
  EXPECT_TRUE(std::isinf(hours_to(9.0, rest - 0.001, 0.2, 1.0)));
  EXPECT_GT(hours_to(9.0, rest + 0.001, 0.2, 1.0), 20.0);
  EXPECT_NEAR(
      1e3 * still_tank_oxygen_after(mg(9.0), mg(10.306), an_hour(0.2), mg_an_hour(1.0), 200.0 * units::hour).si(), rest,
      1e-9);
}

TEST(StillTank, HoldsNoLessThanNothing) {
  EXPECT_EQ(still_tank_oxygen_after(mg(2.0), mg(10.0), an_hour(0.0), mg_an_hour(3.0), 5.0 * units::hour).si(), 0.0);
  EXPECT_EQ(hours_to(2.9, 3.0, 0.03, 3.0), 0.0);
}

TEST(StillTank, MoreFishLessSurfaceAndAHigherLevelLeaveLessTime) {
  EXPECT_LT(hours_to(9.0, 3.0, 0.03, 3.1), hours_to(9.0, 3.0, 0.03, 3.0));
  EXPECT_LT(hours_to(9.0, 3.0, 0.02, 3.0), hours_to(9.0, 3.0, 0.03, 3.0));
  EXPECT_LT(hours_to(9.0, 5.0, 0.03, 3.0), hours_to(9.0, 3.0, 0.03, 3.0));
}

TEST(FastedFish, SaveLessInTheColdAndNeverTakeMoreThanFedOnes) {
  EXPECT_EQ(demand_factor_fasted(at(0.0)), 0.75);
  EXPECT_EQ(demand_factor_fasted(at(14.0)), 0.5);
  for (double c = 0.0; c < 30.0; c += 0.5) {
    EXPECT_GE(demand_factor_fasted(at(c)), demand_factor_fasted(at(c + 0.5)));
    EXPECT_LT(demand_factor_fasted(at(c)), DemandFactors{}.usual);
  }
}

TEST(Digesting, TakesLongerInTheCold) {
  EXPECT_NEAR(digesting_times(at(15.0)).more.in(units::hour), 10.0, 1e-9);
  EXPECT_NEAR(digesting_times(at(5.0)).more.in(units::hour), 23.0, 1e-9);
  EXPECT_LT(digesting_times(at(5.0)).more, digesting_times(at(5.0)).done);
}

}  // namespace
}  // namespace leat::science
