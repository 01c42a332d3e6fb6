#include "science/gas/help.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

const Temperature<> kWater = Temperature<>::from_celsius(14.0);
const Density<> kSaturation(10.306e-3);

TEST(AirPump, GivesWhatTheRatedTransferGivesInUse) {
  const Power<> power(8.0);
  for (const double oxygen : {0.0, 5e-3, 9e-3}) {
    const Exchange air = exchange_of_air_pump(power, air_kit::usual, kWater, kSaturation);
    const Pressure<> sea(101325.0);
    const MassRate<> by_rating =
        oxygen_transfer_in_use(power * air_kit::usual, Number<>(0.8), Number<>(1.0), kWater, sea, Density<>(oxygen));
    EXPECT_NEAR((air.gives(Density<>(oxygen)) / by_rating).si(), 1.0, 2e-4);
  }
}

TEST(AirPump, GivesNothingAtSaturation) {
  EXPECT_EQ(exchange_of_air_pump(Power<>(8.0), air_kit::poor, kWater, kSaturation).gives(kSaturation).si(), 0.0);
}

TEST(Exchange, OfTwoGivesWhatEachGives) {
  const Exchange air = exchange_of_air_pump(Power<>(8.0), air_kit::poor, kWater, kSaturation);
  const Exchange buckets = exchange_of_buckets(Frequency<>(20.0 / 3600.0), Volume<>(0.010), Density<>(9.0e-3));
  for (const double oxygen : {0.0, 3e-3, 9.5e-3, 12e-3}) {
    const Density<> o(oxygen);
    EXPECT_NEAR(both(air, buckets).gives(o).si(), (air.gives(o) + buckets.gives(o)).si(), 1e-18);
  }
  EXPECT_LT(buckets.gives(Density<>(9.5e-3)).si(), 0.0);  // water with less than the tank's takes
}

TEST(Exchange, OfNothingIsNothing) {
  const Exchange none{Flow<>(0.0), kSaturation};
  EXPECT_EQ(both(none, none).gives(Density<>(1e-3)).si(), 0.0);
  const Exchange buckets = exchange_of_buckets(Frequency<>(1.0 / 3600.0), Volume<>(0.010), Density<>(9.0e-3));
  EXPECT_EQ(both(none, buckets).towards.si(), buckets.towards.si());
}

}  // namespace
}  // namespace leat::science
