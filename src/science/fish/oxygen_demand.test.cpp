#include "science/fish/oxygen_demand.h"

#include <gtest/gtest.h>

#include "science/fish/potential.h"
#include "science/fish/stocking.h"

namespace leat::science {
namespace {

Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}
double liao(double c, double g) {
  return oxygen_uptake_liao(at(c), Mass<>(1e-3 * g), liao_trout).in(mg_per_kg_hour);
}
double blended(double c, double g) {
  return oxygen_uptake_liao_blended(at(c), Mass<>(1e-3 * g), liao_trout).in(mg_per_kg_hour);
}

TEST(OxygenUptake, BlendedIsLiaosAwayFromTheStepAndTheHeat) {
  for (const double c : {2.0, 5.0, 8.8, 11.2, 15.0, 18.9}) EXPECT_NEAR(blended(c, 100), liao(c, 100), 1e-6) << c;
  for (const double c : {9.0, 10.0, 11.0}) EXPECT_NEAR(blended(c, 100) / liao(c, 100), 1.0, 0.1) << c;
}

TEST(OxygenUptake, BlendedRisesToTwentyDegreesAndStops) {
  for (double c = 1.0; c < 19.0; c += 0.05) EXPECT_LT(blended(c, 100), blended(c + 0.05, 100)) << c;
  EXPECT_NEAR(blended(20.5, 100), blended(25.0, 100), 1e-9);
  EXPECT_LT(blended(25.0, 100), liao(20.0, 100));
}

TEST(OxygenUptake, BlendedHasNoStep) {
  for (double c = 8.0; c < 12.0; c += 0.001) EXPECT_NEAR(blended(c + 0.001, 100), blended(c, 100), 0.2) << c;
}

TEST(OxygenUptake, SmallFishUseMorePerMass) {
  for (const double c : {4.0, 12.0, 19.0}) EXPECT_GT(blended(c, 10), blended(c, 500));
}

// The two levels were worked out apart from the published constants, mg/kg/h.
TEST(OxygenUptake, ASecondLawForTroutAgreesWithinAnEighthBelowTwenty) {
  const auto second = [](double c, double g) {
    return oxygen_uptake_bioenergetic(at(c), Mass<>(1e-3 * g), respiration_trout_juvenile).in(mg_per_kg_hour);
  };
  EXPECT_NEAR(second(10, 100), 220, 1);
  EXPECT_NEAR(second(15, 100), 340, 1);
  for (const double c : {5.0, 10.0, 15.0, 18.0}) EXPECT_NEAR(liao(c, 100) / second(c, 100), 1.0, 0.12) << c;
  EXPECT_NEAR(second(25.5, 100), 0.0, 1e-3);
}

TEST(OxygenUptake, TheAllometricLawMeetsTheTilapiaLawWhereItIsTied) {
  EXPECT_NEAR(oxygen_uptake_allometric(at(28), Mass<>(0.1)).in(mg_per_kg_hour),
              oxygen_uptake_tilapia(at(28), Mass<>(0.1)).in(mg_per_kg_hour), 5.0);
}

TEST(OxygenUptake, OfEverySpeciesIsAboveNothing) {
  for (const Species& s : all_species()) {
    if (s.oxygen_law == OxygenLaw::unsupported) continue;
    for (double c = 2.0; c < 36.0; c += 1.0)
      for (const double g : {5.0, 100.0, 1500.0}) {
        const double rate = oxygen_uptake(s, at(c), Mass<>(1e-3 * g)).in(mg_per_kg_hour);
        EXPECT_GT(rate, 20.0) << s.name;
        EXPECT_LT(rate, 900.0) << s.name;
      }
  }
}

TEST(OxygenFromEnergy, FollowsTheEnergyThatIsNotKept) {
  const Power<> day(1e6 / 86400.0);  // 1 MJ a day
  EXPECT_NEAR(oxygen_from_energy(day, Power<>(0.0), Power<>(0.0)).si() * 86400.0, 1.0 / 13.56, 1e-9);
  EXPECT_EQ(oxygen_from_energy(day, day, Power<>(0.0)).si(), 0.0);
  EXPECT_EQ(oxygen_demand_for_sizing(MassRate<>(1.0), MassRate<>(2.0)).si(), 2.0);
}

TEST(PowerCut, LeavesFiftyMinutesForTwentyKilogramsInACubicMetre) {
  const Duration<> left =
      time_to_oxygen_floor(Density<>(0.010), Density<>(0.005), Volume<>(1.0), Mass<>(20.0), 300.0 * mg_per_kg_hour);
  EXPECT_NEAR(left.in(units::minute), 50.0, 1e-9);
}

}  // namespace
}  // namespace leat::science
