#include "science/statistics/special_functions.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace leat::science {
namespace {

// Values to 17 digits from sums carried with 40 (agreement).
TEST(IncompleteGamma, AgreesWithFortyDigits) {
  EXPECT_NEAR(incomplete_gamma(0.5, 0.3) / 0.56142197391900014, 1.0, 1e-13);
  EXPECT_NEAR(incomplete_gamma(3.0, 8.0) / 0.98624603225599701, 1.0, 1e-13);
  EXPECT_NEAR(incomplete_gamma(50.0, 45.0) / 0.24680203440017027, 1.0, 1e-13);
  EXPECT_NEAR(incomplete_gamma(1000.0, 1100.0) / 0.99894067674607002, 1.0, 1e-13);
}

TEST(IncompleteBeta, AgreesWithFortyDigits) {
  EXPECT_NEAR(incomplete_beta(0.5, 0.5, 0.1) / 0.20483276469913345, 1.0, 1e-13);
  EXPECT_NEAR(incomplete_beta(3.0, 7.0, 0.25) / 0.399322509765625, 1.0, 1e-13);
  EXPECT_NEAR(incomplete_beta(20.0, 1.0, 0.9) / 0.12157665459056929, 1.0, 1e-13);
  EXPECT_NEAR(incomplete_beta(300.0, 500.0, 0.4) / 0.92707840800746813, 1.0, 1e-12);
}

TEST(IncompleteGamma, MatchesClosedForms) {
  for (double x = 0.01; x < 20; x *= 1.5) {
    EXPECT_NEAR(incomplete_gamma(1.0, x), -std::expm1(-x), 1e-14);
    EXPECT_NEAR(incomplete_gamma(0.5, x), std::erf(std::sqrt(x)), 1e-14);
    EXPECT_NEAR(incomplete_gamma(2.0, x), 1.0 - (1.0 + x) * std::exp(-x), 1e-14);
  }
}

TEST(IncompleteBeta, MatchesClosedFormsAndItsMirror) {
  for (double x = 0.02; x < 1; x += 0.07) {
    EXPECT_NEAR(incomplete_beta(1.0, 4.0, x), 1.0 - std::pow(1.0 - x, 4), 1e-14);
    EXPECT_NEAR(incomplete_beta(5.0, 1.0, x), std::pow(x, 5), 1e-14);
    EXPECT_NEAR(incomplete_beta(2.5, 7.0, x) + incomplete_beta(7.0, 2.5, 1.0 - x), 1.0, 1e-13);
  }
  EXPECT_EQ(incomplete_beta(2.0, 3.0, 0.0), 0.0);
  EXPECT_EQ(incomplete_beta(2.0, 3.0, 1.0), 1.0);
}

TEST(Inverses, UndoTheirFunctions) {
  for (const double a : {0.5, 1.0, 4.0, 60.0})
    for (const double p : {1e-9, 0.025, 0.3, 0.5, 0.7, 0.975}) {
      EXPECT_NEAR(incomplete_gamma(a, inverse_incomplete_gamma(a, p)) / p, 1.0, 1e-10) << a << ' ' << p;
      for (const double b : {1.0, 3.0, 90.0})
        EXPECT_NEAR(incomplete_beta(a, b, inverse_incomplete_beta(a, b, p)) / p, 1.0, 1e-10)
            << a << ' ' << b << ' ' << p;
    }
  EXPECT_NEAR(inverse_incomplete_beta(50.0, 1.0, 1e-8), std::pow(1e-8, 1.0 / 50.0), 1e-14);
  EXPECT_EQ(inverse_incomplete_beta(2.0, 2.0, 0.0), 0.0);
  EXPECT_EQ(inverse_incomplete_beta(2.0, 2.0, 1.0), 1.0);
}

TEST(NormalQuantile, AgreesWithFortyDigitsAndItsMirror) {
  EXPECT_NEAR(normal_quantile(0.975), 1.9599639845400542, 1e-13);
  EXPECT_NEAR(normal_quantile(0.001), -3.0902323061678135, 1e-13);
  EXPECT_EQ(normal_quantile(0.5), 0.0);
}

TEST(StudentQuantile, MatchesClosedFormsForOneAndTwoDegrees) {
  for (const double p : {0.001, 0.1, 0.4, 0.75, 0.975, 0.9995}) {
    EXPECT_NEAR(student_t_quantile(p, 1.0) / std::tan(std::numbers::pi * (p - 0.5)), 1.0, 1e-11);
    EXPECT_NEAR(student_t_quantile(p, 2.0) / ((2.0 * p - 1.0) / std::sqrt(2.0 * p * (1.0 - p))), 1.0, 1e-11);
  }
  EXPECT_EQ(student_t_quantile(0.5, 7.0), 0.0);
  EXPECT_NEAR(student_t_quantile(0.975, 1e6), normal_quantile(0.975), 1e-5);
  EXPECT_NEAR(student_t_share(student_t_quantile(0.9, 7.5), 7.5), 0.9, 1e-12);
}

}  // namespace
}  // namespace leat::science
