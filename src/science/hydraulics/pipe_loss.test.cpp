#include "science/hydraulics/pipe_loss.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

constexpr KinematicViscosity<> kViscosity{1.0e-6};
constexpr Acceleration<> kGravity{9.81};
constexpr PipeRun kHose{Length<>(0.027), Length<>(6.0), Length<>(1.5e-6), Number<>(4.0)};
constexpr PipeRun kPlainHose{Length<>(0.027), Length<>(6.0), Length<>(1.5e-6), Number<>(0.0)};

double loss(double q, const PipeRun& pipe = kHose) {
  return pipe_loss(Flow<>(q), pipe, kViscosity, kGravity).si();
}
double slope(double q, const PipeRun& pipe = kHose) {
  return pipe_loss_slope(Flow<>(q), pipe, kViscosity, kGravity).si();
}

TEST(PipeLoss, DeliveryPipeOfTheFirstCase) {
  const PipeRun delivery{Length<>(0.034), Length<>(6.0), Length<>(1.5e-6), Number<>(7.6)};
  const Flow<> flow = 4188.2 * units::litre_per_hour;
  EXPECT_NEAR(pipe_velocity(flow, delivery.bore).si(), 1.281, 5e-4);
  EXPECT_NEAR(pipe_reynolds(flow, delivery.bore, kViscosity).si(), 43567.0, 5.0);
  EXPECT_NEAR(pipe_loss(flow, delivery, kViscosity, kGravity).si(), 0.956, 5e-4);
}

TEST(PipeLoss, IsOddAndRisesEverywhere) {
  double last = loss(-1e-3);
  for (double q = -1e-3 + 1e-6; q < 1e-3; q += 1e-6) {
    EXPECT_GT(loss(q), last);
    EXPECT_NEAR(loss(q), -loss(-q), 1e-15);
    last = loss(q);
  }
}

TEST(PipeLoss, IsLinearWhenLaminarAndKeepsItsSlopeAtRest) {
  const double q = 1e-5;  // Re 472
  EXPECT_NEAR(loss(2.0 * q, kPlainHose), 2.0 * loss(q, kPlainHose), 1e-15);
  const double at_rest = 128.0 * 1e-6 * 6.0 / (std::numbers::pi * 9.81 * std::pow(0.027, 4));
  EXPECT_NEAR(slope(0.0), at_rest, 1e-9 * at_rest);
  EXPECT_EQ(loss(0.0), 0.0);
}

TEST(PipeLoss, HasNoStepAtTheEndsOfTheBridge) {
  for (const double re : {2000.0, 4000.0}) {
    const double q = re * 1e-6 * std::numbers::pi * 0.027 / 4.0;
    EXPECT_NEAR(loss(q * (1.0 - 1e-9)), loss(q * (1.0 + 1e-9)), 1e-8 * loss(q));
    EXPECT_NEAR(slope(q * (1.0 - 1e-9)), slope(q * (1.0 + 1e-9)), 1e-6 * slope(q));
  }
}

TEST(PipeLoss, SlopeAgreesWithDifferencesAndDuals) {
  for (const double q : {-4e-4, -6e-5, -1e-5, 1e-6, 3e-5, 5e-5, 7e-5, 8e-5, 2e-4, 1e-3}) {
    const double step = 1e-5 * std::abs(q);
    const double difference = (loss(q + step) - loss(q - step)) / (2.0 * step);
    EXPECT_NEAR(slope(q), difference, 1e-6 * difference) << q;
    const auto dual = pipe_loss(Flow<Dual<1>>(Dual<1>::seed(q, 0)), kHose, kViscosity, kGravity).si();
    EXPECT_NEAR(dual.slope[0], slope(q), 1e-12 * slope(q)) << q;
    EXPECT_DOUBLE_EQ(dual.value, loss(q));
  }
}

TEST(PipeFlow, UndoesTheLoss) {
  for (const double q : {-2e-3, -7e-5, -1e-7, 1e-9, 4e-5, 6e-5, 1e-4, 1e-3, 0.02}) {
    const Flow<> back = pipe_flow(Length<>(loss(q)), kHose, kViscosity, kGravity);
    EXPECT_NEAR(back.si(), q, 1e-11 * std::abs(q));
    const auto dual = pipe_flow(Length<Dual<1>>(Dual<1>::seed(loss(q), 0)), kHose, kViscosity, kGravity).si();
    EXPECT_NEAR(dual.slope[0] * slope(q), 1.0, 1e-9);
  }
  EXPECT_EQ(pipe_flow(Length<>(0.0), kHose, kViscosity, kGravity).si(), 0.0);
}

TEST(PipeFlow, WithoutLengthIsSquareRoot) {
  const PipeRun hole{Length<>(0.02), Length<>(0.0), Length<>(0.0), Number<>(1.5)};
  const double v = std::sqrt(2.0 * 9.81 * 0.3 / 1.5);
  EXPECT_NEAR(pipe_flow(Length<>(0.3), hole, kViscosity, kGravity).si(), v * std::numbers::pi * 1e-4, 1e-12);
  EXPECT_EQ(pipe_flow(Length<>(0.0), hole, kViscosity, kGravity).si(), 0.0);
}

// Case 3 of the hydraulic cases: the siphon's flow when it primes and when it breaks.
TEST(PipeFlow, SiphonOfTheThirdCase) {
  const PipeRun siphon{Length<>(0.027), Length<>(1.0), Length<>(1.5e-6), Number<>(4.5)};
  EXPECT_NEAR(pipe_flow(Length<>(1.16093 - 0.55), siphon, kViscosity, kGravity).in(units::litre_per_hour), 3094.6, 0.2);
  EXPECT_NEAR(pipe_flow(Length<>(0.94 - 0.55), siphon, kViscosity, kGravity).in(units::litre_per_hour), 2462.5, 0.2);
}

}  // namespace
}  // namespace leat::science
