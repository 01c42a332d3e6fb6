#include <gtest/gtest.h>

#include "numerics/dual.h"
#include "science/gas/aeration.h"
#include "science/gas/nitrogen_gas.h"
#include "science/gas/transfer.h"

namespace leat::science {
namespace {

Temperature<> celsius(double t) {
  return Temperature<>::from_celsius(t);
}

TEST(OxygenSaturation, FallsWithWarmthSaltAndHeight) {
  for (double t = 0.0; t < 40.0; t += 0.5) {
    const double here = oxygen_saturation(celsius(t), units::atmosphere).si();
    EXPECT_GT(here, oxygen_saturation(celsius(t + 0.5), units::atmosphere).si());
    EXPECT_GT(here, oxygen_saturation(celsius(t), 0.9 * units::atmosphere).si());
    EXPECT_GT(here, oxygen_saturation(celsius(t), units::atmosphere, 3.0 * gram_per_kilogram).si());
  }
}

TEST(OxygenSaturation, IsAHundredPercentOfItself) {
  for (const double p : {80e3, 95e3, 101e3})
    EXPECT_NEAR(
        oxygen_share_of_saturation(oxygen_saturation_mass(celsius(14), Pressure<>(p)), celsius(14), Pressure<>(p)).si(),
        1.0, 1e-14);
}

TEST(OxygenSaturation, HasTheSlopeOfItsCurve) {
  const auto at = [](double t) { return oxygen_saturation(celsius(t), units::atmosphere).si(); };
  for (double t = 1.0; t < 35.0; t += 3.0) {
    const Dual<1> d =
        oxygen_saturation(Temperature<Dual<1>>::from_celsius(Dual<1>::seed(t, 0)), units::atmosphere).si();
    EXPECT_EQ(d.value, at(t));
    EXPECT_NEAR(d.slope[0], (at(t + 1e-4) - at(t - 1e-4)) / 2e-4, 1e-8);
  }
}

TEST(TotalGasPressure, IsOneWhenAllIsInBalanceAtAnyHeight) {
  for (const double p : {80e3, 101325.0})
    EXPECT_NEAR(total_gas_pressure(Number<>(1.0), Number<>(1.0), celsius(12), Pressure<>(p)).si(), 1.0, 1e-14);
}

TEST(TotalGasPressure, OfColdWaterWarmedShutInIsDangerous) {
  const auto left = [](auto saturation) { return saturation(5.0) / saturation(15.0); };
  const double oxygen = left([](double t) { return oxygen_saturation(celsius(t), units::atmosphere).si(); });
  const double nitrogen = left([](double t) { return nitrogen_saturation_mass(celsius(t), units::atmosphere).si(); });
  const Number<> warmed = total_gas_pressure(Number<>(oxygen), Number<>(nitrogen), celsius(15), units::atmosphere);
  EXPECT_NEAR(warmed.si(), 1.24, 0.01);
  EXPECT_NEAR(total_gas_pressure_at_depth(warmed, Length<>(1.0), units::atmosphere).si() / warmed.si(), 0.91, 0.005);
}

TEST(CarbonDioxide, IsMoreSolubleInColdAndFreshWater) {
  for (double t = 0.0; t < 35.0; t += 1.0) {
    EXPECT_GT(carbon_dioxide_solubility(celsius(t)).si(), carbon_dioxide_solubility(celsius(t + 1.0)).si());
    EXPECT_LT(carbon_dioxide_salting_out(celsius(t), 10.0 * gram_per_kilogram).si(), 0.0);
  }
  const auto outdoors =
      carbon_dioxide_saturation(celsius(10), carbon_dioxide_pressure(Number<>(420e-6), celsius(10), units::atmosphere));
  EXPECT_NEAR((outdoors * molar_mass::carbon_dioxide).in(milligram_per_litre), 0.98, 0.01);
}

TEST(Surface, PassesGasInACalm) {
  EXPECT_NEAR(transfer_velocity_cole_caraco(Velocity<>(0.0)).in(metre_per_day), 0.497, 0.001);
  const Dual<1> calm = transfer_velocity_cole_caraco(Velocity<Dual<1>>(Dual<1>::seed(0.0, 0))).si();
  EXPECT_TRUE(std::isfinite(calm.slope[0]));
  const Velocity<> k600 = 0.6 * metre_per_day;
  EXPECT_DOUBLE_EQ(transfer_velocity_of_gas(k600, Number<>(600.0)).si(), k600.si());
  EXPECT_GT(transfer_velocity_of_gas(k600, schmidt_number_oxygen(celsius(20))).si(), k600.si());
}

TEST(Surface, PassesCarbonDioxideAtElevenTwelfthsOfOxygen) {
  for (double t = 0.0; t <= 30.0; t += 5.0)
    EXPECT_NEAR(transfer_ratio_carbon_dioxide(celsius(t)).si(), transfer_ratio_by_molar_mass().si(), 0.03) << t;
}

TEST(Fall, OfNoHeightDoesNothing) {
  const Number<> r = deficit_ratio_of_fall(Length<>(0.0), celsius(15), fall_water::clean, fall_shape::sharp_vertical);
  EXPECT_EQ(r.si(), 1.0);
  EXPECT_EQ(concentration_below_fall(Concentration<>(0.2), Concentration<>(0.3), r).si(), 0.2);
  EXPECT_EQ(exchange_flow_of_fall(Flow<>(1e-3), r).si(), 0.0);
}

TEST(Fall, BringsWaterTowardsBalanceFromEitherSide) {
  const Number<> r = deficit_ratio_of_fall(Length<>(0.4), celsius(12), fall_water::clean, fall_shape::broad_crest_high);
  const Concentration<> balance(0.33);
  EXPECT_GT(concentration_below_fall(Concentration<>(0.2), balance, r).si(), 0.2);
  EXPECT_LT(concentration_below_fall(Concentration<>(0.5), balance, r).si(), 0.5);
  EXPECT_GT(concentration_below_fall(Concentration<>(0.5), balance, r).si(), 0.33);
  // The exchange flow says the same: in + share (balance - in).
  const double share = exchange_flow_of_fall(Flow<>(1.0), r).si();
  EXPECT_NEAR(concentration_below_fall(Concentration<>(0.2), balance, r).si(), 0.2 + share * 0.13, 1e-15);
}

TEST(Bubbles, NeverCarryMoreThanTheyHold) {
  const Flow<> air(1e-3);
  for (const double share : {0.001, 0.01, 0.05, 0.3}) {
    const Flow<> fresh = exchange_flow_of_air_stone(air, Number<>(share));
    for (const double held : {0.8, 1.06, 30.0}) {
      const double flow = exchange_flow_of_bubbles(fresh, air, Number<>(held)).si();
      EXPECT_LE(flow, fresh.si());
      EXPECT_LE(flow, held * air.si());
      EXPECT_GT(flow, 0.0);
    }
  }
}

TEST(Bubbles, LoseTheShareOfOxygenThatTheirRatingSays) {
  const Flow<> air(1e-3);
  const Flow<> exchange = exchange_flow_of_air_stone(air, Number<>(0.012));
  const MassRate<> rated = exchange * standard_saturation;
  EXPECT_NEAR(rated.si(), standard_oxygen_transfer_of_air(air, Number<>(0.012)).si(), 1e-15);
  EXPECT_NEAR((rated / (air * oxygen_in_air)).si(), 0.012, 1e-12);
}

TEST(Aerator, DoesNothingAtSaturationAndTakesBackAbove) {
  const MassRate<> rated(1e-5);
  const Density<> full = oxygen_saturation_mass(celsius(12), units::atmosphere);
  const auto use = [&](Density<> oxygen) {
    return oxygen_transfer_in_use(rated, Number<>(0.8), Number<>(1.0), celsius(12), units::atmosphere, oxygen).si();
  };
  EXPECT_EQ(use(full), 0.0);
  EXPECT_LT(use(1.2 * full), 0.0);
  EXPECT_GT(use(0.5 * full), 0.0);
}

TEST(Stripping, IsBoundedByWhatAirHolds) {
  double last = 0.0;
  for (double gl = 0.0; gl < 50.0; gl += 1.0) {
    const double share = carbon_dioxide_stripping_limit(Number<>(gl), celsius(12)).si();
    EXPECT_GE(share, last);
    EXPECT_LT(share, 1.0);
    last = share;
  }
}

}  // namespace
}  // namespace leat::science
