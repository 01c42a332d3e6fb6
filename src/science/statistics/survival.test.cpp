#include "science/statistics/survival.h"

#include <gtest/gtest.h>

#include <cmath>

#include "science/statistics/intervals.h"

namespace leat::science {
namespace {

// Twenty subjects of the example of Boston University's module BS704; a loss is marked by false.
const std::vector<Followed> kTwenty{{24, false}, {3, true},   {11, false}, {19, false}, {24, false},
                                    {13, false}, {14, true},  {2, false},  {18, false}, {17, false},
                                    {24, false}, {21, false}, {12, false}, {1, true},   {10, false},
                                    {23, true},  {6, false},  {5, true},   {9, false},  {17, true}};
// Textbook case of the test suite of SciPy's ecdf.
const std::vector<Followed> kTen{{37, false}, {43, false}, {47, true}, {56, true}, {60, false},
                                 {62, false}, {71, false}, {77, true}, {80, true}, {81, true}};

TEST(KaplanMeier, MarginsOfThePublishedTable) {
  const auto steps = survival_kaplan_meier(kTwenty);
  EXPECT_NEAR(1.96 * survival_at(steps, 14).standard_error(), 0.214, 0.001);
  EXPECT_NEAR(1.96 * survival_at(steps, 23).standard_error(), 0.341, 0.001);
}

TEST(KaplanMeier, LinearIntervalAgreesWithTheOtherProgram) {
  const auto steps = survival_kaplan_meier(kTen);
  EXPECT_NEAR(survival_interval_linear(survival_at(steps, 47), 0.95).low, 0.6458276962, 1e-6);
}

TEST(KaplanMeier, WithoutLossesIsTheShareAlive) {
  const auto steps = survival_kaplan_meier({{3, true}, {1, true}, {2, true}, {4, true}, {9, true}});
  double alive = 1.0;
  for (const SurvivalStep& step : steps) {
    alive -= 0.2;
    EXPECT_NEAR(step.survival, alive, 1e-12);
    if (alive > 0.1) {
      EXPECT_NEAR(step.standard_error(), std::sqrt(alive * (1 - alive) / 5.0), 1e-12);
    }
  }
  EXPECT_EQ(steps.back().standard_error(), 0.0);
}

TEST(KaplanMeier, CountsDeathsBeforeLossesAtTheSameTime) {
  const auto steps = survival_kaplan_meier({{8, false}, {8, true}, {12, true}});
  EXPECT_NEAR(steps[0].survival, 2.0 / 3.0, 1e-12);
  EXPECT_EQ(steps[0].at_risk, 3.0);
  EXPECT_EQ(steps[1].at_risk, 1.0);
}

TEST(KaplanMeier, OrderDoesNotMatterAndSurvivalNeverRises) {
  std::vector<Followed> turned(kTwenty.rbegin(), kTwenty.rend());
  const auto a = survival_kaplan_meier(kTwenty), b = survival_kaplan_meier(turned);
  ASSERT_EQ(a.size(), b.size());
  double before = 1.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    EXPECT_EQ(a[i].survival, b[i].survival);
    EXPECT_LE(a[i].survival, before);
    before = a[i].survival;
  }
  EXPECT_EQ(survival_at(a, 0.5).survival, 1.0);
  EXPECT_TRUE(survival_kaplan_meier({{5, false}, {6, false}}).empty());
}

TEST(KaplanMeier, LogLogIntervalStaysInsideWhereTheLinearOneLeaves) {
  const auto steps = survival_kaplan_meier(kTen);
  for (const SurvivalStep& step : steps) {
    const Interval i = survival_interval_loglog(step, 0.95);
    EXPECT_GE(i.low, 0.0);
    EXPECT_LE(i.high, 1.0);
    EXPECT_LE(i.low, step.survival);
    EXPECT_GE(i.high, step.survival);
  }
  EXPECT_LT(survival_interval_linear(survival_at(steps, 80), 0.95).low, 0.0);
}

}  // namespace
}  // namespace leat::science
