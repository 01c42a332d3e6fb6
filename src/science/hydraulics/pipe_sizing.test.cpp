#include "science/hydraulics/pipe_sizing.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

constexpr KinematicViscosity<> kViscosity{1.0e-6};

TEST(PipeSizing, DiameterUndoesTheLoss) {
  for (const double bore : {0.008, 0.02, 0.034, 0.1})
    for (const double q : {1e-6, 2e-5, 1e-4, 2e-3}) {
      const PipeRun pipe{Length<>(bore), Length<>(6.0), Length<>(1.5e-6), Number<>(3.0)};
      const Length<> loss = pipe_loss(Flow<>(q), pipe, kViscosity);
      const Length<> back =
          darcy_weisbach_diameter(Flow<>(q), loss, pipe.length, pipe.roughness, pipe.minor_losses, kViscosity);
      EXPECT_NEAR(back.si(), bore, 1e-9 * bore) << bore << ' ' << q;
    }
}

TEST(PipeSizing, FrictionAndRoughnessComeBackFromTheLoss) {
  const PipeRun pipe{Length<>(0.034), Length<>(6.0), Length<>(5e-5), Number<>(0.0)};
  const Flow<> q(1.2e-3);
  const Velocity<> v = pipe_velocity(q, pipe.bore);
  const Length<> loss = pipe_loss(q, pipe, kViscosity);
  const Number<> f = darcy_weisbach_friction_from_loss(loss, v, pipe.length, pipe.bore);
  EXPECT_NEAR(darcy_weisbach_head_loss(v, f, pipe.length, pipe.bore).si(), loss.si(), 1e-14);
  EXPECT_NEAR(colebrook_roughness(f, pipe_reynolds(q, pipe.bore, kViscosity), pipe.bore).si(), 5e-5, 1e-12);
  EXPECT_NEAR(darcy_weisbach_discharge_fixed_f(loss, f, pipe.length, pipe.bore).si(), q.si(), 1e-14);
}

TEST(PipeSizing, ExplicitDischargeIsNearTheExactOne) {
  for (const double h : {0.05, 0.5, 3.0}) {
    const PipeRun pipe{Length<>(0.034), Length<>(6.0), Length<>(1.5e-6), Number<>(0.0)};
    const double exact = pipe_flow(Length<>(h), pipe, kViscosity).si();
    EXPECT_NEAR(swamee_jain_discharge(Length<>(h), pipe.length, pipe.bore, pipe.roughness, kViscosity).si(), exact,
                0.02 * exact);
  }
}

// The note's own range for smooth plastic, 20 to 80 mm at 0.1 to 2 m/s.
TEST(PipeSizing, HazenWilliamsErrsAsStated) {
  double low = 1.0, high = 1.0;
  for (const double bore : {0.02, 0.034, 0.08})
    for (const double v : {0.1, 0.3, 1.0, 2.0}) {
      const Flow<> q(v * 0.25 * std::numbers::pi * bore * bore);
      const PipeRun pipe{Length<>(bore), Length<>(10.0), Length<>(0.0), Number<>(0.0)};
      if (pipe_reynolds(q, pipe.bore, kViscosity).si() < 4000.0) continue;
      const double ratio = hazen_williams_head_loss(q, Number<>(150.0), pipe.bore, pipe.length).si() /
                           pipe_loss(q, pipe, kViscosity).si();
      low = std::min(low, ratio);
      high = std::max(high, ratio);
    }
  EXPECT_GT(low, 0.70);
  EXPECT_LT(low, 0.95);
  EXPECT_LT(high, 1.15);
}

TEST(PipeSizing, HazenWilliamsInvertsAndKeepsItsSign) {
  const auto loss = [](double q) {
    return hazen_williams_head_loss(Flow<>(q), Number<>(130.0), Length<>(0.2), Length<>(400.0));
  };
  for (const double q : {-0.05, 1e-5, 0.02})
    EXPECT_NEAR(hazen_williams_flow(loss(q), Number<>(130.0), Length<>(0.2), Length<>(400.0)).si(), q, 1e-14);
  EXPECT_EQ(loss(0.0).si(), 0.0);
  EXPECT_EQ(loss(-0.02).si(), -loss(0.02).si());
}

TEST(PipeSizing, SystemCoefficientGivesTheLossBack) {
  const PipeRun pipe{Length<>(0.034), Length<>(0.0), Length<>(0.0), Number<>(7.6)};
  EXPECT_NEAR(system_curve_coefficient(Flow<>(1e-3), pipe, kViscosity).si(),
              minor_loss_flow_coefficient(Number<>(7.6), pipe.bore).si(), 1e-6);
}

}  // namespace
}  // namespace leat::science
