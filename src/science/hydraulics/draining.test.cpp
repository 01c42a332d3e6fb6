#include "science/hydraulics/draining.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

constexpr Acceleration<> kGravity{9.81};

/// The bed of the fourth hydraulic case.
Draining bed(double hole_mm, double inflow_l_h) {
  return {Area<>(1.5 * 0.42), round_area(Length<>(1e-3 * hole_mm)), Number<>(0.61), inflow_l_h * units::litre_per_hour};
}
double time(const Draining& tank, double from, double to) {
  return tank_drain_time(tank, Length<>(from), Length<>(to), kGravity).si();
}

TEST(Draining, FourthCase) {
  EXPECT_NEAR(time(bed(16.0, 1500.0), 0.0, 0.22), 594.2, 0.1);
  EXPECT_NEAR(time(bed(8.0, 1500.0), 0.0338, 0.22), 317.8, 0.3);
}

TEST(Draining, BothWaysGiveTheSameTime) {
  for (const double inflow : {0.0, 200.0, 1500.0})
    for (const auto& [from, to] : {std::pair{0.22, 0.05}, {0.05, 0.22}, {0.2, 0.0}}) {
      const Draining tank = bed(16.0, inflow);
      const double closed = time(tank, from, to);
      const double followed = tank_drain_time_ode(tank, Length<>(from), Length<>(to), kGravity).si();
      if (std::isinf(closed)) {
        EXPECT_TRUE(std::isinf(followed)) << inflow << ' ' << from;
      } else {
        EXPECT_NEAR(followed, closed, 0.002 * closed) << inflow << ' ' << from;
      }
    }
}

TEST(Draining, TimesAddUp) {
  const Draining tank = bed(14.0, 300.0);
  EXPECT_NEAR(time(tank, 0.2, 0.1), time(tank, 0.2, 0.15) + time(tank, 0.15, 0.1), 1e-9);
}

TEST(Draining, CoefficientComesBackFromTheFlow) {
  const Area<> hole = round_area(Length<>(0.016));
  const Flow<> q = orifice_flow(Length<>(0.5), hole, Number<>(0.61));
  EXPECT_NEAR(orifice_discharge_coefficient(q, hole, Length<>(0.5)).si(), 0.61, 1e-14);
}

TEST(RoofOutlet, WeirMeetsOrificeAtHalfTheDiameter) {
  const Length<> d(0.08);
  EXPECT_NEAR(roof_outlet_weir_flow(d, 0.5 * d).si(), roof_outlet_orifice_flow(d, 0.5 * d).si(), 1e-15);
}

}  // namespace
}  // namespace leat::science
