#include "science/heat/longwave.h"

#include <gtest/gtest.h>

#include "numerics/dual.h"

namespace leat::science {
namespace {

Temperature<> c(double t) {
  return Temperature<>::from_celsius(t);
}

TEST(SkyEmissivity, LiesBetweenHalfAndOneAndRisesWithVapour) {
  for (double t = -20.0; t <= 30.0; t += 10.0) {
    double brutsaert = 0.0, prata = 0.0, brunt = 0.0;
    for (double share = 0.1; share <= 1.0; share += 0.1) {
      const Pressure<> vapour = share * saturation_vapour_pressure(c(t));
      const double b = sky_emissivity_brutsaert(c(t), vapour).si(), p = sky_emissivity_prata(c(t), vapour).si();
      const double n = sky_emissivity_brunt(vapour).si();
      EXPECT_GT(b, brutsaert);
      EXPECT_GT(p, prata);
      EXPECT_GT(n, brunt);
      EXPECT_GT(std::min({b, p, n}), 0.4);
      EXPECT_LT(std::max({b, p, n}), 1.0);
      brutsaert = b, prata = p, brunt = n;
    }
  }
}

TEST(SkyEmissivity, IsOneUnderFullCloud) {
  EXPECT_DOUBLE_EQ(sky_emissivity_crawford_duchon(Number<>(0.77), Number<>(1.0)).si(), 1.0);
  EXPECT_DOUBLE_EQ(sky_emissivity_crawford_duchon(Number<>(0.77), Number<>(0.0)).si(), 0.77);
}

TEST(SkyLongwave, TakesBrutsaertWhenMildAndLowAndPrataWhenColdOrHigh) {
  const Pressure<> vapour(500.0);
  const Number<> clear(0.0);
  const auto with = [](Temperature<> air, Number<> eps) { return incoming_longwave(air, eps).si(); };
  EXPECT_NEAR(sky_longwave(c(20.0), vapour, clear).si(), with(c(20.0), sky_emissivity_brutsaert(c(20.0), vapour)),
              0.01);
  EXPECT_NEAR(sky_longwave(c(-9.0), vapour, clear).si(), with(c(-9.0), sky_emissivity_prata(c(-9.0), vapour)), 0.01);
  EXPECT_NEAR(sky_longwave(c(20.0), vapour, clear, Length<>(2300.0)).si(),
              with(c(20.0), sky_emissivity_prata(c(20.0), vapour)), 0.01);
}

TEST(SkyTemperature, ShinesAsTheSkyDoes) {
  const Number<> eps(0.8);
  EXPECT_NEAR(outgoing_longwave(sky_temperature(c(15.0), eps), 1.0).si(), incoming_longwave(c(15.0), eps).si(), 1e-9);
}

TEST(OutgoingLongwave, HasTheRadiativeConductanceAsSlope) {
  const auto out = outgoing_longwave(Temperature<Dual<1>>::from_celsius(Dual<1>::seed(18.0, 0)), 0.9);
  EXPECT_NEAR(out.si().slope[0], radiative_conductance(c(18.0), 0.9).si(), 1e-9);
}

TEST(Cloud, IsHeldWithinItsBoundsAndAnswersInTheDark) {
  EXPECT_EQ(cloud_crawford_duchon(Flux<>(400.0), Flux<>(300.0)).si(), 0.0);
  EXPECT_NEAR(cloud_crawford_duchon(Flux<>(60.0), Flux<>(300.0)).si(), 0.8, 1e-12);
  EXPECT_TRUE(std::isfinite(cloud_crawford_duchon(Flux<>(0.0), Flux<>(0.0)).si()));
}

}  // namespace
}  // namespace leat::science
