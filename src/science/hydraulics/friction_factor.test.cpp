#include "science/hydraulics/friction_factor.h"

#include <gtest/gtest.h>

#include <random>

namespace leat::science {
namespace {

double colebrook_of(double re, double rr) {
  return friction_factor_colebrook(Number<>(re), Number<>(rr)).si();
}
double bridged(double re, double rr) {
  return friction_factor_bridged(Number<>(re), Number<>(rr)).si();
}

TEST(FrictionFactor, ColebrookMeetsItsOwnEquation) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> log_re(3.6, 8.0), log_rr(-6.0, -1.3);
  for (int i = 0; i < 2000; ++i) {
    const double re = std::pow(10.0, log_re(random)), rr = i % 10 ? std::pow(10.0, log_rr(random)) : 0.0;
    const double x = 1.0 / std::sqrt(colebrook_of(re, rr));
    EXPECT_NEAR(x, -2.0 * std::log10(rr / 3.7 + 2.51 * x / re), 1e-13 * x);
  }
}

TEST(FrictionFactor, ExplicitFormsStayWithinTheErrorTheyState) {
  for (double re = 4000.0; re <= 1e8; re *= 1.3)
    for (const double rr : {0.0, 1e-6, 1e-4, 1e-3, 0.01, 0.05}) {
      const double exact = colebrook_of(re, rr);
      EXPECT_NEAR(friction_factor_serghides(Number<>(re), Number<>(rr)).si(), exact, 5e-5 * exact) << re << ' ' << rr;
      EXPECT_NEAR(friction_factor_haaland(Number<>(re), Number<>(rr)).si(), exact, 0.015 * exact) << re << ' ' << rr;
    }
}

TEST(FrictionFactor, BridgeMeetsBothEndsInValueAndSlope) {
  for (const double rr : {0.0, 6e-5, 1e-3, 0.03})
    for (const double end : {2000.0, 4000.0}) {
      const double step = 1e-4;
      EXPECT_NEAR(bridged(end - step, rr), bridged(end + step, rr), 1e-8);
      const double before = (bridged(end, rr) - bridged(end - step, rr)) / step;
      const double after = (bridged(end + step, rr) - bridged(end, rr)) / step;
      EXPECT_NEAR(before, after, 1e-3 * std::abs(before) + 1e-10) << end << ' ' << rr;
    }
  EXPECT_DOUBLE_EQ(bridged(4000.0, 1e-3), colebrook_of(4000.0, 1e-3));
  EXPECT_DOUBLE_EQ(bridged(2000.0, 1e-3), 0.032);
}

// The note's own table for e/D = 6e-5.
TEST(FrictionFactor, BridgeGivesTheTabulatedMiddle) {
  EXPECT_NEAR(bridged(2500.0, 6e-5), 0.0290, 6e-5);
  EXPECT_NEAR(bridged(3000.0, 6e-5), 0.0327, 6e-5);
  EXPECT_NEAR(bridged(3500.0, 6e-5), 0.0381, 6e-5);
  EXPECT_NEAR(bridged(4000.0, 6e-5), 0.0400, 6e-5);
}

TEST(FrictionFactor, SlopesAgreeWithDifferences) {
  for (const double rr : {0.0, 1e-4, 0.02})
    for (const double re : {500.0, 2300.0, 3100.0, 3900.0, 5000.0, 4e4, 1e6}) {
      const double step = 1e-4 * re;
      const double difference = (bridged(re + step, rr) - bridged(re - step, rr)) / (2.0 * step);
      EXPECT_NEAR(friction_factor_bridged_and_slope(Number<>(re), Number<>(rr)).slope.si(), difference,
                  1e-5 * std::abs(difference) + 1e-12);
    }
}

TEST(FrictionFactor, DualsCarryBothSlopes) {
  const double re = 3e4, rr = 1e-3;
  const auto f =
      friction_factor_colebrook(Number<Dual<2>>(Dual<2>::seed(re, 0)), Number<Dual<2>>(Dual<2>::seed(rr, 1)));
  EXPECT_NEAR(f.si().value, colebrook_of(re, rr), 1e-15);
  EXPECT_NEAR(f.si().slope[0], (colebrook_of(re + 1, rr) - colebrook_of(re - 1, rr)) / 2.0,
              1e-6 * f.si().slope[0] * -1.0);
  EXPECT_NEAR(f.si().slope[1], (colebrook_of(re, rr + 1e-7) - colebrook_of(re, rr - 1e-7)) / 2e-7,
              1e-6 * f.si().slope[1]);
}

}  // namespace
}  // namespace leat::science
