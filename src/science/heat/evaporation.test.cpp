#include "science/heat/evaporation.h"

#include <gtest/gtest.h>

#include <array>

#include "numerics/dual.h"
#include "science/heat/wind.h"

namespace leat::science {
namespace {

using D = Dual<1>;

template <class N = double>
AirOverWater<N> air(double t_c, double vapour_pa, double wind) {
  return {Temperature<>::from_celsius(t_c), Pressure<>(vapour_pa), Pressure<>(101300.0), Velocity<>(wind)};
}

double per_kpa(VapourCoefficient<> f) {
  return f.in(watt_per_square_metre_kilopascal);
}

// Recomputed beside each other at 1.2 m2, water 22, air 16 °C, 1.2 kPa; printed to whole numbers.
TEST(WindFunctions, StandAsComputedElsewhere) {
  struct Row {
    double wind;
    std::array<double, 6> f;  // Penman 1948, 1956, Harbeck, pan, Ryan, Adams
  };
  const Area<> area(1.2);
  const auto water = Temperature<>::from_celsius(22.0);
  for (const Row& row : {Row{0, {74, 37, 0, 34, 53, 53}}, Row{1, {114, 77, 82, 80, 85, 96}},
                         Row{2, {154, 117, 164, 126, 117, 169}}, Row{4, {234, 197, 327, 218, 181, 325}}}) {
    const Velocity<> u2(row.wind);
    const auto a = air(16.0, 1200.0, row.wind);
    const std::array got{per_kpa(wind_function_penman_1948(u2)),   per_kpa(wind_function_penman_1956(u2)),
                         per_kpa(wind_function_harbeck(u2, area)), per_kpa(wind_function_pan(u2)),
                         per_kpa(wind_function_ryan(water, a)),    per_kpa(wind_function_adams(water, a, area))};
    for (std::size_t i = 0; i < got.size(); ++i) EXPECT_NEAR(got[i], row.f[i], 1.0) << row.wind << ' ' << i;
  }
}

TEST(Adams, KeepsAFloorInACalmOverWarmWater) {
  const auto f = wind_function_adams(Temperature<>::from_celsius(26.0), air(16.0, 1200.0, 0.0), Area<>(1.0));
  EXPECT_GT(per_kpa(f), 50.0);
}

TEST(Adams, IsFiniteWithFiniteSlopesThroughTheTurnOfBuoyancy) {
  for (const double wind : {0.0, 0.5})
    for (double t = -20.0; t <= 40.0; t += 0.05) {
      const auto water = Temperature<D>::from_celsius(D::seed(t, 0));
      const D f = wind_function_adams(water, air<D>(16.0, 1500.0, wind), Area<>(1.2)).si() * 1e3;
      ASSERT_TRUE(std::isfinite(f.value) && std::isfinite(f.slope[0])) << t;
      EXPECT_GE(f.value, 0.0);
      EXPECT_LT(std::abs(f.slope[0]), 150.0) << t;
    }
}

TEST(Adams, FadesUnderLightAir) {
  const auto f = wind_function_adams(Temperature<>::from_celsius(5.0), air(25.0, 1500.0, 0.0), Area<>(1.2));
  EXPECT_LT(per_kpa(f), 0.1);
}

TEST(Adams, SlopesAgreeWithDifferences) {
  const auto evaporation = [](auto t) {
    using N = decltype(t);
    const auto water = Temperature<N>::from_celsius(t);
    const auto a = air<N>(16.0, 1200.0, 1.3);
    const auto f = wind_function_adams(water, a, Area<>(1.2));
    return (evaporation_heat(f, water, a.vapour) + convection_heat(f, water, a)).si();
  };
  for (double t = 4.0; t <= 40.0; t += 3.0) {
    const double h = 1e-5, difference = (evaporation(t + h) - evaporation(t - h)) / (2.0 * h);
    EXPECT_NEAR(evaporation(D::seed(t, 0)).slope[0], difference, 1e-5 * std::abs(difference)) << t;
  }
}

TEST(Adams, RisesWithWindAndFallsWithSize) {
  const auto water = Temperature<>::from_celsius(20.0);
  double before = 0.0;
  for (double wind = 0.0; wind <= 8.0; wind += 0.5) {
    const double f = per_kpa(wind_function_adams(water, air(18.0, 1000.0, wind), Area<>(1.0)));
    EXPECT_GT(f, before);
    before = f;
  }
  EXPECT_LT(per_kpa(wind_function_adams(water, air(18.0, 1000.0, 3.0), Area<>(1e4))),
            per_kpa(wind_function_adams(water, air(18.0, 1000.0, 3.0), Area<>(1.0))));
}

TEST(Evaporation, TurnsToDewOnColdWater) {
  const VapourCoefficient<> f = 80.0 * watt_per_square_metre_kilopascal;
  EXPECT_LT(evaporation_heat(f, Temperature<>::from_celsius(8.0), Pressure<>(2000.0)).si(), 0.0);
  EXPECT_NEAR(evaporation_depth_rate(Flux<>(28.36)).si() * 86400e3, 1.0, 0.001);
}

TEST(Bowen, IsTheRatioOfTheTwoFluxes) {
  const auto water = Temperature<>::from_celsius(24.0);
  const auto a = air(18.0, 1100.0, 1.0);
  const auto f = wind_function_adams(water, a, Area<>(2.0));
  const double ratio = convection_heat(f, water, a).si() / evaporation_heat(f, water, a.vapour).si();
  EXPECT_NEAR(bowen_ratio(water, a.temperature, saturation_vapour_pressure(water), a.vapour, a.pressure).si(), ratio,
              1e-12);
}

TEST(RimWind, IsALogarithmWithItsMeasuredPoint) {
  EXPECT_NEAR(rim_wind_factor(Length<>(0.4)).si(), 0.62, 0.005);
  EXPECT_DOUBLE_EQ(rim_wind_factor(Length<>(2.0)).si(), 1.0);
  EXPECT_GT(rim_wind_factor(Length<>(0.0)).si(), 0.0);
}

TEST(WindOfHour, HasTheMeanOfTheDay) {
  double sum = 0.0;
  for (int h = 0; h < 24; ++h) sum += wind_of_hour_factor((h + 0.5) * units::hour).si();
  EXPECT_NEAR(sum / 24.0, 1.0, 1e-12);
}

}  // namespace
}  // namespace leat::science
