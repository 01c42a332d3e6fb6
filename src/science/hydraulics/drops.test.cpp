#include "science/hydraulics/drops.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

constexpr Acceleration<> kGravity{9.81};

double limit(Number<> j, double bore_mm) {
  return drain_flow_at(j, Length<>(1e-3 * bore_mm), kGravity).in(units::litre_per_hour);
}

// The note's own table, L/h.
TEST(Drops, LimitsOfTheTable) {
  EXPECT_NEAR(limit(drain_limits::self_venting, 27.0), 318.0, 0.6);
  EXPECT_NEAR(limit(drain_limits::self_venting, 103.6), 9178.0, 5.0);
  EXPECT_NEAR(limit(drain_limits::bubble_held, 45.5), 1369.0, 1.0);
  EXPECT_NEAR(limit(Number<>(0.542), 68.5), 5895.0, 1.0);
}

// The third hydraulic case: a bore of 27 mm primes at 572.8 L/h.
TEST(Drops, PrimingFlowOfTheThirdCase) {
  EXPECT_NEAR(limit(drain_limits::mouth_full, 27.0), 572.8, 0.05);
}

TEST(Drops, FroudeNumberUndoesTheFlow) {
  const Length<> d(0.0455);
  EXPECT_NEAR(drain_froude_number(drain_flow_at(Number<>(0.3), d), d).si(), 0.3, 1e-14);
}

// Sizes printed in whole millimetres for 2 to 200 m3/h; J goes as D^-2.5.
TEST(Drops, SelfVentingSizesOfHills) {
  for (const auto& [flow, mm] : {std::pair{2.0, 56.0}, {10.0, 107.0}, {25.0, 155.0}, {100.0, 269.0}, {200.0, 355.0}}) {
    const double j = drain_froude_number(flow * units::cubic_metre_per_hour, Length<>(1e-3 * mm), kGravity).si();
    EXPECT_NEAR(j, 0.300, 0.300 * 2.5 * 0.5 / mm + 0.0005) << mm;
  }
}

// The first hydraulic case: sleeve 103.6 mm round a 75 mm pipe.
TEST(Drops, SleeveOfTheFirstCase) {
  EXPECT_NEAR(sleeve_velocity(4188.2 * units::litre_per_hour, Length<>(0.1036), Length<>(0.075)).si(), 0.290, 5e-4);
}

TEST(Drops, AirGapHasAFloor) {
  EXPECT_EQ(air_gap_minimum(Length<>(0.008)).si(), 0.020);
  EXPECT_EQ(air_gap_minimum(Length<>(0.015)).si(), 0.030);
}

}  // namespace
}  // namespace leat::science
