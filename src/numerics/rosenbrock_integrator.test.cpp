#include <gtest/gtest.h>

#include <cmath>

#include "numerics/integrator.h"

namespace leat::numerics {
namespace {

/// A stiff pair with a known answer: the fast one follows the slow one, y = e^-t, and z = y^2 while y falls.
System follower(double stiffness) {
  return {2, [stiffness](double, std::span<const double> y, std::span<double> d) {
            d[0] = -y[0];
            d[1] = -stiffness * (y[1] - y[0] * y[0]) - 2.0 * y[0] * y[0];
            return true;
          }};
}

TEST(Rosenbrock, TheErrorFallsWithTheFourthPowerOfTheStep) {
  // Steps of one length: the tolerance lets everything pass. Slope of log error against log step, for y' = y - y^2,
  // whose answer from 1/2 is the logistic curve.
  const auto error_with = [](double h) {
    System logistic{1,
                    [](double, std::span<const double> y, std::span<double> d) {
                      d[0] = y[0] - y[0] * y[0];
                      return true;
                    },
                    [](double, std::span<const double> y, std::span<double> entries) {
                      entries[0] = 1.0 - 2.0 * y[0];
                      return true;
                    }};
    const auto integrator = make_rosenbrock_integrator(logistic, {1e9, {1e9}}, h);
    const double from[] = {0.5};
    integrator->start(0.0, from);
    EXPECT_TRUE(integrator->advance(1.0).reached);
    return std::abs(integrator->state()[0] - 1.0 / (1.0 + std::exp(-1.0)));
  };
  const double order = std::log2(error_with(0.05) / error_with(0.025));
  EXPECT_NEAR(order, 4.0, 0.4);
}

TEST(Rosenbrock, FollowsAStiffPairWithFewSteps) {
  const auto integrator = make_rosenbrock_integrator(follower(1e6), {1e-7, {1e-10, 1e-10}});
  const double from[] = {1.0, 1.0};
  integrator->start(0.0, from);
  ASSERT_TRUE(integrator->advance(3.0).reached);
  EXPECT_NEAR(integrator->state()[0], std::exp(-3.0), 1e-6);
  EXPECT_NEAR(integrator->state()[1], std::exp(-6.0), 1e-6);
  EXPECT_LT(integrator->counts().steps, 200);
}

TEST(Rosenbrock, BetweenItsStepsTheCurveIsTrueAndItsSlopeIsItsOwn) {
  const auto integrator = make_rosenbrock_integrator(follower(50.0), {1e-8, {1e-9, 1e-9}});
  const double from[] = {1.0, 1.0};
  integrator->start(0.0, from);
  double y[2], above[2], below[2], slope[2];
  integrator->advance(2.0, [&](const Step& step) {
    const double middle = 0.5 * (step.from + step.to), nudge = 1e-4 * (step.to - step.from);
    step.at(middle, y);
    step.at(middle + nudge, above);
    step.at(middle - nudge, below);
    step.slope_at(middle, slope);
    EXPECT_NEAR(y[0], std::exp(-middle), 1e-6);
    EXPECT_NEAR(slope[0], (above[0] - below[0]) / (2.0 * nudge), 1e-5);
    return Then::go_on;
  });
}

TEST(Rosenbrock, AWatcherStopsIt) {
  const auto integrator = make_rosenbrock_integrator(follower(1.0), {1e-6, {1e-9, 1e-9}}, 0.1);
  const double from[] = {1.0, 1.0};
  integrator->start(0.0, from);
  const Advance a = integrator->advance(5.0, [](const Step& step) { return step.to > 1.0 ? Then::stop : Then::go_on; });
  EXPECT_TRUE(a.stopped);
  EXPECT_FALSE(a.reached);
  EXPECT_LT(a.time, 1.2);
}

TEST(Rosenbrock, ASumThatDoesNotChangeStaysToRounding) {
  System exchange{3, [](double, std::span<const double> y, std::span<double> d) {
                    const double a = 300.0 * (y[0] - y[1] * y[1]), b = 2.0 * std::sqrt(std::abs(y[1]));
                    d[0] = -a;
                    d[1] = a - b;
                    d[2] = b;
                    return true;
                  }};
  const auto integrator = make_rosenbrock_integrator(exchange, {1e-5, {1e-6, 1e-6, 1e-6}});
  const double from[] = {1.0, 0.2, 0.0};
  integrator->start(0.0, from);
  ASSERT_TRUE(integrator->advance(0.6).reached);
  EXPECT_NEAR(integrator->state()[0] + integrator->state()[1] + integrator->state()[2], 1.2, 1e-9);
}

TEST(Rosenbrock, FollowersGoTheSameWayWithOrWithoutBeingNamed) {
  const auto end_of = [](std::size_t followers) {
    System s{3, [](double, std::span<const double> y, std::span<double> d) {
               d[0] = -40.0 * (y[0] - y[1]);
               d[1] = -0.3 * y[1] * y[1];
               d[2] = y[0] * y[1];
               return true;
             }};
    s.followers = followers;
    const auto integrator = make_rosenbrock_integrator(s, {1e-8, {1e-9, 1e-9, 1e-9}});
    const double from[] = {1.0, 0.5, 0.0};
    integrator->start(0.0, from);
    EXPECT_TRUE(integrator->advance(2.0).reached);
    return std::vector<double>(integrator->state().begin(), integrator->state().end());
  };
  const auto plain = end_of(0), named = end_of(1);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(plain[i], named[i], 1e-8);
}

TEST(Rosenbrock, RatesThatCannotBeHadEndItInWords) {
  System wall{1, [](double, std::span<const double> y, std::span<double> d) {
                d[0] = 1.0;
                return y[0] < 1.0;
              }};
  const auto integrator = make_rosenbrock_integrator(wall, {1e-6, {1e-9}});
  const double from[] = {0.0};
  integrator->start(0.0, from);
  const Advance a = integrator->advance(2.0);
  EXPECT_FALSE(a.reached);
  EXPECT_FALSE(a.said.empty());
}

}  // namespace
}  // namespace leat::numerics
