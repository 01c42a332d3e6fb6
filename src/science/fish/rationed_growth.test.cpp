#include "science/fish/rationed_growth.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

const Species& trout() {
  return *find_species("rainbow trout");
}
Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}
constexpr EnergyDensity<> kFeed = 17.5 * kilojoule_per_gram;

RationedGrowth<double> on(double percent, double celsius, Mass<> fish) {
  const Power<> digested(percent * percent_per_day.si() * fish.si() * kFeed.si());
  return growth_on_ration(digested, at(celsius), fish, growth_potential(trout(), at(celsius), fish));
}

/// Nothing is lost of the energy, at any ration: digested + flesh lost = heat + excreted + flesh gained.
TEST(RationedGrowth, ClosesItsEnergy) {
  for (const double c : {2.0, 8.0, 14.0, 19.0, 24.5})
    for (const double g : {8.0, 100.0, 900.0})
      for (double percent = 0.0; percent < 5.0; percent += 0.11) {
        const Mass<> fish(1e-3 * g);
        const RationedGrowth<double> r = on(percent, c, fish);
        const double digested = percent * percent_per_day.si() * fish.si() * kFeed.si();
        const double excreted = energy_budget_bureau(Power<>(digested), Power<>(0.0)).excreted.si();
        const double flesh = r.gain.si() * fish.si() * (r.gain.si() > 0.0 ? energy_of_gain(fish) : energy_of_loss).si();
        // At nothing eaten the rounded corner of the smaller leaves 1e-11 a second of both.
        EXPECT_NEAR(digested - excreted - flesh, r.heat.si(), 1e-9 * digested + 2e-11 * fish.si() * 13e6)
            << c << " °C, " << g << " g, " << percent << " %/d";
        EXPECT_GT(r.heat.si(), 0.0);
      }
}

TEST(RationedGrowth, RisesFromALossThroughMaintenanceToWhatWarmthAllows) {
  const Mass<> fish(0.1);
  const double maintenance = ration_maintenance(at(12), fish, kFeed).in(percent_per_day);
  EXPECT_GT(maintenance, 0.25);
  EXPECT_LT(maintenance, 0.45);
  EXPECT_NEAR(on(maintenance, 12, fish).gain.in(percent_per_day), 0.0, 1e-3);
  EXPECT_LT(on(0.5 * maintenance, 12, fish).gain.si(), 0.0);
  double before = -1.0;
  for (double percent = 0.0; percent < 4.0; percent += 0.1) {
    const double gain = on(percent, 12, fish).gain.si();
    EXPECT_GE(gain, before - 1e-15);
    before = gain;
  }
  EXPECT_NEAR(before, growth_potential(trout(), at(12), fish).si(), 1e-3 * before);
}

/// Measured on fish of another study than the loss of mass was.
TEST(RationedGrowth, HeatOfAFastIsHalfOfThatAtMaintenance) {
  const Mass<> fish(0.0045);
  const double fasting = on(0.0, 15, fish).heat.si();
  EXPECT_NEAR(fasting / fasting_heat_cho(at(15), fish).si(), 13.0 / 24.0, 1e-3);
  // Lauff & Wood 1996: 4.5 g, 15 °C, mean of six readings from day 10 to 14 without food: 177 mg/kg/h.
  const double oxygen = fasting / 13.56e6 / fish.si() * 3600.0 * 1e6;
  EXPECT_NEAR(oxygen, 177.0, 0.15 * 177.0);
}

/// Against steps of a thousandth of a day.
/// Small fish on a feed of little protein: energy would let them grow by more nitrogen than they digest.
TEST(RationedGrowth, IsHeldByTheNitrogenDigestedAndBurnsTheRest) {
  const auto water = Temperature<>::from_celsius(15.0);
  const Mass<> fish(0.005);
  const Power<> digested(2.0e3 / 86400.0);  // 2 kJ a day
  const Frequency<> potential(0.10 / 86400.0);
  const RationedGrowth<double> free = growth_on_ration(digested, water, fish, potential);
  const Frequency<> half = 0.5 * free.gain;
  const RationedGrowth<double> held = held_by_nitrogen(free, half, fish);
  EXPECT_GT(free.gain.si(), 0.0);
  EXPECT_NEAR(held.gain.si() / half.si(), 1.0, 1e-3);
  const double flesh = (free.gain - held.gain).si() * fish.si() * energy_of_gain(fish).si();
  EXPECT_NEAR((held.heat - free.heat).si(), flesh, 1e-9 * flesh);
  // Where it suffices, and in a fast, nothing changes to the last bit.
  const RationedGrowth<double> same = held_by_nitrogen(free, 2.0 * free.gain, fish);
  EXPECT_EQ(same.gain.si(), free.gain.si());
  EXPECT_EQ(same.heat.si(), free.heat.si());
  const RationedGrowth<double> fast = growth_on_ration(Power<>(0.0), water, fish, potential);
  EXPECT_EQ(held_by_nitrogen(fast, Frequency<>(0.0), fish).gain.si(), fast.gain.si());
}

/// Without food no fish grows, not even in water that freezes.
TEST(RationedGrowth, WithoutFoodIsALossAtEveryTemperature) {
  for (double t = -0.5; t < 26.0; t += 0.1) {
    const RationedGrowth<double> g =
        growth_on_ration(Power<>(0.0), Temperature<>::from_celsius(t), Mass<>(0.400), Frequency<>(1e-8));
    EXPECT_LT(g.gain.si(), 0.0) << t;
    EXPECT_GT(g.heat.si(), 0.0) << t;
  }
}

TEST(RationedGrowth, MassOnARationIsTheIntegralOfItsRate) {
  const Mass<> start(0.02),
      end = fish_mass_on_ration(trout(), start, 0.9 * percent_per_day, kFeed, at(12), 60.0 * units::day);
  double w = start.si();
  for (int i = 0; i < 60000; ++i) w += w * on(0.9, 12, Mass<>(w)).gain.si() * 86.4;
  EXPECT_NEAR(end.si() / w, 1.0, 1e-4);
  EXPECT_LT(fish_mass_on_ration(trout(), start, Frequency<>(0.0), kFeed, at(12), 60.0 * units::day), start);
}

}  // namespace
}  // namespace leat::science
