#include "science/statistics/intervals.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace leat::science {
namespace {

double choose(int n, int k) {
  return std::exp(std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0));
}
double at_most(int k, int n, double p) {
  double sum = 0.0;
  for (int i = 0; i <= k; ++i) sum += choose(n, i) * std::pow(p, i) * std::pow(1.0 - p, n - i);
  return sum;
}

TEST(ClopperPearson, LimitsLeaveExactlyTheTailsOfTheBinomial) {
  for (const int n : {5, 20, 60})
    for (int k = 1; k < n; k += 3) {
      const Interval i = share_clopper_pearson(k, n, 0.95);
      EXPECT_NEAR(at_most(k, n, i.high), 0.025, 1e-9) << k << '/' << n;
      EXPECT_NEAR(1.0 - at_most(k - 1, n, i.low), 0.025, 1e-9) << k << '/' << n;
    }
}

TEST(ClopperPearson, HasClosedFormsAtTheEnds) {
  const Interval none = share_clopper_pearson(0, 60, 0.95), all = share_clopper_pearson(60, 60, 0.95);
  EXPECT_EQ(none.low, 0.0);
  EXPECT_NEAR(none.high, 1.0 - std::pow(0.025, 1.0 / 60.0), 1e-12);
  EXPECT_EQ(all.high, 1.0);
  EXPECT_NEAR(all.low, 1.0 - none.high, 1e-12);
  // The rule of three is the one-sided limit, rounded up.
  EXPECT_NEAR(share_upper_limit(0, 60, 0.95), share_rule_of_three(60), 0.0015);
}

TEST(Garwood, LimitsLeaveExactlyTheTailsOfThePoisson) {
  for (const int count : {1, 3, 12, 40}) {
    const Interval i = count_poisson_exact(count, 0.95);
    double up_to = 0.0, below = 0.0;
    for (int k = 0; k <= count; ++k) {
      up_to += std::exp(k * std::log(i.high) - i.high - std::lgamma(k + 1.0));
      if (k < count) below += std::exp(k * std::log(i.low) - i.low - std::lgamma(k + 1.0));
    }
    EXPECT_NEAR(up_to, 0.025, 1e-9) << count;
    EXPECT_NEAR(1.0 - below, 0.025, 1e-9) << count;
  }
  EXPECT_EQ(count_poisson_exact(0, 0.95).low, 0.0);
  EXPECT_NEAR(count_poisson_exact(0, 0.95).high, -std::log(0.025), 1e-10);
}

TEST(Mean, IntervalIsCentredAndWiderForHigherLevels) {
  const std::vector<double> masses{131, 150, 162, 149, 177};
  const Sample s = sample_of(masses);
  EXPECT_NEAR(s.mean, 153.8, 1e-12);
  EXPECT_NEAR(s.deviation * s.deviation * 4.0, 1162.8, 1e-9);
  EXPECT_LT(mean_half_width(s, 0.90), mean_half_width(s, 0.95));
  const Interval i = mean_interval(s, 0.95);
  EXPECT_NEAR(0.5 * (i.low + i.high), s.mean, 1e-12);
}

TEST(Mean, GeometricIsBelowTheArithmeticAndScales) {
  const std::vector<double> masses{50, 100, 200}, doubled{100, 200, 400};
  EXPECT_NEAR(geometric_mean(masses, 0.95).mean, 100.0, 1e-9);
  EXPECT_NEAR(geometric_mean(doubled, 0.95).interval.high, 2.0 * geometric_mean(masses, 0.95).interval.high, 1e-6);
}

TEST(EffectiveCount, RunsFromGroupsToMembers) {
  EXPECT_NEAR(effective_count(40, 10, 0.0), 40.0, 1e-12);
  EXPECT_NEAR(effective_count(40, 10, 1.0), 4.0, 1e-12);
  EXPECT_NEAR(effective_count_series(60, 0.0), 60.0, 1e-12);
}

TEST(LagOneCorrelation, KnowsAPersistentSeriesFromAJumpingOne) {
  EXPECT_GT(lag_one_correlation(std::vector<double>{1, 2, 3, 4, 5, 6, 7, 8}), 0.5);
  EXPECT_LT(lag_one_correlation(std::vector<double>{1, 8, 1, 8, 1, 8, 1, 8}), -0.5);
  EXPECT_EQ(lag_one_correlation(std::vector<double>{2, 2, 2}), 0.0);
}

}  // namespace
}  // namespace leat::science
