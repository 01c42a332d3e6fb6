#include "science/statistics/through_origin.h"

#include <gtest/gtest.h>

#include <array>

namespace leat::science {
namespace {

// Swings of air and water on twelve days before a move and nine after; the wanted numbers by an independent program.
constexpr std::array kAir1 = {11.0, 13.5, 9.2, 12.4, 14.1, 8.6, 10.9, 12.8, 13.0, 9.9, 11.6, 11.0};
constexpr std::array kWater1 = {4.6, 7.0, 4.2, 5.4, 7.3, 4.0, 5.6, 5.6, 6.7, 4.2, 4.8, 5.4};
constexpr std::array kAir2 = {4.1, 6.0, 5.2, 3.9, 7.4, 5.5, 4.6, 6.3, 3.8};
constexpr std::array kWater2 = {1.2, 1.3, 1.6, 0.8, 2.1, 1.1, 1.2, 1.2, 1.2};

TEST(ThroughOrigin, SlopesAndTheirErrors) {
  const auto before = line_through_origin(kAir1, kWater1), after = line_through_origin(kAir2, kWater2);
  ASSERT_TRUE(before && after);
  EXPECT_NEAR(before->slope, 0.47202464745252026, 1e-12);
  EXPECT_NEAR(before->error, 0.01260882226008272, 1e-12);
  EXPECT_NEAR(after->slope, 0.24823778195488724, 1e-12);
  EXPECT_NEAR(after->error, 0.01617086902888789, 1e-12);
  const SlopesApart apart = slopes_apart(*before, *after, 0.95);
  EXPECT_NEAR(apart.degrees, 16.302188420912536, 1e-9);
  EXPECT_NEAR(10.0 * apart.interval.low, 1.8, 0.05);
  EXPECT_NEAR(10.0 * apart.interval.high, 2.7, 0.05);
  const Shares shares = shares_of_drop(*before, *after);
  EXPECT_NEAR(shares.drop, 4.1, 1e-9);
  EXPECT_NEAR(shares.by_x_first, 2.973755278950878, 1e-9);
  EXPECT_NEAR(shares.by_slope_first, 2.5735489532227795, 1e-9);
}

TEST(ThroughOrigin, AnExactProportionHasNoError) {
  const std::array x = {1.0, 2.0, 4.0}, y = {0.5, 1.0, 2.0};
  EXPECT_DOUBLE_EQ(line_through_origin(x, y)->slope, 0.5);
  EXPECT_DOUBLE_EQ(line_through_origin(x, y)->error, 0.0);
  const std::array none = {0.0, 0.0, 0.0};
  EXPECT_FALSE(line_through_origin(none, y));
}

TEST(ThroughOrigin, BlocksHoldTheDifferenceAndAreRepeatable) {
  const auto one = slopes_apart_blocks(kAir1, kWater1, kAir2, kWater2, 3, 0.95);
  const auto two = slopes_apart_blocks(kAir1, kWater1, kAir2, kWater2, 3, 0.95);
  ASSERT_TRUE(one && two);
  EXPECT_EQ(one->low, two->low);
  EXPECT_LT(one->low, 0.22378686549763303);
  EXPECT_GT(one->high, 0.22378686549763303);
  EXPECT_FALSE(slopes_apart_blocks(kAir1, kWater1, kAir2, kWater2, 10, 0.95));
}

/// A block as long as both series leaves nothing to redraw.
TEST(ThroughOrigin, WholeSeriesAsOneBlockGivesThePlainDifference) {
  const auto one = slopes_apart_blocks(kAir2, kWater2, kAir2, kWater2, 9, 0.95);
  EXPECT_DOUBLE_EQ(one->low, 0.0);
  EXPECT_DOUBLE_EQ(one->high, 0.0);
}

TEST(ThroughOrigin, TimeConstantsOfTheTwoTanks) {
  EXPECT_NEAR(time_constant_hours(0.472), 7.1, 0.05);
  EXPECT_NEAR(time_constant_hours(0.248), 14.9, 0.05);
  // Where the store shows 1/sqrt(2) of the swing its time constant is the day over 2 pi.
  EXPECT_NEAR(time_constant_hours(0.70710678118654752), 24.0 / 6.283185307179586, 1e-12);
}

}  // namespace
}  // namespace leat::science
