#include "science/hydraulics/pump_curve.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

using units::litre_per_hour;

PumpPoint at(double litres_per_hour, double head) {
  return {litres_per_hour * litre_per_hour, Length<>(head)};
}

PumpCurve curve(std::vector<PumpPoint> points) {
  const auto made = pump_curve_from_points(points);
  if (const auto* none = std::get_if<NoCurve>(&made)) throw std::runtime_error(none->wrong);
  return std::get<PumpCurve>(made);
}

double head(const PumpCurve& c, double litres_per_hour) {
  return pump_head(c, litres_per_hour * litre_per_hour).si();
}

TEST(PumpCurve, OnePointIsTheParabolaThroughIt) {
  const PumpCurve c = curve({at(2000, 3.0)});
  EXPECT_NEAR(head(c, 0), 4.0, 1e-12);
  EXPECT_NEAR(head(c, 2000), 3.0, 1e-12);
  EXPECT_NEAR(head(c, 4000), 0.0, 1e-12);
}

TEST(PumpCurve, TwoPointsAreShutoffAndLargestFlow) {
  const PumpCurve c = curve({at(0, 4.0), at(6000, 0.0)});
  for (const double q : {0.0, 1000.0, 4188.2, 6000.0, -2000.0})
    EXPECT_NEAR(head(c, q), pump_head_parabola(q * litre_per_hour, Length<>(4.0), 6000.0 * litre_per_hour).si(), 1e-12);
  EXPECT_NEAR(head(c, 4188.2), 2.051, 5e-4);  // the first of the hydraulic cases
  EXPECT_NEAR(head(curve({at(0, 4.0), at(3000, 3.0)}), 6000), 0.0, 1e-12);
}

TEST(PumpCurve, ThreeAndMorePassThroughTheirPoints) {
  for (const std::vector<PumpPoint>& points :
       {std::vector{at(0, 4.0), at(2000, 3.4), at(4000, 1.0)},
        std::vector{at(0, 4.0), at(1500, 3.7), at(3000, 2.9), at(4000, 1.8), at(5000, 0.0)},
        std::vector{at(500, 4.0), at(1500, 3.7), at(3000, 1.0), at(4000, 0.8)}}) {
    const PumpCurve c = curve(points);
    for (const PumpPoint& p : points) {
      EXPECT_NEAR(pump_head(c, p.flow).si(), p.head.si(), 1e-12);
      EXPECT_NEAR(c.flow_at(p.head).si(), p.flow.si(), 1e-12);
    }
    EXPECT_NEAR(pump_head(c, c.largest()).si(), 0.0, 1e-9);
  }
}

TEST(PumpCurve, FallsEverywhereAndInverts) {
  for (const PumpCurve& c : {curve({at(2000, 3.0)}), curve({at(0, 4.0), at(2000, 3.4), at(4000, 1.0)}),
                             curve({at(0, 4.0), at(1500, 3.99), at(3000, 1.0), at(4000, 0.9), at(5000, 0.0)})}) {
    double last = head(c, -3000);
    for (double q = -2990; q < 7000; q += 10) {
      EXPECT_LE(head(c, q), last) << q;
      last = head(c, q);
      const double difference = (head(c, q + 0.01) - head(c, q - 0.01)) / (0.02 * litre_per_hour.si());
      EXPECT_NEAR(c.slope(q * litre_per_hour).si(), difference, 1e-4 * std::abs(difference) + 2.0) << q;
    }
    for (const double h : {0.1, 0.95, 2.0, 3.5}) EXPECT_NEAR(pump_head(c, c.flow_at(Length<>(h))).si(), h, 1e-9);
  }
}

TEST(PumpCurve, RefusesWhatIsNoCurve) {
  const auto wrong = [](std::vector<PumpPoint> points) {
    return std::holds_alternative<NoCurve>(pump_curve_from_points(points));
  };
  EXPECT_TRUE(wrong({}));
  EXPECT_TRUE(wrong({at(0, 3.0)}));
  EXPECT_TRUE(wrong({at(0, 3.0), at(1000, 3.0)}));
  EXPECT_TRUE(wrong({at(0, 3.0), at(1000, 2.0), at(900, 1.0)}));
  EXPECT_TRUE(wrong({at(100, 3.0), at(1000, 2.0)}));
  EXPECT_TRUE(wrong({at(0, 4.0), at(100, 2.0), at(6000, 1.0)}));  // exponent below 0.5
  EXPECT_TRUE(wrong({at(0, 4.0), at(1000, -1.0)}));
}

TEST(PumpPower, FirstCase) {
  const Power<> p =
      pump_power(4188.2 * litre_per_hour, Length<>(2.051), Density<>(998.0), Number<>(0.35), Acceleration<>(9.81));
  EXPECT_NEAR(p.si(), 66.7, 0.1);
}

}  // namespace
}  // namespace leat::science
