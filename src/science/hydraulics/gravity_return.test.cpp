#include "science/hydraulics/gravity_return.h"

#include <gtest/gtest.h>

#include "science/hydraulics/circular_section.h"
#include "science/hydraulics/part_full.h"

namespace leat::science {
namespace {

const KinematicViscosity<> kWater(1e-6);
PipeRun run(double length) {
  return {Length<>(0.0685), Length<>(length), Length<>(1.5e-6), Number<>(1.5)};
}
Flow<> litres_an_hour(double q) {
  return Flow<>(q / 3.6e6);
}

TEST(GravityReturnHead, ASteepPipeIsRuledByItsMouth) {
  // Critical slopes of smooth pipes of this size lie between 0.005 and 0.013.
  for (const double q : {500.0, 2000.0, 4000.0})
    EXPECT_DOUBLE_EQ(gravity_return_head(litres_an_hour(q), {run(3.0), Number<>(0.03)}, kWater).si(),
                     circular_inlet_head(litres_an_hour(q), Length<>(0.0685)).si());
}

TEST(GravityReturnHead, AVeryLongMildPipeRunsAtNormalDepth) {
  const Flow<> q = litres_an_hour(2000.0);
  const Number<> slope(0.001);
  const Length<> normal = part_full_darcy_normal_depth(q, Length<>(0.0685), slope, Length<>(1.5e-6), kWater);
  const double v = (q / circular_section_area(normal, Length<>(0.0685))).si();
  const double expected = normal.si() + 1.5 * v * v / (2.0 * 9.80665);
  EXPECT_NEAR(gravity_return_head(q, {run(60.0), slope}, kWater).si(), expected, 0.02 * expected);
}

TEST(GravityReturnHead, ALevelPipeThatFillsLosesWhatAFullPipeLoses) {
  // Far above its open capacity nearly all of the length runs full: the loss of that length, the bore, the velocity
  // head and the entry; the short open piece at the end costs less than a tenth of it.
  const Flow<> q = litres_an_hour(12000.0);
  const PipeRun level = run(20.0);
  const double two_g = 2.0 * 9.80665, v = pipe_velocity(q, level.bore).si();
  const PipeRun bare{level.bore, level.length, level.roughness, Number<>(0.0)};
  const double full = pipe_loss(q, bare, kWater).si() + 0.0685 + 1.5 * v * v / two_g;
  const double head = gravity_return_head(q, {level, Number<>(0.0)}, kWater).si();
  EXPECT_LT(head, full * 1.001);
  EXPECT_GT(head, full * 0.9);
}

TEST(GravityReturnHead, RisesWithTheFlowAndFallsWithTheSlope) {
  double before = 0.0;
  for (double q = 20.0; q < 40000.0; q *= 1.3) {
    const double level = gravity_return_head(litres_an_hour(q), {run(4.0), Number<>(0.0)}, kWater).si();
    const double sloping = gravity_return_head(litres_an_hour(q), {run(4.0), Number<>(0.01)}, kWater).si();
    EXPECT_GT(level, before);
    EXPECT_LE(sloping, level * (1.0 + 1e-9));
    before = level;
  }
}

}  // namespace
}  // namespace leat::science
