#include "science/fish/growth.h"

#include <gtest/gtest.h>

#include "science/fish/energy.h"
#include "science/fish/temperature_response.h"

namespace leat::science {
namespace {

const GrowthTemperatures kTrout{Temperature<>::from_celsius(15), Temperature<>::from_celsius(18),
                                Temperature<>::from_celsius(25), Temperature<>::from_celsius(0)};
const ThermalGrowth<> kStock = ThermalGrowth<>::from_thousandfold(1.74);

Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}
Mass<> grams(double g) {
  return Mass<>(1e-3 * g);
}

TEST(EffectiveTemperature, IsTheWatersOwnBelowThePlateauAndEndsInTheHeat) {
  for (double c = 0.5; c < 14.5; c += 0.5) EXPECT_NEAR(effective_temperature_trapezoid(at(c), kTrout).si(), c, 1e-12);
  EXPECT_NEAR(effective_temperature_trapezoid(at(16.0), kTrout).si(), 15.0, 1e-12);
  EXPECT_EQ(effective_temperature_trapezoid(at(25.0), kTrout).si(), 0.0);
  EXPECT_EQ(effective_temperature_trapezoid(at(40.0), kTrout).si(), 0.0);
  EXPECT_EQ(effective_temperature_trapezoid(at(-3.0), kTrout).si(), 0.0);
}

TEST(EffectiveTemperature, RoundedDiffersOnlyNearCornersAndByLittle) {
  for (double c = -4.0; c < 30.0; c += 0.01) {
    const double sharp = effective_temperature_trapezoid(at(c), kTrout).si();
    const double soft = effective_temperature_rounded(at(c), kTrout).si();
    EXPECT_NEAR(soft, sharp, 0.25 * 0.25 * 15.0 / 7.0 + 1e-9) << c;
    bool near = false;
    for (const double corner : {0.0, 15.0, 18.0, 25.0}) near = near || std::abs(c - corner) < 0.251;
    if (!near) {
      EXPECT_NEAR(soft, sharp, 1e-9) << c;
    }
  }
}

TEST(ThermalGrowthRelations, AgreeWithEachOther) {
  for (const double w0 : {5.0, 80.0, 900.0})
    for (const double b : {1.0 / 3.0, 0.33, 0.25}) {
      const ThermalGrowth<> stock{0.0017, b};
      const ThermalTime<> sum = 700.0 * degree_day;
      const Mass<> end = fish_mass_thermal_unit(grams(w0), sum, stock);
      EXPECT_NEAR(thermal_growth_from_weights(grams(w0), end, sum, b).coefficient, 0.0017, 1e-12);
      EXPECT_NEAR(thermal_time_to_mass(grams(w0), end, stock).in(degree_day), 700.0, 1e-8);
      // The rate is the slope of the curve.
      const TemperatureDifference<> t(12.0);
      const Mass<> soon = fish_mass_thermal_unit(grams(w0), 12.0e-4 * degree_day, stock);
      const double slope = std::log(soon.si() / grams(w0).si()) / (1e-4 * 86400.0);
      EXPECT_NEAR(specific_growth_thermal_unit(grams(w0), t, stock).si() / slope, 1.0, 1e-4);
    }
}

TEST(ThermalGrowthRelations, SmallFishGrowRelativelyFaster) {
  const TemperatureDifference<> t(12.0);
  EXPECT_GT(specific_growth_thermal_unit(grams(10), t, kStock), specific_growth_thermal_unit(grams(20), t, kStock));
}

TEST(TemperatureResponses, AreOneAtTheBestAndNothingOutside) {
  const CardinalTemperatures c{at(17), at(28.5), at(37)};
  EXPECT_NEAR(temperature_response_beta(at(28.5), c).si(), 1.0, 1e-12);
  EXPECT_EQ(temperature_response_beta(at(16), c).si(), 0.0);
  EXPECT_EQ(temperature_response_beta(at(38), c).si(), 0.0);
  EXPECT_NEAR(temperature_response_bolte(at(28.5), c).si(), 1.0, 1e-12);
  EXPECT_NEAR(temperature_response_bolte(at(17), c).si(), std::exp(-4.6), 1e-12);
  EXPECT_NEAR(temperature_response_bolte(at(37), c).si(), std::exp(-4.6), 1e-12);
  EXPECT_NEAR(temperature_response_quadratic(at(27.4), at(31.4), TemperatureDifference<>(8)).si(), 0.9, 1e-12);
  for (double t = 10; t < 45; t += 0.25) {
    EXPECT_LE(temperature_response_beta(at(t), c).si(), 1.0 + 1e-12);
    EXPECT_GE(temperature_response_quadratic(at(t), at(31.4), TemperatureDifference<>(8)).si(), 0.0);
  }
}

TEST(DielMean, OfAStraightLineIsItsValueAtTheMeanAndOfABellIsLess) {
  const auto line = [](Temperature<> t) { return TemperatureDifference<>(t.celsius()); };
  EXPECT_NEAR(diel_mean_response(at(10), TemperatureDifference<>(4), line).si(), 10.0, 1e-9);
  const auto growth = [](Temperature<> t) { return effective_temperature_trapezoid(t, kTrout); };
  EXPECT_LT(diel_mean_response(at(16.5), TemperatureDifference<>(4), growth).si(), 15.0);
}

TEST(DielMean, SwingsCostNothingUpToSevenDegreesAndNeverPay) {
  EXPECT_EQ(diel_swing_growth_loss(TemperatureDifference<>(6.9)).si(), 0.0);
  EXPECT_NEAR(diel_swing_growth_loss(TemperatureDifference<>(8)).si(), 0.08, 1e-12);
  EXPECT_NEAR(diel_swing_growth_loss(TemperatureDifference<>(15)).si(), 0.10, 1e-12);
  for (double s = 0; s < 15; s += 0.1)
    EXPECT_LE(diel_swing_growth_loss(TemperatureDifference<>(s)),
              diel_swing_growth_loss(TemperatureDifference<>(s + 0.1)));
}

TEST(Energy, NeedAndBudgetAreEachOthersInverse) {
  for (const double c : {5.0, 12.0, 18.0})
    for (const double w : {0.01, 0.1, 1.0}) {
      const Power<> heat = fasting_heat_cho(at(c), Mass<>(w));
      const Power<> retained = 7.0 * kilojoule_per_day;
      const auto need = energy_need_bureau(retained, heat);
      const auto budget = energy_budget_bureau(need.digested, heat);
      EXPECT_NEAR(budget.retained.si(), retained.si(), 1e-12 * retained.si() + 1e-15);
      const Power<> spent = budget.fasting_heat + budget.retained + budget.increment + budget.excreted;
      EXPECT_NEAR(spent.si(), need.digested.si(), 1e-12 * need.digested.si());
    }
}

TEST(Energy, MoreFeedIsMoreGainAndNoneIsALoss) {
  const Mass<> fish = grams(100);
  const EnergyDensity<> feed = 17.5 * kilojoule_per_gram;
  double before = -1.0;
  for (double percent = 0.0; percent < 3.0; percent += 0.05) {
    const MassRate<> eaten(0.01 * percent / 86400.0 * fish.si());
    const double gain = gain_from_ration(eaten, feed, at(12), fish).si();
    EXPECT_GT(gain, before);
    before = gain;
  }
  const double fast = gain_from_ration(MassRate<>(0.0), feed, at(12), grams(6)).si() / grams(6).si() * 8.64e6;
  // Weatherley & Gill 1981: trout of about 6 g lost 0.37 %/d over 77 days at 12 °C.
  EXPECT_NEAR(fast, -0.37, 0.08);
}

TEST(Energy, OfGainIsSixForFryAndNineForTableFish) {
  EXPECT_NEAR(energy_of_gain(grams(5)).in(kilojoule_per_gram), 6.0, 1e-9);
  EXPECT_NEAR(energy_of_gain(grams(600)).in(kilojoule_per_gram), 8.75, 1e-9);
  for (double w = 2; w < 900; w *= 1.1)
    EXPECT_LE(energy_of_gain(grams(w)).si(), energy_of_gain(grams(w * 1.1)).si() + 1e-6);
}

}  // namespace
}  // namespace leat::science
