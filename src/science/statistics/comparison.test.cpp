#include "science/statistics/comparison.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <vector>

namespace leat::science {
namespace {

TEST(Permutation, ReachesItsSmallestPWhenTheGroupsPartCompletely) {
  const std::vector<double> gravel{5.1, 5.3, 5.0}, raft{4.0, 4.2, 4.4};
  const auto r = permutation_test(gravel, raft);
  ASSERT_TRUE(r.has_value());
  EXPECT_NEAR(r->p, 0.1, 1e-12);
  EXPECT_NEAR(r->p, r->smallest_p, 1e-12);
  EXPECT_EQ(r->arrangements, 20.0);
  EXPECT_NEAR(r->difference, 15.4 / 3.0 - 12.6 / 3.0, 1e-12);
}

TEST(Permutation, CannotTellOneUnitEachAndDoesNotCareWhichComesFirst) {
  EXPECT_EQ(permutation_test(std::vector<double>{9.0}, std::vector<double>{1.0})->p, 1.0);
  const std::vector<double> a{1, 5, 3, 8}, b{2, 9, 7};
  EXPECT_NEAR(permutation_test(a, b)->p, permutation_test(b, a)->p, 1e-12);
  EXPECT_NEAR(permutation_test(a, b)->difference, -permutation_test(b, a)->difference, 1e-12);
}

TEST(Permutation, OfEqualUnitsSaysNothing) {
  const std::vector<double> same{2, 2, 2};
  EXPECT_EQ(permutation_test(same, same)->p, 1.0);
  EXPECT_FALSE(permutation_test({}, same).has_value());
  EXPECT_FALSE(permutation_test(std::vector<double>(13, 1.0), std::vector<double>(13, 1.0)).has_value());
}

TEST(SignFlip, OfFivePairsAllOneWayIsOneInSixteen) {
  EXPECT_NEAR(sign_flip_test(std::vector<double>{0.2, 0.5, 0.1, 0.9, 0.4})->p, 2.0 / 32.0, 1e-12);
  EXPECT_EQ(sign_flip_test(std::vector<double>{1.0, -1.0})->p, 1.0);
  EXPECT_FALSE(sign_flip_test({}).has_value());
  // Drawn ways stand for all of them: within four standard errors of the exact share.
  const std::vector<double> some = {0.9, -0.4, 1.1, 0.3, -0.2, 0.8, 0.1, -0.6, 0.7, 0.2, -0.1, 0.5};
  const double exact = sign_flip_test(some)->p;
  EXPECT_NEAR(sign_flip_test_drawn(some).p, exact, 4.0 * std::sqrt(exact * (1.0 - exact) / 20000.0));
  EXPECT_NEAR(sign_flip_test_drawn(some).difference, sign_flip_test(some)->difference, 1e-12);
  EXPECT_NEAR(sign_flip_test_drawn(std::vector<double>(100, 1.0)).p, 1.0 / 20001.0, 1e-12);
}

TEST(Blocks, IntervalHoldsTheMeanRepeatsAndWidensForPersistentSeries) {
  std::mt19937_64 random(7);
  std::normal_distribution<double> noise;
  std::vector<double> series;
  double x = 0.0;
  for (int i = 0; i < 120; ++i) series.push_back(5.0 + (x = 0.7 * x + noise(random)));
  const auto days = mean_interval_blocks(series, 1, 0.95), blocks = mean_interval_blocks(series, 8, 0.95);
  const double mean = sample_of(series).mean;
  ASSERT_TRUE(days && blocks);
  EXPECT_LT(blocks->low, mean);
  EXPECT_GT(blocks->high, mean);
  EXPECT_GT(blocks->high - blocks->low, 1.3 * (days->high - days->low));
  EXPECT_EQ(mean_interval_blocks(series, 8, 0.95)->low, blocks->low);
  EXPECT_FALSE(mean_interval_blocks(series, 121, 0.95).has_value());
}

TEST(Blocks, IntervalHoldsTheTruthAboutAsOftenAsItSays) {
  std::mt19937_64 random(11);
  std::normal_distribution<double> noise;
  int held = 0;
  const int trials = 200;
  for (int t = 0; t < trials; ++t) {
    std::vector<double> series;
    double x = 0.0;
    for (int i = 0; i < 200; ++i) series.push_back(x = 0.5 * x + noise(random));
    const auto interval = mean_interval_blocks(series, 10, 0.95, 400, static_cast<std::uint64_t>(t));
    if (interval->low < 0.0 && 0.0 < interval->high) ++held;
  }
  EXPECT_GT(held, trials * 85 / 100);
}

TEST(Line, ReturnsTheLineThatItWasGivenAndIsUnsureByItsScatter) {
  const std::vector<double> x{0, 100, 200, 300, 400};
  std::vector<double> y;
  for (const double at : x) y.push_back(2.15 + 0.00174 * at);
  const auto exact = line_fit(x, y);
  EXPECT_NEAR(exact->slope, 0.00174, 1e-15);
  EXPECT_NEAR(exact->intercept, 2.15, 1e-12);
  y[2] += 0.05;
  const auto rough = line_fit(x, y);
  EXPECT_LT(rough->slope_interval(0.95).low, 0.00174);
  EXPECT_GT(rough->slope_interval(0.95).high, 0.00174);
  // The error of a slope by its definition: s / sqrt(Sxx), s^2 = SSE / (n - 2); a bump in the middle leaves 0.8 of its
  // square.
  EXPECT_NEAR(rough->slope_error, std::sqrt(0.8 * 0.0025 / 3.0 / 1e5), 1e-12);
  EXPECT_FALSE(line_fit(std::vector<double>{1, 1, 1}, std::vector<double>{1, 2, 3}).has_value());
  EXPECT_FALSE(line_fit(std::vector<double>{1, 2}, std::vector<double>{1, 2}).has_value());
}

}  // namespace
}  // namespace leat::science
