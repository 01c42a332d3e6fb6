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

/// Ten fish one by one, and the same as counts: a death and a loss at 8, the death first.
TEST(SurvivalOfCounts, IsTheSameAsOneByOne) {
  const std::vector<Followed> fish = {{8, true},  {12, true}, {26, true},  {14, true},  {21, true},
                                      {27, true}, {8, false}, {32, false}, {20, false}, {40, false}};
  std::vector<CountedEvent> events = {{0.0, 10.0}};
  for (const Followed& f : fish) events.push_back({f.time, 0.0, f.died ? 1.0 : 0.0, f.died ? 0.0 : 1.0});
  const auto one_by_one = survival_kaplan_meier(fish), counted = survival_of_counts(events);
  ASSERT_EQ(counted.size(), one_by_one.size());
  for (std::size_t i = 0; i < counted.size(); ++i) {
    EXPECT_DOUBLE_EQ(counted[i].survival, one_by_one[i].survival);
    EXPECT_DOUBLE_EQ(counted[i].greenwood, one_by_one[i].greenwood);
    EXPECT_EQ(counted[i].at_risk, one_by_one[i].at_risk);
  }
}

TEST(SurvivalOfCounts, ThoseThatComeLaterAreNotAtRiskBefore) {
  // 10 from day 0; 2 die on day 5; 12 more on day 6; 4 of 20 die on day 9: 0.8 x 0.8.
  const auto steps = survival_of_counts({{0.0, 10.0}, {5.0, 0.0, 2.0}, {6.0, 12.0}, {9.0, 0.0, 4.0}});
  ASSERT_EQ(steps.size(), 2u);
  EXPECT_DOUBLE_EQ(steps[0].survival, 0.8);
  EXPECT_DOUBLE_EQ(steps[1].at_risk, 20.0);
  EXPECT_DOUBLE_EQ(steps[1].survival, 0.64);
  EXPECT_TRUE(survival_of_counts({{5.0, 0.0, 2.0}}).empty());
}

}  // namespace
}  // namespace leat::science
