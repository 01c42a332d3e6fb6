#include <gtest/gtest.h>

#include "numerics/dual.h"
#include "science/algae/growth.h"
#include "science/algae/light.h"
#include "science/algae/needs.h"
#include "science/carbonate/acidity.h"

namespace leat::science {
namespace {

Temperature<> celsius(double t) {
  return Temperature<>::from_celsius(t);
}
Number<> deep(double d) {
  return Number<>(d);
}

TEST(Light, OfAThinLayerIsThatOfAPoint) {
  const Number<> thin = optical_depth(Extinction<>(0.0), Length<>(0.5));
  for (const double x : {0.1, 0.5, 1.0, 3.0, 10.0}) {
    EXPECT_NEAR(light_limitation_smith(Number<>(x), thin).si(), x / std::sqrt(1.0 + x * x), 1e-6);
    EXPECT_NEAR(light_limitation_half(Number<>(x), thin).si(), x / (1.0 + x), 1e-6);
    EXPECT_NEAR(light_limitation_steele(Number<>(x), thin).si(), light_limitation_steele_point(Number<>(x)).si(), 1e-6);
  }
}

TEST(Light, MeanIsBetweenTopAndBottomAndFallsWithDepth) {
  for (const double x : {0.2, 1.0, 5.0}) {
    double last = 1.0;
    for (double d = 0.1; d < 8.0; d *= 1.5) {
      const double mean = light_limitation_smith(Number<>(x), deep(d)).si();
      const double low = x * light_share_at(deep(d)).si();
      EXPECT_LT(mean, x / std::sqrt(1.0 + x * x));
      EXPECT_GT(mean, low / std::sqrt(1.0 + low * low));
      EXPECT_LT(mean, last);
      last = mean;
    }
  }
}

TEST(Light, MeanIsThatOfManyThinLayers) {
  const double x = 2.0, depth = 1.7;
  double sum = 0.0;
  constexpr int layers = 20000;
  for (int i = 0; i < layers; ++i) {
    const double here = x * std::exp(-depth * (i + 0.5) / layers);
    sum += here / std::sqrt(1.0 + here * here);
  }
  EXPECT_NEAR(light_limitation_smith(Number<>(x), deep(depth)).si(), sum / layers, 1e-8);
}

TEST(Light, OfTheDayMustNotBeAveragedFirst) {
  double hourly = 0.0, light = 0.0;
  for (int h = 0; h < 24; ++h) {
    const double x = 6.0 * std::max(0.0, std::sin(3.14159265 * (h - 6 + 0.5) / 12.0));
    hourly += light_limitation_smith(Number<>(x), deep(1.5)).si() / 24.0;
    light += x / 24.0;
  }
  EXPECT_GT(light_limitation_smith(Number<>(light), deep(1.5)).si(), 1.2 * hourly);
}

TEST(Extinction, RisesWithAlgaeAndHasASlopeInClearWater) {
  const auto ke = [](double chl) {
    return light_extinction(Extinction<>(0.2), chl * microgram_per_litre, Density<>(0.0), Density<>(0.0)).si();
  };
  EXPECT_NEAR(ke(0.0), 0.2, 0.003);
  EXPECT_LT(ke(10.0), ke(20.0));
  const Dual<1> clear = light_extinction(Extinction<>(0.2), Density<Dual<1>>(Dual<1>::seed(0.0, 0)),
                                         Density<Dual<1>>(Dual<1>(0.0)), Density<Dual<1>>(Dual<1>(0.0)))
                            .si();
  EXPECT_TRUE(std::isfinite(clear.slope[0]));
}

TEST(Growth, IsUnderTheCeilingAndStopsInTheDark) {
  for (double t = 1.0; t < 30.0; t += 2.0) {
    const auto growth = [&](double light) {
      return algae_growth(algae_rates, celsius(t), Number<>(light), Concentration<>(1.0), Concentration<>(0.1)).si();
    };
    EXPECT_LT(growth(1.0), algae_growth_ceiling(celsius(t)).si());
    EXPECT_EQ(growth(0.0), 0.0);
    EXPECT_LT(algae_growth_ceiling_eppley(celsius(t)).si(), algae_growth_ceiling(celsius(t)).si());
  }
}

TEST(Photosynthesis, GainsTheAlkalinityOfTheChargeBalance) {
  const Concentration<> none(0.0), n(1.0), p(0.0625), ions(3.0);
  const auto before = alkalinity_from_strong_ions(ions - n, none, none, p);
  const auto after = alkalinity_from_strong_ions(ions, none, none, none);
  EXPECT_DOUBLE_EQ((after - before).si(), photosynthesis_alkalinity(NitrogenSource::nitrate, 1.0, 0.0625));
  const auto fed = alkalinity_from_strong_ions(ions, n, none, p);
  EXPECT_DOUBLE_EQ((after - fed).si(), photosynthesis_alkalinity(NitrogenSource::ammonium, 1.0, 0.0625));
}

TEST(Collapse, TakesTheOxygenThatTheBloomGave) {
  const Density<> bloom = 300.0 * microgram_per_litre;
  const Density<> demand = collapse_oxygen_demand(bloom, Number<>(40.0), Number<>(7.2));
  // Carbon burnt and nitrogen nitrified: what growth on nitrate gave off, within the roundness of Redfield's numbers.
  const double given = photosynthesis_oxygen_per_carbon(NitrogenSource::nitrate) * (40.0 * oxygen_for_carbon).si() *
                       bloom.in(milligram_per_litre);
  EXPECT_NEAR(demand.in(milligram_per_litre) / given, 1.0, 0.05);
}

TEST(AlgaeNeeds, PreferAmmoniumDownToTraces) {
  const auto share = [](double ammonia, double nitrate) {
    const auto as = [](double mg) { return mg * milligram_per_litre / molar_mass::nitrogen; };
    return algae_ammonium_preference(as(ammonia), as(nitrate)).si();
  };
  EXPECT_GT(share(1.0, 50.0), 0.97);
  EXPECT_LT(share(0.001, 50.0), 0.05);
  EXPECT_GT(share(1.0, 0.0), 0.95);
  EXPECT_NEAR(share(0.0, 20.0), 2.5e-6 / (0.025 / 14.007), 1e-4);  // what the rounded corner leaves at nothing
  for (double a = 0.001; a < 5.0; a *= 2.0) EXPECT_LE(share(a, 20.0), share(2.0 * a, 20.0));
}

TEST(AlgaeNeeds, StopWhenCarbonOrAcidityIsGone) {
  const auto share = [](double carbon, double acidity) {
    return algae_carbon_share(Concentration<>(carbon), Number<>(acidity)).si();
  };
  EXPECT_NEAR(share(0.013, 8.0), 0.5, 1e-3);
  EXPECT_EQ(share(1.0, 11.0), 0.0);
  EXPECT_NEAR(share(1.0, 10.25), 0.5 * share(1.0, 8.0), 1e-9);
  EXPECT_NEAR(algae_chlorophyll(Concentration<>(1.0)).si(), 12.011e-3 / 40.0, 1e-5);
}

TEST(HalfSine, MeanIsThatOfItsHours) {
  double sum = 0.0;
  constexpr int parts = 24000;
  for (int i = 0; i < parts; ++i) {
    const double hour = 24.0 * (i + 0.5) / parts;
    if (hour < 14.0) sum += std::sin(3.14159265358979 * hour / 14.0);
  }
  EXPECT_NEAR(half_sine_daily_mean(Number<>(1.0), 14.0 * units::hour).si(), sum / parts, 1e-7);
}

}  // namespace
}  // namespace leat::science
