#include <gtest/gtest.h>

#include <cmath>

#include "numerics/integrator.h"

namespace leat::numerics {
namespace {

/// y' = -2 t y: y = e^(-t^2) from 1. The slope of log error against log tolerance tells the order of the method only
/// through its own choice of steps, so its steps are forced by stops.
TEST(Explicit, TheErrorFallsWithTheFifthPowerOfTheStep) {
  const auto error_with = [](int pieces) {
    System bell{1, [](double t, std::span<const double> y, std::span<double> d) {
                  d[0] = -2.0 * t * y[0];
                  return true;
                }};
    const auto integrator = make_explicit_integrator(bell, {1e9, {1.0}});
    const double from[] = {1.0};
    integrator->start(0.0, from);
    for (int i = 1; i <= pieces; ++i) EXPECT_TRUE(integrator->advance(static_cast<double>(i) / pieces).reached);
    EXPECT_EQ(integrator->counts().steps, pieces);
    return std::abs(integrator->state()[0] - std::exp(-1.0));
  };
  EXPECT_NEAR(std::log2(error_with(16) / error_with(32)), 5.0, 0.3);
}

TEST(Explicit, KeepsItsToleranceAndTheCurveBetweenItsSteps) {
  System circle{2, [](double, std::span<const double> y, std::span<double> d) {
                  d[0] = y[1];
                  d[1] = -y[0];
                  return true;
                }};
  const auto integrator = make_explicit_integrator(circle, {1e-8, {1e-8, 1e-8}});
  const double from[] = {0.0, 1.0};
  integrator->start(0.0, from);
  double y[2], slope[2];
  EXPECT_TRUE(integrator
                  ->advance(10.0,
                            [&](const Step& step) {
                              const double middle = 0.5 * (step.from + step.to);
                              step.at(middle, y);
                              step.slope_at(middle, slope);
                              EXPECT_NEAR(y[0], std::sin(middle), 1e-5);
                              EXPECT_NEAR(slope[0], std::cos(middle), 1e-4);
                              return Then::go_on;
                            })
                  .reached);
  EXPECT_NEAR(integrator->state()[0], std::sin(10.0), 1e-6);
  EXPECT_NEAR(integrator->fastest(), 1.0, 0.5);
}

/// A fast motion that follows a slow one; every stretch gives it a push.
TEST(ByStretches, TakesShortOnesExplicitlyAndLongOnesNot) {
  const double fast = 50.0;
  System pushed{2, [fast](double, std::span<const double> y, std::span<double> d) {
                  d[0] = -y[0];
                  d[1] = -fast * (y[1] - y[0]) - y[0];
                  return true;
                }};
  const auto integrator = make_integrator_by_stretches(pushed, {1e-7, {1e-9, 1e-9}});
  std::vector<double> y{1.0, 2.0};
  double t = 0.0;
  long jacobians = 0;
  for (const double length : {0.05, 0.05, 0.05, 4.0, 0.05}) {
    integrator->start(t, y);
    const std::vector<double> before = y;
    ASSERT_TRUE(integrator->advance(t + length).reached);
    t += length;
    y.assign(integrator->state().begin(), integrator->state().end());
    EXPECT_NEAR(y[0], before[0] * std::exp(-length), 1e-6);
    // What was beside the slow motion has died away by e^(-50 t).
    EXPECT_NEAR(y[1] - y[0], (before[1] - before[0]) * std::exp(-fast * length), 1e-6);
    EXPECT_EQ(integrator->counts().jacobians > jacobians, length > 1.0) << length;
    jacobians = integrator->counts().jacobians;
    y[1] += 0.5;
  }
}

TEST(Explicit, StopsWhereItsRatesCannotBeHad) {
  System wall{1, [](double, std::span<const double> y, std::span<double> d) {
                d[0] = 1.0;
                return y[0] < 0.5;
              }};
  const auto integrator = make_explicit_integrator(wall, {1e-6, {1e-6}});
  const double from[] = {0.0};
  integrator->start(0.0, from);
  const Advance done = integrator->advance(2.0);
  EXPECT_FALSE(done.reached);
  EXPECT_LE(done.time, 0.5);
  EXPECT_GT(done.time, 0.49);
}

}  // namespace
}  // namespace leat::numerics
