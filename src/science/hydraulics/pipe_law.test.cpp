#include "science/hydraulics/pipe_law.h"

#include <gtest/gtest.h>

#include <cmath>

namespace leat::science {
namespace {

TEST(PipeLaw, IsTheLossOfThePipeFromACreepToAFlood) {
  const KinematicViscosity<> water(1.2e-6);
  for (const double bore : {0.012, 0.034, 0.110})
    for (const double rough : {0.0, 1.5e-6, 1e-4}) {
      const PipeRun run{Length<>(bore), Length<>(4.0), Length<>(rough), Number<>(6.0)};
      const PipeLaw law(run, water);
      for (double q = 1e-9; q < 2.0; q *= 1.0173) {
        const auto exact = pipe_loss_and_slope(Flow<>(q), run, water);
        const auto quick = law.at(q), back = law.at(-q);
        EXPECT_NEAR(quick.loss, exact.loss.si(), 1e-7 * exact.loss.si()) << bore << ' ' << q;
        EXPECT_NEAR(quick.slope, exact.slope.si(), 3e-6 * exact.slope.si()) << bore << ' ' << q;
        EXPECT_EQ(back.loss, -quick.loss);
      }
    }
}

TEST(PipeLaw, ItsFlowIsTheInverseOfItsLoss) {
  const PipeRun run{Length<>(0.027), Length<>(1.0), Length<>(1.5e-6), Number<>(4.5)};
  const PipeLaw law(run, KinematicViscosity<>(1e-6));
  for (double head = 1e-9; head < 20.0; head *= 1.31) {
    EXPECT_NEAR(law.at(law.flow(head)).loss, head, 1e-12 * head);
    EXPECT_EQ(law.flow(-head), -law.flow(head));
  }
  EXPECT_EQ(law.flow(0.0), 0.0);
}

TEST(PipeLaw, ARunWithoutLengthHasItsFittingsOnly) {
  const PipeRun run{Length<>(0.034), Length<>(0.0), Length<>(0.0), Number<>(12.0)};
  const PipeLaw law(run, KinematicViscosity<>(1e-6));
  EXPECT_NEAR(law.at(1e-3).loss, pipe_loss(Flow<>(1e-3), run, KinematicViscosity<>(1e-6)).si(), 1e-15);
}

}  // namespace
}  // namespace leat::science
