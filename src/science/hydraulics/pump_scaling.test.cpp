#include "science/hydraulics/pump_scaling.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

TEST(PumpScaling, AffinityThereAndBack) {
  const Frequency<> a(50.0), b(37.0);
  EXPECT_NEAR(affinity_flow(affinity_flow(Flow<>(1e-3), a, b), b, a).si(), 1e-3, 1e-17);
  EXPECT_NEAR(affinity_head(affinity_head(Length<>(4.0), a, b), b, a).si(), 4.0, 1e-14);
  EXPECT_NEAR(affinity_power(affinity_power(Power<>(60.0), a, b), b, a).si(), 60.0, 1e-12);
}

TEST(PumpScaling, QuadraticFitPassesThroughPointsThatLieOnOne) {
  std::vector<PumpPoint> points;
  for (const double q : {0.0, 4e-4, 1e-3, 1.5e-3}) points.push_back({Flow<>(q), Length<>(4.0 - 1.4e6 * q * q)});
  const QuadraticCurve fit = pump_curve_fit_quadratic(points);
  EXPECT_NEAR(fit.at_rest.si(), 4.0, 1e-12);
  EXPECT_NEAR(fit.bend.si(), -1.4e6, 1e-5);
}

// The first of the hydraulic cases: sump at 0.2554, outlet at 1.35.
TEST(PumpScaling, OperatingFlowOfTheFirstCase) {
  const PumpCurve pump = PumpCurve::parabola(Length<>(4.0), 6000.0 * units::litre_per_hour);
  const PipeRun delivery{Length<>(0.034), Length<>(6.0), Length<>(1.5e-6), Number<>(7.6)};
  const Flow<> q =
      pump_operating_flow(pump, Length<>(1.35 - 0.2554), delivery, KinematicViscosity<>(1e-6), Acceleration<>(9.81));
  EXPECT_NEAR(q.in(units::litre_per_hour), 4188.2, 0.2);
  EXPECT_EQ(pump_operating_flow(pump, Length<>(4.0), delivery, KinematicViscosity<>(1e-6)).si(), 0.0);
}

TEST(PumpScaling, QuadraticMeetingIsWhereBothSidesAgree) {
  const QuadraticCurve pump{Length<>(4.0), HeadPerFlowSquared<>(-1.4e6)};
  const HeadPerFlowSquared<> system(7e5);
  const double q = pump_operating_flow_quadratic(pump, Length<>(1.1), system).si();
  EXPECT_NEAR(4.0 - 1.4e6 * q * q, 1.1 + 7e5 * q * q, 1e-12);
  EXPECT_EQ(pump_operating_flow_quadratic(pump, Length<>(4.5), system).si(), 0.0);
}

TEST(PumpScaling, CostOfAYear) {
  EXPECT_NEAR(pump_running_cost(Power<>(66.7), 8766.0 * units::hour, Number<>(1.0)).si(), 584.7, 0.05);
}

}  // namespace
}  // namespace leat::science
