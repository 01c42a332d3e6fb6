#include "science/heat/lake_evaporation.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

TEST(Combination, LiesBetweenItsTwoParts) {
  const Velocity<> energy(5e-8), air(2e-8);
  for (const double ratio : {0.2, 1.0, 4.0}) {
    const Velocity<> both = evaporation_combination(energy, air, Number<>(ratio));
    EXPECT_LT(both, energy);
    EXPECT_GT(both, air);
  }
}

TEST(Equilibrium, IsTheWetBulbWithoutRadiation) {
  const auto wet = Temperature<>::from_celsius(12.0);
  const VapourCoefficient<> f = 120.0 * watt_per_square_metre_kilopascal;
  const PressureSlope<> gamma = 0.066 * kilopascal_per_kelvin;
  EXPECT_EQ(equilibrium_temperature(wet, Flux<>(0.0), f, gamma), wet);
  EXPECT_GT(equilibrium_temperature(wet, Flux<>(100.0), f, gamma), wet);
  const auto tau = [&](double depth) { return equilibrium_time_constant(Length<>(depth), wet, f, gamma).si(); };
  EXPECT_NEAR(tau(2.0) / tau(1.0), 2.0, 1e-12);
}

}  // namespace
}  // namespace leat::science
