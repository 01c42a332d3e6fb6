#include "science/hydraulics/rim_flow.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace leat::science {
namespace {

constexpr Acceleration<> kGravity{9.81};
constexpr Length<> kBore{0.0685};

double rim(double h) {
  return standpipe_rim_flow(Length<>(h), kBore, {}, kGravity).si();
}
double blended(double h) {
  return standpipe_rim_flow_blended(Length<>(h), kBore, {}, kGravity).si();
}

TEST(RimFlow, IsTheLesserOfWeirAndOrifice) {
  for (double h = 1e-4; h < 0.2; h += 1e-4) {
    const double weir = 1.70 * std::numbers::pi * 0.0685 * std::pow(h, 1.5);
    const double orifice = 0.60 * std::numbers::pi * 0.0685 * 0.0685 / 4.0 * std::sqrt(2.0 * 9.81 * h);
    EXPECT_NEAR(rim(h), std::min(weir, orifice), 1e-13);
  }
  EXPECT_EQ(rim(0.0), 0.0);
  EXPECT_EQ(rim(-0.1), 0.0);
  EXPECT_NEAR((rim_crossing_head(kBore, {}, kGravity) / kBore).si(), 0.391, 5e-4);
}

TEST(RimFlow, BlendJoinsWithoutStepOrCornerAndStaysNear) {
  const double crossing = rim_crossing_head(kBore, {}, kGravity).si();
  for (const double end : {0.8 * crossing, 1.25 * crossing}) {
    const double e = 1e-9;
    EXPECT_NEAR(blended(end - e), blended(end + e), 1e-6 * blended(end));
    EXPECT_NEAR((blended(end) - blended(end - e)) / (blended(end + e) - blended(end)), 1.0, 1e-4);
  }
  double last = 0.0;
  for (double h = 1e-4; h < 0.1; h += 1e-4) {
    EXPECT_GT(blended(h), last);
    last = blended(h);
    EXPECT_LE(blended(h), rim(h) * (1.0 + 1e-12));
    EXPECT_GE(blended(h), 0.945 * rim(h));
  }
}

TEST(RimFlow, SlopesAgreeWithDifferences) {
  for (const double h : {0.002, 0.02, 0.025, 0.03, 0.06}) {
    const auto dual = standpipe_rim_flow_blended(Length<Dual<1>>(Dual<1>::seed(h, 0)), kBore, {}, kGravity).si();
    EXPECT_NEAR(dual.slope[0], (blended(h + 1e-7) - blended(h - 1e-7)) / 2e-7, 1e-6 * dual.slope[0]);
  }
  const auto below = standpipe_rim_flow_blended(Length<Dual<1>>(Dual<1>::seed(-0.01, 0)), kBore).si();
  EXPECT_EQ(below.slope[0], 0.0);
  const auto at = standpipe_rim_flow(Length<Dual<1>>(Dual<1>::seed(0.0, 0)), kBore).si();
  EXPECT_EQ(at.slope[0], 0.0);
}

TEST(RimFlow, HeadUndoesTheFlow) {
  for (double h = 1e-3; h < 0.2; h *= 1.3)
    EXPECT_NEAR(standpipe_rim_head(Flow<>(rim(h)), kBore, {}, kGravity).si(), h, 1e-12);
  EXPECT_EQ(standpipe_rim_head(Flow<>(0.0), kBore).si(), 0.0);
}

// Cases 1 and 4 of the hydraulic cases.
TEST(RimFlow, FilmsOfTheCases) {
  EXPECT_NEAR(standpipe_rim_head(4188.2 * units::litre_per_hour, kBore, {}, kGravity).si(), 0.0216, 5e-5);
  EXPECT_NEAR(drain_hole_flow(Length<>(0.22), Length<>(0.016), Number<>(0.61), kGravity).in(units::litre_per_hour),
              917.3, 0.05);
}

TEST(DrainHole, SoftRootMeetsTheHardOne) {
  const Length<> d(0.014);
  for (const double h : {1e-3, 2e-3, 0.1})
    EXPECT_DOUBLE_EQ(drain_hole_flow_soft(Length<>(h), d).si(), drain_hole_flow(Length<>(h), d).si());
  double last = 0.0;
  for (double h = 1e-5; h < 1e-3; h += 1e-5) {
    const double soft = drain_hole_flow_soft(Length<>(h), d).si();
    EXPECT_GT(soft, last);
    EXPECT_LE(soft, drain_hole_flow(Length<>(h), d).si());
    last = soft;
  }
  const double e = 1e-9;
  const auto flow = [&](double h) { return drain_hole_flow_soft(Length<>(h), d).si(); };
  EXPECT_NEAR((flow(1e-3) - flow(1e-3 - e)) / (flow(1e-3 + e) - flow(1e-3)), 1.0, 1e-5);
  EXPECT_EQ(flow(0.0), 0.0);
  EXPECT_EQ(flow(-1.0), 0.0);
}

}  // namespace
}  // namespace leat::science
