#include "science/fish/feeding.h"

#include <gtest/gtest.h>

#include "science/fish/gut.h"
#include "science/fish/potential.h"

namespace leat::science {
namespace {

Temperature<> at(double c) {
  return Temperature<>::from_celsius(c);
}
Temperature<> fahrenheit(double f) {
  return at((f - 32.0) / 1.8);
}
double table(double c, double g) {
  return ration_trout_table(at(c), Mass<>(1e-3 * g)).in(percent_per_day);
}

TEST(TroutTable, GivesThePrintedEntryAtEveryRowAndClassMiddle) {
  for (int f = 36; f <= 68; ++f)
    for (std::size_t c = 0; c < trout_classes; ++c) {
      const double grams = std::exp(trout_class_log_mass[c]);
      const double wanted = trout_table_in_use[static_cast<std::size_t>(f - 36)][c];
      EXPECT_NEAR(ration_trout_table(fahrenheit(f), Mass<>(1e-3 * grams)).in(percent_per_day), wanted, 1e-9);
      EXPECT_NEAR(ration_trout_table_printed(fahrenheit(f), c).in(percent_per_day),
                  trout_table_printed[static_cast<std::size_t>(f - 36)][c], 1e-12);
    }
}

TEST(TroutTable, FallsWithSizeAndRisesWithWarmth) {
  for (const auto& row : trout_table_in_use)
    for (std::size_t c = 1; c < trout_classes; ++c) EXPECT_LE(row[c], row[c - 1]);
  for (std::size_t r = 1; r < trout_table_rows; ++r)
    for (std::size_t c = 0; c < trout_classes; ++c)
      EXPECT_GE(trout_table_in_use[r][c], trout_table_in_use[r - 1][c] - 1e-12);
}

TEST(TroutTable, HoldsAtItsEdgesAndHasNoSteps) {
  EXPECT_EQ(table(-5, 100), table(2.0, 100));
  EXPECT_EQ(table(30, 100), table(20.0, 100));
  EXPECT_EQ(table(10, 1e4), table(10, 400));
  for (double g = 0.05; g < 400; g *= 1.002) EXPECT_NEAR(table(12, g), table(12, g * 1.002), 0.02) << g;
  for (double c = 1; c < 21; c += 0.01) EXPECT_NEAR(table(c, 20), table(c + 0.01, 20), 0.02) << c;
}

TEST(TroutTable, KnowsItsClasses) {
  EXPECT_EQ(trout_class_of_length(Length<>(0.0254 * 0.9)), 0u);
  EXPECT_EQ(trout_class_of_length(Length<>(0.0254 * 4.5)), 4u);
  EXPECT_EQ(trout_class_of_length(Length<>(0.0254 * 14)), 10u);
  EXPECT_EQ(trout_class_of_mass(Mass<>(0.1e-3)), 0u);
  EXPECT_EQ(trout_class_of_mass(Mass<>(0.030)), 5u);
  EXPECT_EQ(trout_class_of_mass(Mass<>(0.100)), 8u);
  EXPECT_EQ(trout_class_of_mass(Mass<>(0.500)), 10u);
}

TEST(Appetite, IsFullInTheMiddleAndNothingAtTheEnds) {
  const AppetiteTemperatures trout{at(3), at(5), at(17), at(20)};
  const auto share = [&](double c) { return appetite_temperature(at(c), trout).si(); };
  EXPECT_EQ(share(2.0), 0.0);
  EXPECT_NEAR(share(10.0), 1.0, 1e-12);
  EXPECT_NEAR(share(18.5), 0.5, 1e-12);
  EXPECT_NEAR(share(21.0), 0.0, 1e-12);
  for (double c = -5; c < 35; c += 0.1) {
    EXPECT_GE(share(c), -1e-12);
    EXPECT_LE(share(c), 1.0 + 1e-12);
  }
}

TEST(Appetite, FollowsOxygen) {
  const auto share = [](double mg) {
    return appetite_oxygen(Density<>(1e-3 * mg), Density<>(4e-3), Density<>(7e-3)).si();
  };
  EXPECT_EQ(share(3.0), 0.0);
  EXPECT_NEAR(share(5.5), 0.5, 1e-12);
  EXPECT_NEAR(share(9.0), 1.0, 1e-12);
  for (double o = 0; o < 15; o += 0.05) EXPECT_LE(share(o), share(o + 0.05) + 1e-15);
}

TEST(RationPotential, LiesNearTheTableForTroutAndEndsAtTwenty) {
  const Species& trout = *find_species("rainbow trout");
  const auto ration = [&](double c, double g) {
    return ration_potential(trout, at(c), Mass<>(1e-3 * g), Density<>(9e-3)).in(percent_per_day);
  };
  for (const double c : {8.0, 10.0, 12.0})
    for (const double g : {20.0, 100.0}) EXPECT_NEAR(ration(c, g) / table(c, g), 1.0, 0.30) << c << ' ' << g;
  EXPECT_NEAR(ration(20.3, 100), 0.0, 1e-9);
}

TEST(Gut, IsFasterInTheWarmAndForSmallMeals) {
  for (double c = 4; c < 20; c += 1) {
    EXPECT_GT(gastric_evacuation_rate(at(c + 1)), gastric_evacuation_rate(at(c)));
    EXPECT_LT(gut_passage_trout(at(c + 1)), gut_passage_trout(at(c)));
  }
  const double k = gastric_coefficient_mass(at(15), Mass<>(0.28));
  EXPECT_LT(gastric_empty_time(k, Mass<>(0.001)), gastric_empty_time(k, Mass<>(0.002)));
}

TEST(Gut, EmptiesByItsOwnRate) {
  // Stepping the square-root law reaches nothing when the closed form says so.
  const double k = gastric_coefficient_mass(at(15), Mass<>(0.2808));
  const double end = gastric_empty_time(k, Mass<>(0.002)).in(units::hour);
  double grams = 2.0;
  const int steps = 200000;
  for (int i = 0; i < steps && grams > 0.0; ++i)
    grams -= gastric_rate_square_root(k, Mass<>(1e-3 * grams)).in(gram_per_hour)*end / steps;
  EXPECT_NEAR(grams, 0.0, 1e-4);
}

}  // namespace
}  // namespace leat::science
