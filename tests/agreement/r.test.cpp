// The statistics against R, where R is on this computer: agreement with another program, which proves neither right.
// Where it is not, each of these counts as skipped.
// Debian: r-base-core, r-cran-nlme, r-cran-survival.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <sstream>
#include <vector>

#include "science/statistics/counted_permutation.h"
#include "science/statistics/intervals.h"
#include "science/statistics/mixed_model.h"
#include "science/statistics/survival.h"
#include "science/statistics/through_origin.h"
#include "science/statistics/two_groups.h"
#include "tests/yard.h"

namespace leat::science {
namespace {

const std::vector<double> kRaft = {118, 142, 96, 131, 155, 109};
const std::vector<double> kGravel = {88, 121, 104, 97, 133, 79, 110};
const std::string kData = "a <- c(118,142,96,131,155,109); b <- c(88,121,104,97,133,79,110); ";

class AgreementWithR : public ::testing::Test {
 protected:
  void SetUp() override {
    if (tests_printed("command -v Rscript").code != 0) GTEST_SKIP() << "R is not on this computer";
  }
  static leat::tests::Printed tests_printed(const std::string& line) { return leat::tests::printed_by_shell(line); }
  /// Numbers that R prints for an expression, 17 digits each.
  static std::vector<double> r(const std::string& expression) {
    const auto printed =
        tests_printed("Rscript --vanilla -e 'cat(sprintf(\"%.17g\", {" + expression + "}), sep=\" \")'");
    EXPECT_EQ(printed.code, 0) << printed.text;
    std::istringstream in(printed.text);
    std::vector<double> numbers;
    for (double x; in >> x;) numbers.push_back(x);
    return numbers;
  }
  static bool has(const std::string& package) {
    return tests_printed("Rscript --vanilla -e 'quit(status = if (requireNamespace(\"" + package +
                         "\", quietly = TRUE)) 0 else 1)'")
               .code == 0;
  }
};

TEST_F(AgreementWithR, Welch) {
  const auto theirs = r(kData + "t <- t.test(a, b); c(t$conf.int, t$p.value, t$parameter)");
  ASSERT_EQ(theirs.size(), 4u);
  const MeanDifference ours = mean_difference_welch(sample_of(kRaft), sample_of(kGravel), 0.95);
  EXPECT_NEAR(ours.interval.low, theirs[0], 1e-8);
  EXPECT_NEAR(ours.interval.high, theirs[1], 1e-8);
  EXPECT_NEAR(ours.p, theirs[2], 1e-10);
  EXPECT_NEAR(ours.degrees, theirs[3], 1e-9);
}

TEST_F(AgreementWithR, FisherAndShares) {
  const auto theirs =
      r("c(fisher.test(matrix(c(6,3,7,0),2))$p.value, fisher.test(matrix(c(12,5,9,14),2))$p.value, "
        "binom.test(6,9)$conf.int, binom.test(25,58)$conf.int, poisson.test(3)$conf.int)");
  ASSERT_EQ(theirs.size(), 8u);
  EXPECT_NEAR(shares_alike_fisher(6, 9, 7, 7), theirs[0], 1e-10);
  EXPECT_NEAR(shares_alike_fisher(12, 17, 9, 23), theirs[1], 1e-10);
  EXPECT_NEAR(share_clopper_pearson(6, 9, 0.95).low, theirs[2], 1e-9);
  EXPECT_NEAR(share_clopper_pearson(6, 9, 0.95).high, theirs[3], 1e-9);
  EXPECT_NEAR(share_clopper_pearson(25, 58, 0.95).low, theirs[4], 1e-9);
  EXPECT_NEAR(share_clopper_pearson(25, 58, 0.95).high, theirs[5], 1e-9);
  EXPECT_NEAR(count_poisson_exact(3, 0.95).low, theirs[6], 1e-8);
  EXPECT_NEAR(count_poisson_exact(3, 0.95).high, theirs[7], 1e-8);
}

/// R's power test uses the noncentral t; ours the sum of two quantiles, within 0.1 plants.
TEST_F(AgreementWithR, PlantsNeeded) {
  const auto theirs =
      r("c(power.t.test(delta=.15,sd=.18,power=.8)$n, power.t.test(delta=.15,sd=.3,power=.9)$n, "
        "power.t.test(delta=.15,sd=.14,power=.8)$n)");
  ASSERT_EQ(theirs.size(), 3u);
  EXPECT_NEAR(plants_needed(0.18, 0.15, 0.95, 0.80), theirs[0], 0.1);
  EXPECT_NEAR(plants_needed(0.30, 0.15, 0.95, 0.90), theirs[1], 0.1);
  EXPECT_NEAR(plants_needed(0.14, 0.15, 0.95, 0.80), theirs[2], 0.1);
}

TEST_F(AgreementWithR, EveryArrangement) {
  const auto theirs = r(kData +
                        "x <- c(a,b); k <- combn(13,6); d <- apply(k, 2, function(i) mean(x[i]) - mean(x[-i])); "
                        "c(mean(abs(d) >= abs(mean(a)-mean(b)) - 1e-9), ncol(k))");
  ASSERT_EQ(theirs.size(), 2u);
  const auto ours = permutation_test_counted(kRaft, kGravel);
  EXPECT_NEAR(ours->p, theirs[0], 1e-12);
  EXPECT_EQ(ours->arrangements, theirs[1]);
}

TEST_F(AgreementWithR, PlantsWithinBeds) {
  if (!has("nlme")) GTEST_SKIP() << "the package nlme is not on this computer";
  // Uneven beds, two cycles.
  const std::vector<double> y = {101, 112, 95,  108, 123, 131, 118, 99,  90,  104,
                                 140, 129, 151, 118, 109, 150, 158, 143, 149, 97};
  const std::vector<std::size_t> bed = {0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 5, 5, 5, 5, 4};
  const std::vector<double> cycle = {0, 0, 1, 1, 0, 1, 1, 0, 0, 1, 0, 0, 1, 0, 1, 0, 1, 0, 1, 1};
  std::vector<Grouped> plants;
  std::string values, beds, cycles;
  for (std::size_t i = 0; i < y.size(); ++i) {
    plants.push_back({y[i], {1.0, bed[i] % 2 == 1 ? 1.0 : 0.0, cycle[i]}, bed[i]});
    values += fmt::format("{}{}", i ? "," : "", y[i]);
    beds += fmt::format("{}{}", i ? "," : "", bed[i]);
    cycles += fmt::format("{}{}", i ? "," : "", cycle[i]);
  }
  const auto theirs = r("library(nlme); d <- data.frame(y=c(" + values + "), bed=c(" + beds + "), cy=c(" + cycles +
                        ")); d$t <- d$bed %% 2; d$g <- factor(d$bed); m <- lme(y ~ t + cy, random = ~1|g, data=d, "
                        "control=lmeControl(msTol=1e-12, tolerance=1e-12, opt=\"optim\", reltol=1e-14)); "
                        "c(fixef(m), sqrt(diag(vcov(m))), as.numeric(VarCorr(m)[,2]))");
  ASSERT_EQ(theirs.size(), 8u);
  const auto ours = mixed_model(plants);
  ASSERT_TRUE(ours);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(ours->effects[i], theirs[i], 1e-4);
    EXPECT_NEAR(ours->errors[i], theirs[3 + i], 1e-4);
  }
  EXPECT_NEAR(ours->between, theirs[6], 1e-3);
  EXPECT_NEAR(ours->within, theirs[7], 1e-3);
}

TEST_F(AgreementWithR, KaplanMeierWithLateEntries) {
  if (!has("survival")) GTEST_SKIP() << "the package survival is not on this computer";
  // Ten from day 0, two die on 5; twelve more from 6, four die on 9, three leave on 12, two die on 15.
  const auto theirs =
      r("library(survival); s <- c(rep(0,10), rep(6,12)); e <- c(5,5,9,9,12,15,20,20,20,20, "
        "9,9,12,12,15,rep(20,7)); d <- c(1,1,1,1,0,1,0,0,0,0, 1,1,0,0,1,rep(0,7)); "
        "f <- survfit(Surv(s,e,d)~1, conf.type=\"log-log\"); i <- f$n.event > 0; "
        "c(f$surv[i], f$lower[i], f$upper[i])");
  ASSERT_EQ(theirs.size(), 9u);
  const auto ours = survival_of_counts({{0, 10}, {5, 0, 2}, {6, 12}, {9, 0, 4}, {12, 0, 0, 3}, {15, 0, 2}});
  ASSERT_EQ(ours.size(), 3u);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(ours[i].survival, theirs[i], 1e-12);
    EXPECT_NEAR(survival_interval_loglog(ours[i], 0.95).low, theirs[3 + i], 1e-9);
    EXPECT_NEAR(survival_interval_loglog(ours[i], 0.95).high, theirs[6 + i], 1e-9);
  }
}

TEST_F(AgreementWithR, SlopeThroughTheOrigin) {
  const std::vector<double> x = {4.1, 6.0, 5.2, 3.9, 7.4, 5.5, 4.6, 6.3, 3.8};
  const std::vector<double> y = {1.2, 1.3, 1.6, 0.8, 2.1, 1.1, 1.2, 1.2, 1.2};
  const auto theirs =
      r("x <- c(4.1,6,5.2,3.9,7.4,5.5,4.6,6.3,3.8); y <- c(1.2,1.3,1.6,.8,2.1,1.1,1.2,1.2,1.2); "
        "coef(summary(lm(y ~ x - 1)))[1:2]");
  ASSERT_EQ(theirs.size(), 2u);
  const auto ours = line_through_origin(x, y);
  EXPECT_NEAR(ours->slope, theirs[0], 1e-12);
  EXPECT_NEAR(ours->error, theirs[1], 1e-12);
}

}  // namespace
}  // namespace leat::science
