#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>

#include "model/weather/sun_clock.h"
#include "model/weather/test_help.h"

namespace leat::model {
namespace {

HourlyRecord read(std::string_view text, const Place& place) {
  Problems problems;
  HourlyRecord record = read_hourly_record(text, "h.csv", place, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return record;
}

Instant utc(CivilDate date, double hour) {
  return {86400.0 * date.serial() + 3600.0 * hour};
}

std::string stamp(const Clock& clock, Instant t) {
  const CivilTime local = clock.local(t);
  const int minutes = static_cast<int>(std::lround(local.hour * 60.0));
  return fmt::format("{}T{:02}:{:02}", local.date.text(), minutes / 60, minutes % 60);
}

/// A file of hours from `start` whose temperature counts them, stamped by a clock.
std::string counted(const Clock& clock, Instant start, int hours) {
  std::string text = "time,temperature\n";
  for (int i = 0; i < hours; ++i)
    text += fmt::format("{},{:.1f}\n", stamp(clock, {start.seconds + 3600.0 * i}), 0.1 * i);
  return text;
}

void expect_counted(const HourlyRecord& record, Instant start, int hours) {
  ASSERT_EQ(record.airs.size(), static_cast<std::size_t>(hours));
  EXPECT_EQ(record.start, start);
  for (std::size_t i = 0; i < record.airs.size(); ++i)
    ASSERT_NEAR(record.airs[i].temperature.celsius(), 0.1 * static_cast<double>(i), 1e-9);
}

TEST(ReadHourlyRecord, NormalsOfSeattleKeepStandardTime) {
  const HourlyRecord record = read(example("seattle-hourly-normals-march.csv"), seattle());
  ASSERT_EQ(record.airs.size(), 744u);
  EXPECT_EQ(record.start, utc({2010, 3, 1}, 8.0));
  EXPECT_TRUE(says(record.assumptions, "UTC-8 h all year"));
  EXPECT_TRUE(says(record.assumptions, "the pressure is not used"));
  EXPECT_TRUE(record.has_wind);
  EXPECT_FALSE(record.has_vapour || record.has_rain);
  for (const bool sun : record.has_sun) ASSERT_FALSE(sun);
}

TEST(ReadHourlyRecord, FollowsTheClockThroughSummerTime) {
  const Place place = seattle();
  const Instant spring = utc({2010, 3, 14}, 2.0), autumn = utc({2010, 11, 7}, 1.0);
  for (const Instant start : {spring, autumn}) {
    const HourlyRecord record = read(counted(place.clock, start, 24), place);
    expect_counted(record, start, 24);
    EXPECT_TRUE(says(record.assumptions, "by the clock America/Los_Angeles"));
  }
}

TEST(ReadHourlyRecord, StandardTimeIsKnownInAutumnToo) {
  const Place place = seattle();
  const Instant autumn = utc({2010, 11, 7}, 1.0);
  const HourlyRecord record = read(counted(Clock::fixed(-8.0, "standard"), autumn, 24), place);
  expect_counted(record, autumn, 24);
  EXPECT_TRUE(says(record.assumptions, "UTC-8 h all year"));
}

TEST(ReadHourlyRecord, SouthernSummerTime) {
  const Place place = place_at(-41.3, 174.8, 20.0, "Pacific/Auckland");
  const Instant start = utc({2025, 9, 27}, 3.0);
  expect_counted(read(counted(place.clock, start, 24), place), start, 24);
  expect_counted(read(counted(Clock::fixed(12.0, "standard"), start, 24), place), start, 24);
}

TEST(ReadHourlyRecord, OffsetsBehindTheTimesWin) {
  const HourlyRecord record = read("time,temp\n2025-07-01T00:00+02:00,10\n2025-07-01T01:00+02:00,11\n", london());
  EXPECT_EQ(record.start, utc({2025, 6, 30}, 22.0));
  EXPECT_TRUE(record.assumptions.size() == 1u) << "only the missing units are assumed";
}

TEST(ReadHourlyRecord, ShortHolesAreBridged) {
  const HourlyRecord record =
      read("time,temp degC,wind m/s\n2025-07-01T00:00Z,10,2\n2025-07-01T01:00Z,,\n2025-07-01T04:00Z,14,4\n", london());
  ASSERT_EQ(record.airs.size(), 5u);
  EXPECT_NEAR(record.airs[3].temperature.celsius(), 13.0, 1e-9);
  EXPECT_NEAR(record.airs[1].wind.si(), 2.5, 1e-12);
  EXPECT_TRUE(says(record.assumptions, "6 missing values are bridged"));
}

TEST(ReadHourlyRecord, HalfHoursAreReadOffStraightLines) {
  const HourlyRecord record =
      read("time,temp degC\n2025-07-01T00:30Z,10\n2025-07-01T01:30Z,12\n2025-07-01T02:30Z,11\n", london());
  ASSERT_EQ(record.airs.size(), 2u);
  EXPECT_EQ(record.start, utc({2025, 7, 1}, 1.0));
  EXPECT_NEAR(record.airs[0].temperature.celsius(), 11.0, 1e-9);
  EXPECT_NEAR(record.airs[1].temperature.celsius(), 11.5, 1e-9);
  EXPECT_TRUE(says(record.assumptions, "not on the hour"));
}

TEST(ReadHourlyRecord, HumidityAndDewPointAgree) {
  // 50 % at 20 degC has its dew point at 9.27 degC.
  const HourlyRecord wet = read("time,temp,humidity\n2025-07-01T00:00Z,20,50\n2025-07-01T01:00Z,20,50\n", london());
  const HourlyRecord dew =
      read("time,temp,dew point\n2025-07-01T00:00Z,20,9.27\n2025-07-01T01:00Z,20,9.27\n", london());
  ASSERT_TRUE(wet.has_vapour && dew.has_vapour);
  EXPECT_NEAR(wet.airs[0].vapour_pressure.si(), 1169.0, 1.0);
  EXPECT_NEAR(dew.airs[0].vapour_pressure.si(), wet.airs[0].vapour_pressure.si(), 2.0);
}

TEST(ReadHourlyRecord, RainIsADepthOfTheHour) {
  const HourlyRecord record = read("time,temp,rain\n2025-07-01T00:00Z,20,3.6\n2025-07-01T01:00Z,20,\n", london());
  EXPECT_NEAR(record.airs[0].rain.si(), 1e-6, 1e-15);
  EXPECT_EQ(record.airs[1].rain.si(), 0.0);
}

/// Clear days at London as a logger writes them: the mean of an hour, stamped `late` hours after its middle.
std::string logged_sun(double late, int days) {
  WeatherSources sources;
  const CivilDate first{2025, 6, 10};
  for (int n = 0; n < days; ++n) {
    WeatherDay day;
    day.date = first.plus_days(n);
    day.low = Temperature<>::from_celsius(10.0);
    day.high = Temperature<>::from_celsius(20.0);
    day.sky = Sky::clear;
    sources.forecast.push_back(day);
  }
  const Weather weather = assemble_weather(london(), sources, first, days);
  std::string text = "time,temp,sun\n";
  for (int i = 0; i < 24 * days; ++i) {
    const double middle = weather.start.seconds + 3600.0 * i;
    const Instant stamped{middle + 3600.0 * late};
    text += fmt::format("{}Z,15,{:.3f}\n", stamp(Clock::fixed(0.0, ""), stamped), weather.at({middle}).sun.si());
  }
  return text;
}

double sum_of_sun(const HourlyRecord& record) {
  double sum = 0.0;
  for (const Air& air : record.airs) sum += air.sun.si();
  return sum;
}

double off_noon_h(const HourlyRecord& record) {
  HourlySun sun{record.start, {}};
  for (std::size_t i = 0; i < record.airs.size(); ++i)
    sun.watts.push_back(record.has_sun[i] ? std::optional(record.airs[i].sun.si()) : std::nullopt);
  const auto off = noon_off(measured_sun_days(sun, london()));
  EXPECT_TRUE(off);
  return off ? off->off.in(units::hour) : 99.0;
}

TEST(ReadHourlyRecord, SunAtNoonIsLeftAlone) {
  const HourlyRecord record = read(logged_sun(0.0, 4), london());
  EXPECT_LT(std::abs(off_noon_h(record)), 0.05);
  EXPECT_FALSE(says(record.assumptions, "it is moved there"));
}

TEST(ReadHourlyRecord, StampsAtTheEndOfTheHourAreMovedBack) {
  for (const double late : {0.5, -0.4, 0.68}) {
    const HourlyRecord record = read(logged_sun(late, 4), london());
    EXPECT_TRUE(says(record.assumptions, "it is moved there")) << late;
    EXPECT_LT(std::abs(off_noon_h(record)), 0.15) << late;
    EXPECT_NEAR(sum_of_sun(record), sum_of_sun(read(logged_sun(0.0, 4), london())), 5.0) << late;
  }
}

TEST(ReadHourlyRecord, AnHourOffIsTheClocksFault) {
  Problems problems;
  read_hourly_record(logged_sun(1.0, 4), "h.csv", london(), problems);
  EXPECT_NE(problems.text().find("1.00 h after solar noon (4 clear days)"), std::string::npos) << problems.text();
}

TEST(ReadHourlyRecord, FewCloudyDaysTellNothingOfTheClock) {
  std::string text = "time,temp,sun\n";
  for (int i = 0; i < 72; ++i)
    text += fmt::format("{}Z,15,{}\n", stamp(Clock::fixed(0.0, ""), utc({2025, 6, 10}, i)),
                        i % 24 > 9 && i % 24 < 20 ? 60 : 0);
  EXPECT_TRUE(says(read(text, london()).assumptions, "too little clear sun to check its clock"));
}

}  // namespace
}  // namespace leat::model
