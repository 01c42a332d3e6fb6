#include "science/hydraulics/channels.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

TEST(Channels, CriticalDepthIsTheLeastEnergy) {
  const Channel channel{Length<>(2.0)};
  const Flow<> q(1.0);
  const Length<> yc = rectangular_critical_depth(q / channel.width);
  const double least = channel_specific_energy(channel, q, yc).si();
  for (const double r : {0.8, 0.95, 1.05, 1.3}) EXPECT_GT(channel_specific_energy(channel, q, r * yc).si(), least);
  EXPECT_NEAR(least, 1.5 * yc.si(), 1e-12);
}

TEST(Channels, DirectStepsSettleAndRunBothWays) {
  const Channel channel{Length<>(2.0), Number<>(0.5)};
  const auto walk = [&](double from, double to, int steps) {
    return direct_step_distance(channel, Flow<>(4.0), Number<>(0.0015), Number<>(0.013), Length<>(from), Length<>(to),
                                steps)
        .si();
  };
  EXPECT_NEAR(walk(0.94, 1.04, 200), -walk(1.04, 0.94, 200), 1e-9);
  const double coarse = walk(1.1, 1.3, 8), middle = walk(1.1, 1.3, 16), fine = walk(1.1, 1.3, 32);
  EXPECT_NEAR((coarse - middle) / (middle - fine), 4.0, 0.05);  // second order
}

TEST(Weirs, SharpCrestsAgreeWithinAFewPercent) {
  const SharpWeir w{Length<>(0.2), Length<>(0.4), Length<>(1.0)};
  const double rehbock = rectangular_weir_rehbock(w).si();
  EXPECT_NEAR(rectangular_weir_suppressed_kindsvater(w).si(), rehbock, 0.02 * rehbock);
  EXPECT_NEAR(rectangular_weir_ackers(w).si(), rehbock, 0.04 * rehbock);
  EXPECT_LT(rectangular_weir_contracted_kindsvater(w).si(), rehbock);
}

TEST(Weirs, BroadCrestIsCriticalFlow) {
  const Length<> yc = rectangular_critical_depth(FlowPerWidth<>(0.05));
  const Number<> c = broad_crested_weir_coefficient();
  EXPECT_NEAR(broad_crested_weir_flow(1.5 * yc, Length<>(1.0), c).si(), 0.05, 1e-12);
  EXPECT_NEAR(c.si(), 1.705, 5e-4);
}

TEST(Weirs, RightAngledNotchIsNearTheCommonForm) {
  const double h = 0.1;
  EXPECT_NEAR(vnotch_weir(Length<>(h), Number<>(90.0), Number<>(0.578), Length<>(0.00088)).si(),
              1.38 * std::pow(h, 2.5), 0.02 * 1.38 * std::pow(h, 2.5));
}

}  // namespace
}  // namespace leat::science
