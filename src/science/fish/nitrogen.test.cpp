#include "science/fish/nitrogen.h"

#include <gtest/gtest.h>

#include <utility>
#include <vector>

#include "science/fish/diel_pulse.h"

namespace leat::science {
namespace {

const MassRate<> kKilogramADay(1.0 / 86400.0);

TEST(NitrogenBudget, ClosesWhateverGoesIn) {
  for (const double uneaten : {0.0, 0.03, 0.5})
    for (const double gain : {-0.3, 0.0, 0.9}) {
      const auto b = nitrogen_budget(kKilogramADay, Number<>(uneaten), gain * kKilogramADay, NitrogenShares{});
      const MassRate<> out = b.uneaten + b.faeces + b.gained + b.dissolved;
      EXPECT_NEAR(out.si() / b.fed.si(), 1.0, 1e-14);
      EXPECT_LT(b.ammonia, b.dissolved);
    }
}

TEST(NitrogenBudget, SharesLieInThePublishedBandForTrout) {
  // Retained 30 to 52 % over twelve trout diets (Water Sci. Technol. 31(10):157 and the older band).
  const auto b = nitrogen_budget(kKilogramADay, Number<>(0.0), kKilogramADay / 1.1, NitrogenShares{});
  EXPECT_GT(b.gained.si() / b.fed.si(), 0.30);
  EXPECT_LT(b.gained.si() / b.fed.si(), 0.52);
  // The rule of thumb is above the balance, as it should not be.
  EXPECT_GT(ammonia_from_feed_rule(kKilogramADay, Number<>(0.45)), b.ammonia);
}

TEST(NitrogenBudget, WastingFishDissolve) {
  const auto b = nitrogen_budget(MassRate<>(0.0), Number<>(0.0), -0.01 * kKilogramADay, NitrogenShares{});
  EXPECT_GT(b.dissolved.si(), 0.0);
  EXPECT_EQ(b.faeces.si(), 0.0);
}

TEST(PhosphorusBudget, Closes) {
  const auto b = phosphorus_budget(kKilogramADay, Number<>(0.02), 0.9 * kKilogramADay, PhosphorusShares{});
  EXPECT_NEAR((b.uneaten + b.solid + b.gained + b.dissolved).si() / b.fed.si(), 1.0, 1e-14);
  EXPECT_GT(b.dissolved.si(), 0.0);
}

TEST(Solids, AreAboutAQuarterOfFeed) {
  EXPECT_NEAR(solids_from_feed(kKilogramADay, Number<>(0.03)).si() / kKilogramADay.si(), 0.25, 0.01);
}

TEST(MealPulse, IntegratesToOneAndPeaksWhereItShould) {
  for (const double hours : {3.0, 7.0, 16.0}) {
    const Duration<> peak = hours * units::hour;
    double sum = 0.0, most = 0.0, at = 0.0;
    for (double t = 0.0; t < 40 * hours * 3600; t += 60.0) {
      const double rate = meal_pulse(Duration<>(t + 30.0), peak).si();
      sum += 60.0 * rate;
      if (rate > most) {
        most = rate;
        at = t + 30.0;
      }
    }
    EXPECT_NEAR(sum, 1.0, 1e-6);
    EXPECT_NEAR(at / 3600.0, hours, 0.02);
  }
  EXPECT_EQ(meal_pulse(Duration<>(-100.0), Duration<>(7200.0)).si(), 0.0);
}

TEST(MealPulse, DailyIsTheSumOverPastMeals) {
  for (const double hour : {0.0, 2.0, 7.0, 23.0})
    for (const double peak : {4.5, 7.0, 20.0}) {
      double sum = 0.0;
      for (int k = 0; k < 60; ++k) sum += meal_pulse(Duration<>(3600.0 * hour + 86400.0 * k), peak * units::hour).si();
      EXPECT_NEAR(meal_pulse_daily(Duration<>(3600.0 * hour), peak * units::hour).si() / sum, 1.0, 1e-10);
    }
}

TEST(MealPulse, ThreeStagesInSeriesGiveIt) {
  const Duration<> peak = 7.0 * units::hour;
  const double rate = meal_stage_rate(peak).si(), step = 1.0;
  double a = 1.0, b = 0.0, c = 0.0;
  for (double t = 0.0; t < 5 * 3600.0; t += step) {
    // Midpoint rule.
    const double am = a - 0.5 * step * rate * a, bm = b + 0.5 * step * rate * (a - b),
                 cm = c + 0.5 * step * rate * (b - c);
    a -= step * rate * am;
    b += step * rate * (am - bm);
    c += step * rate * (bm - cm);
  }
  EXPECT_NEAR(rate * c / meal_pulse(Duration<>(5 * 3600.0), peak).si(), 1.0, 1e-6);
}

TEST(AmmoniaRelease, SpreadsADaysAmmoniaOverTheDay) {
  const std::vector<std::pair<Duration<>, double>> meals{{8.0 * units::hour, 0.5}, {16.0 * units::hour, 0.5}};
  double sum = 0.0;
  for (double t = 30.0; t < 86400.0; t += 60.0)
    sum += 60.0 * ammonia_release(Duration<>(t), 7.0 * units::hour, meals).si();
  EXPECT_NEAR(sum, 1.0, 1e-6);
  // Two meals are flatter than one.
  EXPECT_GT(ammonia_peak_to_mean(4.5 * units::hour).si(), ammonia_peak_to_mean(7.0 * units::hour).si());
}

TEST(AmmoniaPeak, ComesSoonerInTheWarm) {
  EXPECT_NEAR(ammonia_peak_time(Temperature<>::from_celsius(15)).in(units::hour), 7.0, 1e-12);
  EXPECT_NEAR(ammonia_peak_time(Temperature<>::from_celsius(25)).in(units::hour), 7.0 / 2.3, 1e-12);
}

}  // namespace
}  // namespace leat::science
