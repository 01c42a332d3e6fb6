#include "science/heat/ground.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace leat::science {
namespace {

GroundYear year() {
  return {Temperature<>::from_celsius(11.0), TemperatureDifference<>(9.0), 25.0 * units::day};
}

TEST(Ground, DampsADayInTwelveCentimetresAndAYearInTwoMetres) {
  EXPECT_NEAR(damping_depth(soil_default).si(), 0.122, 0.002);
  EXPECT_NEAR(damping_depth(soil_default, a_year).si(), 2.34, 0.01);
}

TEST(Kusuda, IsColdestWhenToldAndMeanInTheDeep) {
  double coldest = 99.0, day_of_coldest = 0.0;
  for (double day = 0.0; day < 365.0; day += 0.5) {
    const double t = ground_temperature_kusuda(year(), {}, day * units::day, soil_default).celsius();
    if (t < coldest) coldest = t, day_of_coldest = day;
  }
  EXPECT_NEAR(coldest, 2.0, 1e-6);
  EXPECT_NEAR(day_of_coldest, 25.0, 0.5);
  EXPECT_NEAR(ground_temperature_kusuda(year(), Length<>(25.0), {}, soil_default).celsius(), 11.0, 0.01);
}

TEST(Kusuda, SolvesTheHeatEquation) {
  const double kappa = diffusivity(soil_default).si(), dz = 0.01, dt = 600.0;
  const auto t = [](double z, double s) {
    return ground_temperature_kusuda(year(), Length<>(z), Duration<>(s), soil_default).celsius();
  };
  for (const double z : {0.3, 1.0, 3.0})
    for (const double s : {1e6, 9e6, 2e7}) {
      const double in_time = (t(z, s + dt) - t(z, s - dt)) / (2.0 * dt);
      const double in_depth = kappa * (t(z + dz, s) - 2.0 * t(z, s) + t(z - dz, s)) / (dz * dz);
      EXPECT_NEAR(in_time, in_depth, 2e-3 * std::abs(in_time) + 1e-9);
    }
}

TEST(SoilLayers, GrowAndFillTheDepth) {
  const auto layers = soil_layers();
  ASSERT_EQ(layers.size(), 14u);
  double sum = 0.0;
  for (std::size_t i = 0; i < layers.size(); ++i) {
    sum += layers[i].si();
    if (i > 0) {
      EXPECT_NEAR(layers[i].si() / layers[i - 1].si(), 1.35, 1e-9);
    }
  }
  EXPECT_NEAR(sum, 1.5, 1e-12);
  EXPECT_LT(layers.front().si(), 0.02);
}

TEST(SlabOnGround, LosesLessPerAreaWhenLargerAndWhenInsulated) {
  const auto u = [](double side, double floor) {
    return slab_on_ground_u(Area<>(side * side), Length<>(4.0 * side), Length<>(0.002), Conductivity<>(1.2),
                            ThermalResistance<>(floor), ThermalResistance<>(0.005))
        .si();
  };
  EXPECT_GT(u(1.0, 0.0), u(3.0, 0.0));
  EXPECT_GT(u(1.0, 0.0), u(1.0, 1.0));
}

}  // namespace
}  // namespace leat::science
