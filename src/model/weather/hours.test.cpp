#include "model/weather/hours.h"

#include <gtest/gtest.h>

#include <cmath>

#include "model/weather/test_help.h"

namespace leat::model {
namespace {

FullDay day_at(const Place& place, CivilDate date, double low_c, double high_c, double clearness) {
  FullDay day{sun_frame(place, date),
              Temperature<>::from_celsius(low_c),
              Temperature<>::from_celsius(high_c),
              Pressure<>(900.0),
              Velocity<>(3.0),
              Length<>(0.0048),
              {},
              0.3};
  day.sun = clearness * day.frame.clear;
  return day;
}

/// Days around a date that differ, with hours over all but the first and last of them.
struct HoursRun {
  std::vector<FullDay> days;
  Instant start;
  std::vector<Air> airs;

  HoursRun(const Place& place, CivilDate date, int count) {
    for (int n = -1; n <= count; ++n)
      days.push_back(day_at(place, date.plus_days(n), 5.0 + n % 3, 14.0 + n % 2, n % 2 == 0 ? 0.9 : 0.4));
    start = {std::ceil((days[1].frame.noon.seconds - 43200.0) / 3600.0) * 3600.0};
    airs = hours_of_days(days, start, static_cast<std::size_t>(24 * count));
  }
  /// The hours of day i (from 1) in order.
  std::vector<Air> of_day(std::size_t i) const {
    std::vector<Air> hours;
    NoonWalk walk(days);
    for (std::size_t k = 0; k < airs.size(); ++k)
      if (walk.nearest({start.seconds + 3600.0 * static_cast<double>(k)}) == i) hours.push_back(airs[k]);
    return hours;
  }
};

const std::vector<Place> kPlaces = {place_at(0.0, 37.0, 1700.0, "Africa/Nairobi"),
                                    place_at(47.45, -122.3, 130.0, "America/Los_Angeles"),
                                    place_at(-37.8, 145.0, 30.0, "Australia/Melbourne"),
                                    place_at(22.6, 88.4, 9.0, "Asia/Kolkata"),
                                    place_at(39.5, 76.0, 1290.0, "Asia/Shanghai"),  // noon at three by the clock
                                    place_at(69.6, 18.9, 10.0, "Europe/Oslo")};

TEST(HoursOfDays, SunOfTheHoursIsTheSunOfTheDay) {
  for (const Place& place : kPlaces)
    for (const CivilDate date :
         {CivilDate{2025, 3, 20}, CivilDate{2025, 6, 21}, CivilDate{2025, 11, 2}, CivilDate{2025, 12, 21}}) {
      const HoursRun run(place, date, 3);
      for (std::size_t i = 1; i <= 3; ++i) {
        double sum = 0.0;
        for (const Air& air : run.of_day(i)) sum += air.sun.si();
        ASSERT_NEAR(sum, 24.0 * run.days[i].sun.si(), 1e-9 * (1.0 + sum)) << place.clock.name() << date.text();
      }
    }
}

TEST(HoursOfDays, StraightLinesBetweenHoursKeepTheSunOfADay) {
  // Dark at midnight, so the integral between midnights is the sum of the hours.
  const HoursRun run(seattle(), {2025, 6, 21}, 3);
  Weather weather{seattle(), run.start, run.airs, {}, {}};
  double joules = 0.0;
  for (int s = 0; s < 24 * 60; ++s)
    joules += 60.0 * weather.at({run.start.seconds + 86400.0 + 60.0 * (s + 0.5)}).sun.si();
  EXPECT_NEAR(joules, 86400.0 * run.days[2].sun.si(), 1e-4 * joules);
}

TEST(HoursOfDays, AirRunsBetweenTheExtremes) {
  for (const Place& place : kPlaces) {
    const HoursRun run(place, {2025, 4, 10}, 5);
    for (std::size_t i = 2; i <= 4; ++i) {
      const double low = std::min({run.days[i - 1].low, run.days[i].low, run.days[i + 1].low}).celsius();
      const double high = std::max({run.days[i - 1].high, run.days[i].high, run.days[i + 1].high}).celsius();
      double least = 99.0, most = -99.0;
      for (const Air& air : run.of_day(i)) {
        const double t = air.temperature.celsius();
        ASSERT_GE(t, low - 1e-9);
        ASSERT_LE(t, high + 1e-9);
        least = std::min(least, t);
        most = std::max(most, t);
      }
      EXPECT_NEAR(most, run.days[i].high.celsius(), 0.2);
      EXPECT_NEAR(least, run.days[i].low.celsius(), 1.6);  // the next night may begin to fall before midnight
    }
  }
}

TEST(HoursOfDays, AirHasNoJumps) {
  for (const Place& place : kPlaces) {
    const HoursRun run(place, {2025, 6, 18}, 6);
    for (std::size_t k = 1; k < run.airs.size(); ++k)
      ASSERT_LT(std::abs((run.airs[k].temperature - run.airs[k - 1].temperature).si()), 3.0) << place.clock.name() << k;
  }
}

TEST(HoursOfDays, WarmestAfterNoonColdestAtSunrise) {
  const HoursRun run(seattle(), {2025, 7, 1}, 3);
  std::size_t warm = 0, cold = 0;
  for (std::size_t k = 24; k < 48; ++k) {
    if (run.airs[k].temperature > run.airs[warm < 24 ? 24 : warm].temperature) warm = k;
    if (run.airs[k].temperature < run.airs[cold < 24 ? 24 : cold].temperature) cold = k;
  }
  const auto solar_h = [&](std::size_t k) {
    return hour_angle(run.days[2].frame, {run.start.seconds + 3600.0 * static_cast<double>(k)}).degrees() / 15.0 + 12.0;
  };
  EXPECT_NEAR(solar_h(warm), 13.9, 0.6);
  EXPECT_NEAR(solar_h(cold), 4.1, 0.6);
}

TEST(HoursOfDays, MeansOfWindAndRain) {
  const HoursRun run(kPlaces[2], {2025, 4, 10}, 3);
  for (std::size_t i = 1; i <= 3; ++i) {
    double wind = 0.0, rain = 0.0;
    const auto hours = run.of_day(i);
    for (const Air& air : hours) {
      wind += air.wind.si();
      rain += 3600.0 * air.rain.si();
    }
    EXPECT_NEAR(wind / static_cast<double>(hours.size()), 3.0, 0.05);
    EXPECT_NEAR(rain, 0.0048 * static_cast<double>(hours.size()) / 24.0, 1e-12);
  }
}

TEST(HoursOfDays, VapourNeverPassesSaturation) {
  for (const Air& air : HoursRun(seattle(), {2025, 1, 10}, 4).airs)
    ASSERT_LE(air.vapour_pressure, science::saturation_vapour_pressure(air.temperature));
}

TEST(HoursOfDays, NearThePole) {
  const HoursRun night(kPlaces[5], {2025, 12, 20}, 3), day(kPlaces[5], {2025, 6, 20}, 3);
  for (const Air& air : night.airs) ASSERT_EQ(air.sun.si(), 0.0);
  for (const Air& air : day.airs) ASSERT_GT(air.sun.si(), 0.0);
  for (const Air& air : day.airs) ASSERT_TRUE(std::isfinite(air.temperature.kelvin()));
}

TEST(SplitSun, DiffuseIsAShareAndClearDaysHaveLittle) {
  const Place place = seattle();
  const HoursRun run(place, {2025, 6, 21}, 2);
  for (std::size_t k = 0; k < run.airs.size(); ++k) {
    Air air = run.airs[k];
    const std::size_t day = NoonWalk(run.days).nearest({run.start.seconds + 3600.0 * static_cast<double>(k)});
    split_sun(place, run.days[day].frame, {run.start.seconds + 3600.0 * static_cast<double>(k)}, air);
    ASSERT_GE(air.diffuse.si(), 0.0);
    ASSERT_LE(air.diffuse, air.sun);
    if (k % 24 != 12) continue;
    const double share = (air.diffuse / air.sun).si();
    EXPECT_TRUE(day == 1 ? share < 0.3 : share > 0.6) << "day " << day << " has the share " << share;
  }
}

TEST(SunFrame, ACloudlessNoonIsNearHaurwitz) {
  // Two relations that know nothing of each other: the day's clear sky of FAO-56 shared out, and Haurwitz' moment.
  // Below 30 degrees they part, by a quarter at 15: the day's form knows nothing of the longer way through the air.
  for (const Place& place : {seattle(), london(), place_at(-37.8, 145.0, 30.0, "Australia/Melbourne")})
    for (const int month : {1, 4, 6, 9, 12}) {
      std::vector<FullDay> days;
      for (int n = -1; n <= 1; ++n)
        days.push_back(day_at(place, CivilDate{2025, month, 15}.plus_days(n), 5.0, 15.0, 1.0));
      const std::vector<Air> noon = hours_of_days(days, days[1].frame.noon, 1);
      const double elevation = 90.0 - std::abs(place.latitude_deg - days[1].frame.sun.declination.degrees());
      if (elevation < 30.0) continue;
      const double moment = science::clear_sky_radiation_haurwitz(science::Angle::from_degrees(elevation)).si();
      EXPECT_NEAR(noon[0].sun.si(), moment, 0.15 * moment) << place.clock.name() << month;
    }
}

}  // namespace
}  // namespace leat::model
