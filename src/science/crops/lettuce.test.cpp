#include <gtest/gtest.h>

#include "science/crops/emergence.h"
#include "science/crops/lettuce_one_state.h"
#include "science/crops/lettuce_two_state.h"

namespace leat::science {
namespace {

Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}
const Density<> kAir = carbon_dioxide_in_air(Number<>(400e-6), at(18), Pressure<>(101325.0));

TEST(LettuceOneState, TakesInCarbonOnlyBetweenItsRoots) {
  const auto t = carboxylation_temperatures_one_state();
  EXPECT_NEAR(carboxylation_one_state(t.low).si(), 0.0, 1e-15);
  EXPECT_NEAR(carboxylation_one_state(t.high).si(), 0.0, 1e-15);
  EXPECT_EQ(carboxylation_one_state(at(0)).si(), 0.0);
  EXPECT_EQ(carboxylation_one_state(at(45)).si(), 0.0);
  for (double c = 3; c < 42; c += 0.5) EXPECT_LE(carboxylation_one_state(at(c)), carboxylation_one_state(t.best));
}

TEST(LettuceOneState, GainsMoreInTheOpenThanUnderTheCoverThatItsConstantHolds) {
  const LettuceOneState open = LettuceOneState::open_air();
  EXPECT_GT(open.light_use, LettuceOneState{}.light_use);
  EXPECT_NEAR(cover_transmission_implied(open.light_use), 1.0, 1e-12);
  EXPECT_GT(growth_rate_one_state(ArealMass<>(0.1), at(18), kAir, Flux<>(200), open),
            growth_rate_one_state(ArealMass<>(0.1), at(18), kAir, Flux<>(200)));
}

TEST(LettuceOneState, IntegratesInThirdsAsInOne) {
  const auto grown = [&](ArealMass<> from, double days) {
    return dry_mass_one_state(from, days * units::day, at(18), kAir, Flux<>(100));
  };
  const ArealMass<> whole = grown(ArealMass<>(0.0035), 30);
  const ArealMass<> thirds = grown(grown(grown(ArealMass<>(0.0035), 10), 10), 10);
  EXPECT_NEAR(thirds.si() / whole.si(), 1.0, 1e-9);
  EXPECT_EQ(grown(ArealMass<>(0.0035), 0).si(), 0.0035);
}

TEST(LettuceTwoState, SpendsStoreInTheDark) {
  const auto r = growth_rate_two_state(at(18), Number<>(400e-6), Flux<>(0.0), ArealMass<>(0.02), ArealMass<>(0.1));
  EXPECT_LT(r.store.si(), 0.0);
  EXPECT_GT(r.structure.si(), 0.0);
  // What structure gains and respiration burns is what the store loses: yield 0.8.
  const double burnt = respiration_two_state(at(18), ArealMass<>(0.1)).si();
  EXPECT_NEAR(-r.store.si(), r.structure.si() / 0.8 + burnt, 1e-15);
}

TEST(LettuceTwoState, GainsNothingAtTheCompensationPoint) {
  const Number<> point = compensation_two_state(at(20));
  EXPECT_NEAR(photosynthesis_two_state(at(20), point, Flux<>(100), ArealMass<>(0.1)).si(), 0.0, 1e-16);
  EXPECT_NEAR(point.si(), 40e-6, 1e-12);
}

TEST(Emergence, LiesBetweenTheTablesTemperaturesAndNotBeyond) {
  const Crop& lettuce = *find_crop("lettuce");
  EXPECT_NEAR(days_to_emergence(lettuce, at(12.5))->in(units::day), 5.5, 1e-9);
  EXPECT_FALSE(days_to_emergence(lettuce, at(36)).has_value());
  EXPECT_FALSE(days_to_emergence(*find_crop("strawberry"), at(15)).has_value());
  EXPECT_NEAR(normal_seedlings(lettuce, at(30))->si(), 0.12, 1e-12);
}

TEST(Emergence, FitReturnsTheLineThatItWasGiven) {
  DaysByTemperature points;
  for (const double c : {8.0, 12.0, 20.0}) points.emplace_back(c, 60.0 / (c - 3.0));
  points.emplace_back(28.0, 9.0);  // slowed by heat: left out
  const auto fit = thermal_time_fit(points);
  ASSERT_TRUE(fit.has_value());
  EXPECT_NEAR(fit->base.celsius(), 3.0, 1e-9);
  EXPECT_NEAR(fit->sum.in(degree_day), 60.0, 1e-9);
  EXPECT_FALSE(thermal_time_fit({{10.0, 5.0}}).has_value());
}

}  // namespace
}  // namespace leat::science
