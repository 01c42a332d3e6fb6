#include "science/heat/reference_evapotranspiration.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

GrassWeather weather(double wind, double net_mj) {
  const auto air = Temperature<>::from_celsius(22.0);
  return {air,
          saturation_vapour_pressure(air),
          Pressure<>(1500.0),
          Pressure<>(100e3),
          Velocity<>(wind),
          net_mj * megajoule_per_square_metre_day,
          {}};
}

TEST(ReferenceEt, RisesWithSunAndWithDryWind) {
  EXPECT_LT(reference_et_day(weather(2.0, 8.0)), reference_et_day(weather(2.0, 15.0)));
  EXPECT_LT(reference_et_day(weather(1.0, 4.0)), reference_et_day(weather(4.0, 4.0)));
}

TEST(ReferenceEt, DayIsNearlyTheSumOfEqualHours) {
  const GrassWeather w = weather(2.0, 12.0);
  EXPECT_NEAR(reference_et_hour(w).si() / reference_et_day(w).si(), 1.0, 0.01);
}

TEST(ReferenceEt, WithoutWindAndGroundIsEnergyAlone) {
  const GrassWeather w = weather(0.0, 12.0);
  const double slope = saturation_slope(w.air).si(), gamma = psychrometric_constant(w.pressure).si();
  const double by_energy = energy_to_water_depth(w.net_radiation).si() * slope / (slope + gamma);
  EXPECT_NEAR(reference_et_day(w).si() / by_energy, 1.0, 1e-3);
}

TEST(NetLongwave, IsSmallerUnderCloudAndInWetAir) {
  const auto high = Temperature<>::from_celsius(25.0), low = Temperature<>::from_celsius(12.0);
  const auto loss = [&](double vapour, double ratio) {
    return net_longwave_fao_day(high, low, Pressure<>(vapour), Number<>(ratio)).si();
  };
  EXPECT_GT(loss(1200.0, 1.0), loss(1200.0, 0.5));
  EXPECT_GT(loss(800.0, 0.8), loss(1600.0, 0.8));
}

TEST(NetLongwave, OfAnHourInOvercastNightStaysPositive) {
  EXPECT_GT(net_longwave_asce_hour(Temperature<>::from_celsius(10.0), Pressure<>(1000.0), Number<>(0.0)).si(), 0.0);
}

}  // namespace
}  // namespace leat::science
