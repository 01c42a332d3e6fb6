#include "science/light/solar_radiation.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

namespace leat::science {
namespace {

std::vector<Angle> hours_of_day(double step_h, double offset_h) {
  std::vector<Angle> begins;
  for (double h = offset_h; h < 24.0 + offset_h - 1e-9; h += step_h)
    begins.push_back(Angle::from_degrees(15.0 * (h - 12.0)));
  return begins;
}

TEST(ExtraterrestrialRadiation, OfADayIsTheMeanOfItsHours) {
  for (const double latitude : {-70.0, -35.0, 0.0, 48.0, 66.0, 80.0})
    for (const int day : {10, 100, 172, 250, 355}) {
      const Angle phi = Angle::from_degrees(latitude), hour = Angle::from_degrees(15.0);
      const SunOfDay sun = sun_of_day_fao(day);
      double sum = 0.0;
      for (const Angle begin : hours_of_day(1.0, 0.37))
        sum += extraterrestrial_radiation_between(phi, sun, begin, begin + hour).si();
      EXPECT_NEAR(sum / 24.0, extraterrestrial_radiation_day(phi, sun).si(), 1e-9) << latitude << ' ' << day;
    }
}

TEST(ExtraterrestrialRadiation, IsNothingInPolarNightAndMostAtThePoleInSummer) {
  EXPECT_EQ(extraterrestrial_radiation_day(Angle::from_degrees(80.0), sun_of_day_fao(355)).si(), 0.0);
  const SunOfDay june = sun_of_day_fao(172);
  EXPECT_GT(extraterrestrial_radiation_day(Angle::from_degrees(89.0), june),
            extraterrestrial_radiation_day(Angle::from_degrees(0.0), june));
}

TEST(SharesOfHours, SumToOneAndLieInDaylight) {
  for (const double half_day_h : {0.4, 3.0, 6.0, 8.3, 11.9, 12.0})
    for (const double step_h : {0.25, 1.0, 3.0}) {
      const auto begins = hours_of_day(step_h, 0.0);
      const Angle sunset = Angle::from_degrees(15.0 * half_day_h);
      const auto shares = shares_of_hours(begins, Angle::from_degrees(15.0 * step_h), sunset);
      EXPECT_NEAR(std::accumulate(shares.begin(), shares.end(), 0.0), 1.0, 1e-12);
      for (std::size_t i = 0; i < shares.size(); ++i) {
        EXPECT_GE(shares[i], 0.0);
        const double middle_h = (begins[i] + Angle::from_degrees(7.5 * step_h)).degrees() / 15.0;
        const bool dark = std::abs(middle_h) > half_day_h + 0.5 * step_h;
        EXPECT_TRUE(!dark || shares[i] == 0.0) << middle_h;
      }
    }
}

TEST(SharesOfHours, AreAllNothingInPolarNight) {
  for (const double share : shares_of_hours(hours_of_day(1.0, 0.0), Angle::from_degrees(15.0), Angle{}))
    EXPECT_EQ(share, 0.0);
}

TEST(DiffuseFraction, FallsFromAllToLittleWithSmallSteps) {
  double before = diffuse_fraction_erbs(0.0);
  EXPECT_DOUBLE_EQ(before, 1.0);
  for (double kt = 0.01; kt <= 1.1; kt += 0.01) {
    const double now = diffuse_fraction_erbs(kt);
    EXPECT_LE(now, before + 0.006) << kt;
    EXPECT_GT(now, before - 0.04) << kt;
    before = now;
  }
}

TEST(Planes, LyingLevelGetTheGlobalRadiation) {
  const GlobalAndDiffuse sun{Flux<>(700.0), Flux<>(200.0)};
  const SunDirection direction{Angle::from_degrees(40.0), Angle::from_degrees(130.0)};
  EXPECT_NEAR(irradiance_on_plane(sun, direction, {}).si(), 700.0, 1e-9);
}

TEST(Planes, RingIsTheMeanOfAllWalls) {
  const GlobalAndDiffuse sun{Flux<>(600.0), Flux<>(150.0)};
  for (const double elevation : {1.0, 10.0, 35.0, 70.0}) {
    const SunDirection direction{Angle::from_degrees(elevation), Angle::from_degrees(211.0)};
    double sum = 0.0;
    for (int i = 0; i < 720; ++i)
      sum += irradiance_on_plane(sun, direction, {Angle::from_degrees(90.0), Angle::from_degrees(0.5 * i)}).si();
    EXPECT_NEAR(irradiance_on_upright_ring(sun, direction.elevation).si(), sum / 720.0, 0.02);
  }
}

TEST(Planes, SunwardWallBeatsItsBack) {
  const GlobalAndDiffuse sun{Flux<>(500.0), Flux<>(100.0)};
  const SunDirection south{Angle::from_degrees(30.0), Angle::from_degrees(180.0)};
  const auto wall = [&](double azimuth) {
    return irradiance_on_plane(sun, south, {Angle::from_degrees(90.0), Angle::from_degrees(azimuth)}).si();
  };
  EXPECT_NEAR(wall(180.0) - wall(0.0), 400.0 / std::tan(Angle::from_degrees(30.0).radians()), 1e-9);
}

TEST(Beam, StaysBoundedAtTheHorizon) {
  const GlobalAndDiffuse sun{Flux<>(20.0), Flux<>(5.0)};
  for (const double elevation : {-5.0, 0.0, 0.1})
    EXPECT_LT(beam_normal(sun, Angle::from_degrees(elevation)).si(), 300.0);
}

TEST(Hargreaves, IsNothingForAnInvertedSpan) {
  EXPECT_EQ(radiation_hargreaves(TemperatureDifference<>(-2.0), Flux<>(300.0)).si(), 0.0);
}

}  // namespace
}  // namespace leat::science
