#include "science/heat/stores.h"

#include <gtest/gtest.h>

#include <cmath>

#include "numerics/dual.h"

namespace leat::science {
namespace {

TEST(Mixing, KeepsTheHeat) {
  const auto warm = Temperature<>::from_celsius(24.0), cold = Temperature<>::from_celsius(9.0);
  const Temperature<> mixed = mix_temperature(warm, Volume<>(0.8), cold, Volume<>(0.3));
  EXPECT_NEAR(0.8 * (warm - mixed).si(), 0.3 * (mixed - cold).si(), 1e-12);
}

TEST(Exchange, ClosesAsATwoStoreRunDoes) {
  const double q = 2.0 / 3600.0, v1 = 1.0, v2 = 2.0, dt = 1.0;
  double t1 = 10.0, t2 = 20.0;
  for (int i = 0; i < 1200; ++i) {
    const double moved = q * (t2 - t1) * dt;
    t1 += moved / v1, t2 -= moved / v2;
  }
  const double tau = exchange_time_constant(Flow<>(q), Volume<>(v1), Volume<>(v2)).si();
  EXPECT_NEAR((t2 - t1) / 10.0, std::exp(-1200.0 / tau), 1e-3);
}

TEST(FirstOrderStep, DoesTwoHalvesAsOneWhole) {
  const auto start = Temperature<>::from_celsius(5.0), rest = Temperature<>::from_celsius(18.0);
  const Duration<> tau(7200.0);
  const auto once = first_order_step(start, rest, tau, Duration<>(3600.0));
  const auto twice =
      first_order_step(first_order_step(start, rest, tau, Duration<>(1800.0)), rest, tau, Duration<>(1800.0));
  EXPECT_NEAR(once.kelvin(), twice.kelvin(), 1e-9);
}

TEST(BubbledAir, TakesNothingWhenItComesSaturatedAtTheWatersTemperature) {
  const auto water = Temperature<>::from_celsius(20.0);
  const BubbledAir<> same{Flow<>(1e-3), water, Number<>(1.0)};
  EXPECT_NEAR(bubbled_air_heat_loss(water, same).si(), 0.0, 1e-9);
  const BubbledAir<> hot{Flow<>(1e-3), Temperature<>::from_celsius(30.0), Number<>(0.9)};
  EXPECT_LT(bubbled_air_heat_loss(water, hot).si(), 0.0);
}

TEST(BubbledAir, TakesDuals) {
  const Dual<1> t = Dual<1>::seed(22.0, 0);
  const BubbledAir<Dual<1>> air{Flow<>(1e-3), Temperature<>::from_celsius(18.0), Number<>(0.6)};
  EXPECT_GT(bubbled_air_heat_loss(Temperature<Dual<1>>::from_celsius(t), air).si().slope[0], 0.0);
}

TEST(BedHeat, RunsFromStoneToWater) {
  EXPECT_NEAR(bed_heat_capacity(Number<>(0.0)).si(), 2650.0 * 840.0, 1e-6);
  EXPECT_NEAR(bed_heat_capacity(Number<>(1.0)).si(), 4.18e6, 1e-6);
}

}  // namespace
}  // namespace leat::science
