#include "science/statistics/two_groups.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace leat::science {
namespace {

// Survivors of a raft and a gravel bed, fresh grams; the expected numbers were worked out by an independent program.
constexpr std::array kRaft = {118.0, 142.0, 96.0, 131.0, 155.0, 109.0};
constexpr std::array kGravel = {88.0, 121.0, 104.0, 97.0, 133.0, 79.0, 110.0};

TEST(TwoGroups, WelchOnUnevenGroups) {
  const MeanDifference d = mean_difference_welch(sample_of(kRaft), sample_of(kGravel), 0.95);
  EXPECT_NEAR(d.difference, 20.595238095238102, 1e-12);
  EXPECT_NEAR(d.standard_error, 11.352449863964702, 1e-10);
  EXPECT_NEAR(d.degrees, 9.98618928311608, 1e-9);
  EXPECT_NEAR(d.interval.low, -4.7, 0.05);
  EXPECT_NEAR(d.interval.high, 45.9, 0.05);
  // The interval just touches 0 at the level 1 - p.
  EXPECT_NEAR(mean_difference_welch(sample_of(kRaft), sample_of(kGravel), 1.0 - d.p).interval.low, 0.0, 1e-7);
}

TEST(TwoGroups, FisherOnTheLadyTastingTea) {
  // Fisher 1935: of eight cups all four of each kind told right, one way in 70; two-sided two ways.
  EXPECT_NEAR(shares_alike_fisher(4, 4, 0, 4), 2.0 / 70.0, 1e-12);
  // Three of four right: 1 + 16 + 16 + 1 of 70.
  EXPECT_NEAR(shares_alike_fisher(3, 4, 1, 4), 34.0 / 70.0, 1e-12);
  EXPECT_NEAR(shares_alike_fisher(5, 9, 5, 9), 1.0, 1e-12);
}

TEST(TwoGroups, FisherByHand) {
  // 6 of 9 and 7 of 7 lived: 13 of 16. The three dead lie all in the nine, C(9,3)/C(16,3) = 84/560, or so unlikely or
  // less elsewhere: all in the seven, C(7,3)/C(16,3) = 35/560.
  EXPECT_NEAR(shares_alike_fisher(6, 9, 7, 7), (84.0 + 35.0) / 560.0, 1e-12);
}

TEST(TwoGroups, PlantsNeededMeetTheirOwnEquation) {
  EXPECT_NEAR(plants_needed_normal(0.18, 0.15, 0.95, 0.80), 2.0 * std::pow((1.959963985 + 0.841621234) * 1.2, 2), 1e-6);
  // Noncentral t, power 0.80: 23.6 (agreement: the t test's power solved by another program, from memory).
  EXPECT_NEAR(plants_needed(0.18, 0.15, 0.95, 0.80), 23.6, 0.1);
  EXPECT_GT(plants_needed(0.3, 0.15, 0.95, 0.80), plants_needed(0.2, 0.15, 0.95, 0.80));
  EXPECT_GT(plants_needed(0.2, 0.15, 0.95, 0.90), plants_needed(0.2, 0.15, 0.95, 0.80));
  EXPECT_DOUBLE_EQ(plants_needed(0.001, 0.5, 0.95, 0.80), 2.0);
}

}  // namespace
}  // namespace leat::science
