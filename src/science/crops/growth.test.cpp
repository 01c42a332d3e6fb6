#include "science/crops/growth.h"

#include <gtest/gtest.h>

#include "science/crops/crop.h"
#include "science/crops/nutrition.h"

namespace leat::science {
namespace {

Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}
const CropTemperatures kLettuce{at(0), at(15), at(22), at(35)};

TEST(Expolinear, RateIsTheSlopeOfTheCurve) {
  const ArealMassRate<> linear = 10.0 * gram_per_square_metre_day;
  const Frequency<> relative(0.25 / 86400.0);
  for (const double day : {-20.0, -3.0, 0.0, 5.0, 40.0}) {
    const auto mass = [&](double d) { return dry_mass_expolinear(linear, relative, d * units::day).si(); };
    const double slope = (mass(day + 0.01) - mass(day - 0.01)) / (0.02 * 86400.0);
    const double rate = growth_rate_expolinear(ArealMass<>(mass(day)), linear, relative).si();
    EXPECT_NEAR(rate / slope, 1.0, 1e-5) << day;
  }
}

TEST(Expolinear, StartsExponentialAndEndsLinear) {
  const ArealMassRate<> linear = 10.0 * gram_per_square_metre_day;
  const Frequency<> relative(0.25 / 86400.0);
  const ArealMass<> seedling(1e-5);
  EXPECT_NEAR(growth_rate_expolinear(seedling, linear, relative).si() / (relative.si() * seedling.si()), 1.0, 1e-3);
  EXPECT_NEAR(growth_rate_expolinear(ArealMass<>(1.0), linear, relative).si() / linear.si(), 1.0, 1e-6);
  EXPECT_NEAR(dry_mass_expolinear(linear, relative, 4000.0 * units::day).in(gram_per_square_metre), 40000.0, 1e-6);
}

TEST(CropGrowth, NeedsLightAndWarmthAndIsNeverALoss) {
  const auto rate = [](double dry, double c, double par) {
    return crop_growth_rate(ArealMass<>(dry), at(c), Flux<>(par), kLettuce).si();
  };
  EXPECT_EQ(rate(0.1, 18, 0), 0.0);
  EXPECT_EQ(rate(0.1, -3, 100), 0.0);
  EXPECT_EQ(rate(0.1, 36, 100), 0.0);
  for (double c = -10; c < 45; c += 1)
    for (double par = 0; par < 400; par += 25) EXPECT_GE(rate(0.05, c, par), 0.0);
  for (double par = 5; par < 400; par += 5) EXPECT_LT(rate(0.2, 18, par), rate(0.2, 18, par + 5));
}

TEST(CropGrowth, GivesAHeadOfLettuceInThePublishedTime) {
  // 17 mol/m2/d at 20 °C: heads of 150 to 250 g at 20 to 25 per m2 in 4 to 6 weeks (Hernandez et al. 2017; FAO 589).
  const Flux<> par = par_from_photons(17.0 * mole_per_square_metre_day);
  ArealMass<> dry(0.0035);
  for (int hour = 0; hour < 35 * 24; ++hour)
    dry += ArealMass<>(crop_growth_rate(dry, at(20), par, kLettuce).si() * 3600.0);
  const double fresh = dry.si() / *find_crop("lettuce")->dry_share;
  EXPECT_GT(fresh, 3.0);
  EXPECT_LT(fresh, 6.5);
}

TEST(CropGrowth, DevelopmentStopsRisingAtTheBestAndStartsAtTheBase) {
  EXPECT_EQ(developmental_temperature(at(-2), kLettuce).si(), 0.0);
  EXPECT_NEAR(developmental_temperature(at(12), kLettuce).si(), 12.0, 1e-12);
  EXPECT_NEAR(developmental_temperature(at(30), kLettuce).si(), 22.0, 1e-12);
}

TEST(GroundCover, RisesToAllOfIt) {
  EXPECT_EQ(ground_cover(ArealMass<>(0.0)).si(), 0.0);
  EXPECT_NEAR(ground_cover(ArealMass<>(0.2)).si(), 1.0, 1e-5);
}

TEST(CropCoefficients, PassThroughTheirThreeValues) {
  const CropCoefficients kc{0.7, 1.05, 0.95};
  EXPECT_NEAR(crop_coefficient(Number<>(0.0), kc).si(), 0.7, 1e-12);
  EXPECT_NEAR(crop_coefficient(Number<>(0.75), kc).si(), 1.05, 1e-12);
  EXPECT_NEAR(crop_coefficient(Number<>(1.0), kc).si(), 0.95, 1e-12);
  EXPECT_NEAR(crop_coefficient(Number<>(2.0), kc).si(), 0.95, 1e-12);
}

TEST(Uptake, OfACropIsItsContentTimesItsGrowth) {
  const auto fresh = fresh_growth(10.0 * gram_per_square_metre_day, 0.044);
  EXPECT_NEAR(nutrient_uptake(fresh, 0.0025).in(gram_per_square_metre_day), 10.0 / 0.044 * 0.0025, 1e-12);
  EXPECT_NEAR(uptake_supply(Density<>(0.5e-3), Density<>(0.5e-3)).si(), 0.5, 1e-12);
}

TEST(Contents, OfWholeCropsAreNeverBelowTheEdiblePart) {
  for (const Crop& crop : all_crops()) {
    const auto c = crop.contents();
    ASSERT_TRUE(c.has_value()) << crop.name;
    const auto edible = read_span(find_datum(crop_data(), crop.name, "n_g_kg")->value);
    EXPECT_GE(c->nitrogen, 1e-3 * edible->low) << crop.name;
    EXPECT_LT(c->nitrogen, 0.010) << crop.name;
    EXPECT_GT(c->potassium, 0.001) << crop.name;
    EXPECT_GT(c->iron, 1e-6) << crop.name;
  }
}

}  // namespace
}  // namespace leat::science
