#include "base/time/civil.h"

#include <gtest/gtest.h>

namespace leat {
namespace {

CivilDate date_of(std::string_view text) {
  const auto read = read_date(text);
  EXPECT_TRUE(std::holds_alternative<CivilDate>(read)) << text;
  return std::holds_alternative<CivilDate>(read) ? std::get<CivilDate>(read) : CivilDate{};
}

std::string wrong_date(std::string_view text) {
  const auto read = read_date(text);
  return std::holds_alternative<Unreadable>(read) ? std::get<Unreadable>(read).wrong : "";
}

ReadTime time_of(std::string_view text) {
  const auto read = read_time(text);
  EXPECT_TRUE(std::holds_alternative<ReadTime>(read)) << text;
  return std::holds_alternative<ReadTime>(read) ? std::get<ReadTime>(read) : ReadTime{};
}

std::string wrong_time(std::string_view text) {
  const auto read = read_time(text);
  return std::holds_alternative<Unreadable>(read) ? std::get<Unreadable>(read).wrong : "";
}

Clock clock_of(std::string_view zone) {
  const auto clock = Clock::named(zone);
  EXPECT_TRUE(std::holds_alternative<Clock>(clock)) << zone;
  return std::holds_alternative<Clock>(clock) ? std::get<Clock>(clock) : Clock::fixed(0.0, "UTC");
}

std::string wrong_zone(std::string_view zone) {
  const auto clock = Clock::named(zone);
  return std::holds_alternative<Unreadable>(clock) ? std::get<Unreadable>(clock).wrong : "";
}

double unix_of(std::string_view utc) {
  const CivilTime t = time_of(utc).local;
  return 86400.0 * t.date.serial() + 3600.0 * t.hour;
}

TEST(ReadDate, ThreeForms) {
  const CivilDate expected{2026, 1, 5};
  EXPECT_EQ(date_of("2026-01-05"), expected);
  EXPECT_EQ(date_of("2026-1-5"), expected);
  EXPECT_EQ(date_of(" 2026/01/05 "), expected);
  EXPECT_EQ(expected.text(), "2026-01-05");
}

TEST(ReadDate, RefusesWithTheReason) {
  const std::string form = R"(; write year-month-day, such as "2026-01-05")";
  EXPECT_EQ(wrong_date(""), "is empty" + form);
  for (const char* text : {"05/01/2026", "5 Jan 2026", "26-01-05", "2026-01", "2026-01-05x", "2026-01/05", "20260105"})
    EXPECT_EQ(wrong_date(text), "is not a date" + form) << text;
  EXPECT_EQ(wrong_date("2026-13-01"), "has no month 13" + form);
  EXPECT_EQ(wrong_date("2026-02-29"), "is no day: February 2026 has 28 days" + form);
  EXPECT_EQ(wrong_date("2026-04-31"), "is no day: April 2026 has 30 days" + form);
  EXPECT_EQ(wrong_date("2026-04-00"), "is no day: April 2026 has 30 days" + form);
}

TEST(CivilDate, LeapYears) {
  EXPECT_EQ(date_of("2024-02-29").day_of_year(), 60);
  EXPECT_EQ(date_of("2000-02-29").plus_days(1).text(), "2000-03-01");
  EXPECT_EQ(wrong_date("1900-02-29").substr(0, 9), "is no day");
  EXPECT_EQ((CivilDate{2024, 12, 31}.day_of_year()), 366);
  EXPECT_EQ((CivilDate{2023, 12, 31}.day_of_year()), 365);
}

TEST(CivilDate, SerialCountsEveryDayOnce) {
  EXPECT_EQ((CivilDate{1970, 1, 1}.serial()), 0);
  EXPECT_EQ((CivilDate{1970, 1, 1}.weekday()), 4);  // a Thursday
  CivilDate walked{1999, 12, 25};
  for (int n = 0; n < 3000; ++n) {
    const CivilDate next = walked.plus_days(1);
    ASSERT_LT(walked, next);
    ASSERT_EQ(next.serial(), walked.serial() + 1);
    ASSERT_EQ(next.weekday(), walked.weekday() % 7 + 1);
    ASSERT_EQ(next.plus_days(-1), walked);
    walked = next;
  }
}

TEST(ReadTime, Forms) {
  EXPECT_DOUBLE_EQ(time_of("2026-01-05").local.hour, 0.0);
  EXPECT_DOUBLE_EQ(time_of("2026-01-05T14:30").local.hour, 14.5);
  EXPECT_DOUBLE_EQ(time_of("2026-01-05 14:30:36").local.hour, 14.51);
  EXPECT_DOUBLE_EQ(time_of("2026-01-05 24:00").local.hour, 24.0);
  EXPECT_FALSE(time_of("2026-01-05T14:30").utc_offset_hours);
  EXPECT_EQ(time_of("2026-01-05T14:30Z").utc_offset_hours, 0.0);
  EXPECT_EQ(time_of("2026-01-05T14:30-03:30").utc_offset_hours, -3.5);
  EXPECT_EQ(time_of("2026-01-05T14:30:00 +0100").utc_offset_hours, 1.0);
}

TEST(ReadTime, RefusesWithTheReason) {
  const std::string form = R"(; write such as "2026-01-05T14:30")";
  EXPECT_EQ(wrong_time("2026-01-05T25:00"), "has no hour 25" + form);
  EXPECT_EQ(wrong_time("2026-01-05T24:01"), "has no hour 24" + form);
  EXPECT_EQ(wrong_time("2026-01-05T14"), "has no time of day that can be read" + form);
  EXPECT_EQ(wrong_time("2026-01-05T14:60"), "has no time of day that can be read" + form);
  EXPECT_EQ(wrong_time("2026-01-05 2:30 PM"), "has a clock of twelve hours" + form);
  EXPECT_EQ(wrong_time("2026-01-05T14:30 BST"), R"(has an offset that cannot be read; write "Z" or "+01:00")");
  EXPECT_EQ(wrong_time("2026-02-30T14:30").substr(0, 9), "is no day");
}

TEST(Clock, FixedOffsets) {
  EXPECT_EQ(clock_of("+05:30").instant({{1970, 1, 1}, 5.5}).seconds, 0.0);
  EXPECT_EQ(clock_of("UTC-3").utc_offset_hours({0.0}), -3.0);
  EXPECT_EQ(clock_of("UTC").utc_offset_hours({0.0}), 0.0);
  const Clock solar = Clock::fixed(-122.3 / 15.0, "local solar");
  EXPECT_NEAR(solar.local(solar.instant({{2026, 6, 1}, 12.25})).hour, 12.25, 1e-9);
  EXPECT_EQ(solar.name(), "local solar");
}

TEST(Clock, GapInSpringGivesItsEnd) {
  const Clock london = clock_of("Europe/London");
  const Instant end{unix_of("2026-03-29T01:00")};
  EXPECT_EQ(london.instant({{2026, 3, 29}, 1.5}), end);
  EXPECT_EQ(london.instant({{2026, 3, 29}, 2.0}), end);
  EXPECT_TRUE(london.skips({{2026, 3, 29}, 1.5}));
  EXPECT_FALSE(london.skips({{2026, 3, 29}, 2.0}));
  EXPECT_FALSE(london.skips({{2026, 3, 28}, 1.5}));
  EXPECT_DOUBLE_EQ(london.local(end).hour, 2.0);
  EXPECT_DOUBLE_EQ(london.local({end.seconds - 1.0}).hour, 1.0 - 1.0 / 3600.0);
}

TEST(Clock, OverlapInAutumnGivesTheEarlier) {
  const Clock london = clock_of("Europe/London");
  const Instant first = london.instant({{2026, 10, 25}, 1.5});
  EXPECT_EQ(first.seconds, unix_of("2026-10-25T00:30"));
  EXPECT_DOUBLE_EQ(london.local({first.seconds + 3600.0}).hour, 1.5);
  EXPECT_EQ(london.instant({{2026, 10, 25}, 2.0}).seconds, unix_of("2026-10-25T02:00"));
}

TEST(Clock, SouthernZonesTurnInOctoberAndApril) {
  const Clock auckland = clock_of("Pacific/Auckland");
  EXPECT_EQ(auckland.utc_offset_hours({unix_of("2026-01-15")}), 13.0);
  EXPECT_EQ(auckland.utc_offset_hours({unix_of("2026-07-15")}), 12.0);
  EXPECT_EQ(auckland.standard_offset_hours(2026), 12.0);
  const Clock lord_howe = clock_of("Australia/Lord_Howe");  // half an hour of summer time
  EXPECT_EQ(lord_howe.utc_offset_hours({unix_of("2026-01-15")}), 11.0);
  EXPECT_EQ(lord_howe.standard_offset_hours(2026), 10.5);
  EXPECT_EQ(clock_of("Europe/Dublin").standard_offset_hours(2026), 0.0);  // its winter is the exception by law
}

TEST(Clock, ThereAndBackThroughAYear) {
  for (const char* zone : {"Europe/London", "America/St_Johns", "Australia/Adelaide", "Asia/Kathmandu"}) {
    const Clock clock = clock_of(zone);
    int repeated = 0;
    for (double t = unix_of("2025-01-01"); t < unix_of("2026-01-01"); t += 1800.0) {
      const double back = clock.instant(clock.local({t})).seconds;
      if (back != t) {
        ++repeated;
        ASSERT_EQ(back, t - 3600.0) << zone;
      }
    }
    EXPECT_EQ(repeated, std::string_view(zone) == "Asia/Kathmandu" ? 0 : 2) << zone;
  }
}

TEST(Clock, MidnightThatDoesNotExist) {
  // Summer time began at midnight there, so this day had no 00:00.
  const Clock cairo = clock_of("Africa/Cairo");
  EXPECT_TRUE(cairo.skips({{2024, 4, 26}, 0.0}));
  EXPECT_DOUBLE_EQ(cairo.local(cairo.instant({{2024, 4, 26}, 0.0})).hour, 1.0);
}

TEST(Clock, UnknownZonesAreMetWithAName) {
  EXPECT_EQ(wrong_zone("Europe/Lodnon"), R"(is no time zone; did you mean "Europe/London"?)");
  EXPECT_EQ(wrong_zone("new york"), R"(is no time zone; did you mean "America/New_York"?)");
  const std::string form = R"(is no time zone; write a name such as "Europe/London", or an offset such as "+01:00")";
  EXPECT_EQ(wrong_zone(""), form);
  EXPECT_EQ(wrong_zone("somewhere in the middle"), form);
  EXPECT_EQ(wrong_zone("+25:00"), form);
}

}  // namespace
}  // namespace leat
