#include "science/heat/vapour.h"

#include <gtest/gtest.h>

#include "numerics/dual.h"

namespace leat::science {
namespace {

TEST(Saturation, SlopeIsItsDerivative) {
  for (double t = -15.0; t <= 50.0; t += 5.0) {
    const auto es = saturation_vapour_pressure(Temperature<Dual<1>>::from_celsius(Dual<1>::seed(t, 0)));
    // 4098 is 17.27 x 237.3 rounded.
    EXPECT_NEAR(saturation_slope(Temperature<>::from_celsius(t)).si() / es.si().slope[0], 1.0, 1e-4);
  }
}

TEST(Saturation, DewPointTurnsItRound) {
  for (double t = -15.0; t <= 50.0; t += 5.0)
    EXPECT_NEAR(dew_point(saturation_vapour_pressure(Temperature<>::from_celsius(t))).celsius(), t, 1e-9);
}

TEST(Saturation, MeanOfExtremesIsAboveThatOfTheMean) {
  const auto high = Temperature<>::from_celsius(30.0), low = Temperature<>::from_celsius(10.0);
  EXPECT_GT(mean_saturation_vapour_pressure(high, low), saturation_vapour_pressure(Temperature<>::from_celsius(20.0)));
}

TEST(WetBulb, SolvesThePsychrometerBetweenDewAndDry) {
  const Pressure<> air(95e3);
  for (double t = 0.0; t <= 45.0; t += 5.0)
    for (const double humidity : {0.05, 0.3, 0.7, 1.0}) {
      const auto dry = Temperature<>::from_celsius(t);
      const Pressure<> vapour = vapour_pressure_from_humidity(dry, Number<>(humidity));
      const Temperature<> wet = wet_bulb(dry, vapour, air);
      EXPECT_LE(wet.celsius(), t + 1e-9);
      EXPECT_GE(wet.celsius(), dew_point(vapour).celsius() - 1e-9);
      EXPECT_NEAR(vapour_pressure_from_psychrometer(dry, wet, air, 0.665e-3).si(), vapour.si(), 1e-6);
    }
}

TEST(VapourCapped, NeverExceedsSaturation) {
  const auto air = Temperature<>::from_celsius(5.0);
  EXPECT_EQ(vapour_pressure_capped(Pressure<>(2000.0), air), saturation_vapour_pressure(air));
  EXPECT_EQ(vapour_pressure_capped(Pressure<>(500.0), air), Pressure<>(500.0));
}

TEST(VirtualTemperature, IsWarmerForWetAir) {
  const auto t = Temperature<>::from_celsius(20.0);
  EXPECT_EQ(virtual_temperature(t, Pressure<>(0.0), Pressure<>(101325.0)), t);
  EXPECT_GT(virtual_temperature(t, Pressure<>(2000.0), Pressure<>(101325.0)), t);
}

TEST(AirPressure, FallsWithHeight) {
  EXPECT_GT(air_pressure_from_elevation(Length<>(0.0)), air_pressure_from_elevation(Length<>(500.0)));
}

}  // namespace
}  // namespace leat::science
