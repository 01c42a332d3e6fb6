#include "science/light/plant_light.h"

#include <gtest/gtest.h>

#include "numerics/dual.h"

namespace leat::science {
namespace {

TEST(MeanLight, RunsFromAllToOneOverDepth) {
  EXPECT_NEAR(mean_light_in_column(Number<>(0.0)).si(), 1.0, 1e-6);
  EXPECT_NEAR(mean_light_in_column(Number<>(50.0)).si(), 1.0 / 50.0, 1e-8);
}

TEST(MeanLight, HasTheSlopeOfItsSeriesAtTheSurface) {
  const auto light = mean_light_in_column(Number<Dual<1>>(Dual<1>::seed(0.0, 0))).si();
  EXPECT_NEAR(light.slope[0], -0.5, 1e-3);
}

TEST(MeanLight, IsTheMeanOfTheLightAtDepths) {
  const double kd = 1.7, depth = 0.9;
  double sum = 0.0;
  for (int i = 0; i < 1000; ++i) sum += std::exp(-kd * depth * (i + 0.5) / 1000.0);
  EXPECT_NEAR(mean_light_in_column(Number<>(kd * depth)).si(), sum / 1000.0, 1e-6);
}

TEST(LightAtDepth, IsAllAtTheSurface) {
  EXPECT_DOUBLE_EQ(light_left_at_depth(Length<>(0.0), 0.58, Length<>(0.35), Length<>(23.0)).si(), 1.0);
}

}  // namespace
}  // namespace leat::science
