#include "science/light/sun_position.h"

#include <gtest/gtest.h>

#include <cmath>

namespace leat::science {
namespace {

SunPlace at(double latitude, double longitude) {
  return {Angle::from_degrees(latitude), Angle::from_degrees(longitude)};
}

JulianDate noon_utc(int year, int month, int day) {
  return julian_date(year, month, day, 12.0 * units::hour);
}

TEST(JulianDates, AgreeWithUnixTimeAndTheCalendar) {
  EXPECT_DOUBLE_EQ(julian_date(2000, 1, 1, 12.0 * units::hour).days, 2451545.0);
  EXPECT_DOUBLE_EQ(julian_date(1970, 1, 1, {}).days, JulianDate::from_unix_seconds(0.0).days);
  EXPECT_NEAR(julian_date(2026, 1, 5, 6.0 * units::hour).unix_seconds(), 1767592800.0, 1e-3);
  EXPECT_EQ(day_of_year(2024, 12, 31), 366);
  EXPECT_EQ(day_of_year(2023, 3, 1), 60);
}

TEST(SunPosition, TurnsAtTheTropics) {
  EXPECT_NEAR(sun_ephemeris(noon_utc(2021, 6, 21)).declination.degrees(), 23.436, 0.01);
  EXPECT_NEAR(sun_ephemeris(noon_utc(2021, 12, 21)).declination.degrees(), -23.436, 0.01);
  EXPECT_GT(sun_ephemeris(noon_utc(2021, 1, 3)).inverse_square_distance, 1.033);
  EXPECT_LT(sun_ephemeris(noon_utc(2021, 7, 5)).inverse_square_distance, 0.968);
}

TEST(SunPosition, NoonStandsOnTheMeridianOnTheRightSide) {
  for (const double latitude : {-60.0, -35.0, -5.0, 5.0, 35.0, 60.0}) {
    const SunPlace place = at(latitude, 17.0);
    const SunDay day = sun_day(noon_utc(2019, 3, 1), place);
    const SunDirection direction = sun_direction(day.noon, place);
    const double dec = sun_ephemeris(day.noon).declination.degrees();
    EXPECT_NEAR(direction.elevation.degrees(), 90.0 - std::abs(latitude - dec), 1e-6);
    const double side = latitude > dec ? 180.0 : 0.0;
    EXPECT_NEAR(std::remainder(direction.azimuth.degrees() - side, 360.0), 0.0, 1e-3) << latitude;
  }
}

TEST(SunPosition, RisesInTheEastAndSetsInTheWest) {
  for (double latitude = -64.0; latitude <= 64.0; latitude += 8.0) {
    const SunPlace place = at(latitude, -100.0);
    const SunDay day = sun_day(noon_utc(2022, 5, 10).plus(6.7 * units::hour), place);
    ASSERT_EQ(day.kind, SunDay::Kind::rises_and_sets);
    const SunDirection rise = sun_direction(day.sunrise, place), set = sun_direction(day.sunset, place);
    EXPECT_NEAR(rise.elevation.degrees(), -0.833, 1e-3);
    EXPECT_NEAR(set.elevation.degrees(), -0.833, 1e-3);
    EXPECT_LT(rise.azimuth.degrees(), 180.0);
    EXPECT_GT(set.azimuth.degrees(), 180.0);
  }
}

TEST(SunPosition, BelongsToTheDateWhoseNoonIsNearEverywhere) {
  for (double longitude = -180.0; longitude <= 180.0; longitude += 15.0) {
    const JulianDate clock_noon = noon_utc(2023, 11, 5).plus(-longitude / 15.0 * units::hour);
    const SunDay day = sun_day(clock_noon, at(47.0, longitude));
    EXPECT_LT(std::abs(day.noon.days - clock_noon.days) * 24.0, 0.3) << longitude;
    EXPECT_NEAR(day.length().in(units::hour), 9.8, 0.3);
  }
}

TEST(SunPosition, KeepsItsHeadInPolarDayAndNight) {
  const SunDay summer = sun_day(noon_utc(2020, 6, 21), at(78.0, 15.0));
  EXPECT_EQ(summer.kind, SunDay::Kind::polar_day);
  EXPECT_DOUBLE_EQ(summer.length().in(units::hour), 24.0);
  const SunDay winter = sun_day(noon_utc(2020, 12, 21), at(78.0, 15.0));
  EXPECT_EQ(winter.kind, SunDay::Kind::polar_night);
  EXPECT_DOUBLE_EQ(winter.length().si(), 0.0);
  for (const double pole : {-90.0, 90.0})
    for (int month = 1; month <= 12; ++month) {
      const double hours = sun_day(noon_utc(2020, month, 10), at(pole, 0.0)).length().in(units::hour);
      EXPECT_TRUE(std::isfinite(hours)) << pole << ' ' << month;
    }
}

TEST(SunPosition, MirrorsBetweenHemispheres) {
  for (double dec = -23.0; dec <= 23.0; dec += 5.75) {
    const Duration<> north = day_length(Angle::from_degrees(50.0), Angle::from_degrees(dec));
    const Duration<> south = day_length(Angle::from_degrees(-50.0), Angle::from_degrees(dec));
    EXPECT_NEAR((north + south).in(units::hour), 24.0, 1e-9);
  }
}

}  // namespace
}  // namespace leat::science
