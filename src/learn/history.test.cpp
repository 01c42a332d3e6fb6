#include "learn/history.h"

#include <gtest/gtest.h>

#include "learn/cusum.h"
#include "learn/recorded_weather.h"
#include "record/phrase.h"
#include "record/when.h"

namespace leat::learn {
namespace {

const Clock kClock = Clock::fixed(0.0, "UTC");

/// Phrases with the hour of 2026-03-(10 + day) at which they were noted.
History noted(const std::vector<std::pair<double, std::string>>& phrases) {
  Problems problems;
  auto context = record::context_of(
      model::read_description(
          "[tank.nursery]\nvolume = \"1000 L\"\n[sump.main]\nvolume = \"300 L\"\n[fish.trout]\nin = \"tank.nursery\"\n"
          "species = \"rainbow trout\"\ncount = 40\nmass = \"60 g\"\n",
          "loop.toml", problems),
      kClock, 0);
  std::vector<record::Entry> entries;
  for (const auto& [hour, phrase] : phrases) {
    context.now = record::moment_of(kClock, {2026, 3, 10}, 0.0) + static_cast<Moment>(hour * 3.6e6);
    for (const auto& u : record::read_phrase(phrase, context))
      for (record::Entry e : u.entries) {
        e.number = static_cast<std::int64_t>(entries.size()) + 1;
        entries.push_back(std::move(e));
      }
  }
  return history_of(entries);
}

TEST(History, NumbersOfAKindComeInOneUnit) {
  const History h = noted({{1, "temp 50 F"},
                           {2, "no3 40 as NO3"},
                           {3, "no2 1 as NO2"},
                           {4, "tan 1"},
                           {5, "kh 4 dKH"},
                           {6, "kh 71 mg/L"},
                           {7, "flow 10 L in 18 s"},
                           {8, "sump level 0.38 m"},
                           {9, "kh 1 meq/L"}});
  ASSERT_EQ(h.readings.size(), 9u);
  EXPECT_NEAR(h.readings[0].value(), 10.0, 1e-9);
  EXPECT_NEAR(h.readings[1].value(), 40.0 * 14.007 / 62.004, 1e-6);
  EXPECT_NEAR(h.readings[2].value(), 14.007 / 46.005, 1e-6);
  EXPECT_NEAR(h.readings[3].value(), 1.0, 1e-9);
  EXPECT_NEAR(h.readings[4].value(), 4.0 * 17.85, 0.02);
  EXPECT_NEAR(h.readings[5].value(), 71.0, 1e-9);
  EXPECT_NEAR(h.readings[6].value(), 2000.0, 1e-6);
  EXPECT_NEAR(h.readings[7].value(), 38.0, 1e-9);
  EXPECT_NEAR(h.readings[8].value(), 50.04, 0.01);
}

TEST(History, ABasisThatWasNotSaidLeavesAnInterval) {
  const History h = noted({{1, "no3 40"}, {2, "no3 40 as N"}});
  EXPECT_FALSE(h.readings[0].basis_said);
  EXPECT_NEAR(h.readings[0].low, 40.0 * 14.007 / 62.004, 1e-6);
  EXPECT_NEAR(h.readings[0].high, 40.0, 1e-9);
  EXPECT_TRUE(h.readings[1].basis_said);
}

TEST(History, DeedsAreOfAllTogether) {
  const History h = noted(
      {{1, "fed 0.1 kg"}, {2, "5 dead, 80 g each"}, {3, "weighed 12 fish 960 g together"}, {4, "topped up 2 USgal"}});
  EXPECT_NEAR(*h.deeds[0].grams, 100.0, 1e-9);
  EXPECT_NEAR(*h.deeds[1].grams, 400.0, 1e-9);
  EXPECT_NEAR(*h.deeds[2].grams_each, 80.0, 1e-9);
  EXPECT_NEAR(*h.deeds[3].litres, 7.5708, 1e-3);
}

TEST(History, AnEarlierViewHoldsNothingOfWhatCameLater) {
  const History h = noted({{1, "temp 9"}, {2, "fed 60 g"}, {30, "temp 11"}, {31, "something odd"}});
  const History then = h.until(record::moment_of(kClock, {2026, 3, 10}, 12.0));
  EXPECT_EQ(then.readings.size(), 1u);
  EXPECT_EQ(then.deeds.size(), 1u);
  EXPECT_TRUE(then.remarks.empty());
  EXPECT_EQ(then.moments.size(), 2u);
}

/// A sensor's lows and highs of each day bear the number of the entry in which the sensor began.
TEST(History, WhatASensorReadIsOneEntry) {
  std::vector<record::Entry> entries(5);
  for (std::size_t i = 0; i < 5; ++i) {
    entries[i].number = i < 2 ? static_cast<std::int64_t>(i) + 1 : 2;
    entries[i].kind = record::Kind::reading;
    entries[i].what = "temperature";
    entries[i].amount = {9.0, 9.0, "degC", "", false};
    entries[i].from = entries[i].to = static_cast<Moment>(i) * kDay;
  }
  const History h = history_of(entries);
  EXPECT_EQ(h.moments.size(), 2u);
  EXPECT_EQ(h.readings.size(), 5u);
}

TEST(RecordedWeather, AMaxReadInTheMorningIsOfTheDayBefore) {
  const History h =
      noted({{7, "air min 2 max 9"}, {31, "air min 3 max 12"}, {50, "weather min 1 max 7 clear light wind"}});
  const auto days = recorded_weather(h, kClock);
  ASSERT_EQ(days.size(), 2u);
  EXPECT_EQ(days[0].date.text(), "2026-03-10");
  EXPECT_NEAR(days[0].low.celsius(), 2.0, 1e-9);
  EXPECT_NEAR(days[0].high.celsius(), 12.0, 1e-9);
  EXPECT_EQ(days[1].date.text(), "2026-03-12");
  EXPECT_TRUE(days[1].sky.has_value());
}

TEST(Kit, AColourReachesHalfWayToTheNext) {
  const History h =
      noted({{1, "tan 0.5"}, {2, "no3 20 as N"}, {3, "kh between 3 and 4 dKH"}, {4, "ph 6.8"}, {5, "ph 7.0"}});
  const Between tan = between(h.readings[0], 0.1), no3 = between(h.readings[1], 1.0), kh = between(h.readings[2], 1.0);
  EXPECT_NEAR(tan.low, 0.375, 1e-9);
  EXPECT_NEAR(tan.high, 0.75, 1e-9);
  EXPECT_NEAR(no3.low, 15.0, 1e-9);
  EXPECT_NEAR(no3.high, 30.0, 1e-9);
  EXPECT_NEAR(kh.width(), 17.85, 0.01);
  EXPECT_NEAR(step_of(h.of("pH")), 0.2, 1e-9) << "6.8 and 7.0 are steps of 0.2";
  EXPECT_EQ(tan.miss(0.6), 0.0);
  EXPECT_NEAR(tan.miss(1.0), 0.25, 1e-9);
  EXPECT_NEAR(tan.miss(0.3), -0.075, 1e-9);
}

/// Noise within the step never rings, and one wild reading does not.
TEST(Cusum, KnowsTheStep) {
  Cusum sum{0.5, 4.0};
  for (int i = 0; i < 1000; ++i) {
    const auto rung = sum.take({0.375, 0.75}, i % 2 ? 0.40 : 0.70, 0.1);
    ASSERT_FALSE(rung.up || rung.down);
  }
  EXPECT_FALSE(sum.take({8.0, 9.0}, 0.5, 0.1).up) << "one wild reading";
  EXPECT_FALSE(sum.take({0.375, 0.75}, 0.5, 0.1).up);
}

TEST(Cusum, SeesASmallShiftThatLasts) {
  Cusum sum{0.5, 4.0};
  int readings = 0;
  while (readings < 100 && !sum.take({1.0, 1.0}, 0.875, 0.125).up) ++readings;
  EXPECT_EQ(readings, 7) << "one standard deviation, less a half of slack, eight times";
}

}  // namespace
}  // namespace leat::learn
