#include "learn/present.h"

#include <gtest/gtest.h>

#include "record/phrase.h"
#include "record/when.h"

namespace leat::learn {
namespace {

constexpr const char* kText = R"(
[place]
latitude = 50
[tank.nursery]
volume = "1000 L"
[fish.trout]
in = "tank.nursery"
species = "rainbow trout"
count = 40
mass = "60 g"
)";

class PresentOf : public ::testing::Test {
 protected:
  Clock clock = Clock::fixed(0.0, "UTC");
  std::vector<record::Entry> entries;
  std::string text = kText;

  Moment at(double hour) const {
    return record::moment_of(clock, {2026, 3, 10}, 0.0) + static_cast<Moment>(hour * 3.6e6);
  }
  static model::Loop loop_of(const std::string& text) {
    Problems problems;
    model::Loop loop = model::make_loop(model::read_description(text, "loop.toml", problems), problems);
    EXPECT_TRUE(problems.empty()) << problems.text();
    return loop;
  }
  void SetUp() override {
    record::Entry begun;
    begun.number = 1;
    begun.noted = begun.from = begun.to = at(0.0);
    begun.kind = record::Kind::chapter;
    begun.what = "begun";
    begun.description = text;
    entries.push_back(begun);
  }
  void note(double hour, const std::string& phrase) {
    Problems problems;
    const auto context = record::context_of(model::read_description(text, "loop.toml", problems), clock, at(hour));
    for (const auto& u : record::read_phrase(phrase, context))
      for (record::Entry e : u.entries) {
        e.number = static_cast<std::int64_t>(entries.size()) + 1;
        entries.push_back(std::move(e));
      }
  }
  std::pair<model::Loop, Present> seen(double hour, const std::string& loop_file = kText) const {
    const History history = history_of(entries);
    Present present = present_of(history, clock, at(hour));
    model::Loop loop = loop_at_present(loop_of(loop_file), history, present);
    return {loop, present};
  }
  static const Taken* taken(const Present& p, const std::string& path) {
    for (const Taken& t : p.taken)
      if (t.path == path) return &t;
    return nullptr;
  }
};

TEST_F(PresentOf, TheNewestReadingStandsUntilItIsTooOld) {
  note(7, "temp 9.0");
  note(19, "temp 11.0; do 9.5");
  const auto [evening, p] = seen(20);
  EXPECT_NEAR(evening.water.temperature.celsius(), 11.0, 1e-9);
  EXPECT_NEAR(31.998 * evening.water.dissolved_oxygen.si(), 9.5, 1e-9);
  const auto [later, q] = seen(19 + 20);
  EXPECT_NEAR(later.water.temperature.celsius(), 11.0, 1e-9) << "20 h old";
  ASSERT_TRUE(taken(q, "water.dissolved_oxygen"));
  EXPECT_FALSE(taken(q, "water.dissolved_oxygen")->used);
  const auto [long_after, r] = seen(19 + 40);
  EXPECT_FALSE(taken(r, "water.temperature")->used);
  EXPECT_FALSE(long_after.water.temperature_said);
}

TEST_F(PresentOf, AnIntervalGivesItsMiddleAndSaysSo) {
  note(7, "nh4 between 0.25 and 0.5 as N");
  const auto [loop, p] = seen(8);
  EXPECT_NEAR(14.007 * loop.water.ammonia.si(), 0.375, 1e-9);
  EXPECT_NE(taken(p, "water.ammonia")->reason.find("the middle of 0.25"), std::string::npos);
}

TEST_F(PresentOf, FishThatDiedAndCameAreCounted) {
  note(7, "3 dead");
  note(8, "stocked 10 trout of 50 g each");
  const auto [loop, p] = seen(9);
  EXPECT_NEAR(loop.fish[0].count, 47.0, 1e-9);
}

TEST_F(PresentOf, ACountThatWasChangedInTheFileIsTheGrowersOwn) {
  note(7, "3 dead");
  std::string other = text;
  other.replace(other.find("count = 40"), 10, "count = 37");
  const auto [loop, p] = seen(9, other);
  EXPECT_NEAR(loop.fish[0].count, 37.0, 1e-9);
  EXPECT_FALSE(taken(p, "fish.trout.count")->used);
}

TEST_F(PresentOf, TheyGrowByTheFeedSinceTheyWereWeighed) {
  note(7, "weighed 10 fish 800 g together");
  for (int d = 0; d < 10; ++d) note(8 + 24 * d, "fed 48 g");
  const auto [loop, p] = seen(24 * 10);
  EXPECT_NEAR(1e3 * loop.fish[0].mass.si(), 80.0 + 480.0 / 1.2 / 40.0, 1e-9);
}

TEST_F(PresentOf, MinAndMaxStandForTheWarmthThatNobodyRead) {
  note(7, "temp 9.0");
  note(7 + 24, "min 6.4 max 11.2");
  const auto [loop, p] = seen(9 + 24);
  EXPECT_NEAR(loop.water.temperature.celsius(), 8.8, 1e-9);
  ASSERT_TRUE(taken(p, "water.temperature"));
  EXPECT_NE(taken(p, "water.temperature")->reason.find("min and max read 2 h ago, entries 3 and 4; the middle of 6.4"),
            std::string::npos)
      << taken(p, "water.temperature")->reason;
  note(8 + 24, "temp 9.5");
  EXPECT_NEAR(seen(9 + 24).first.water.temperature.celsius(), 9.5, 1e-9) << "a reading of now goes before";
  EXPECT_FALSE(seen(7 + 72).first.water.temperature_said) << "two days old";
}

TEST_F(PresentOf, FishThatWereEatenAreGoneAndDeadLettuceIsNoFish) {
  note(7, "harvested 10 trout 2.5 kg together");
  note(8, "12 lettuce died");
  note(8.5, "planted 6 purple kale in tank.nursery; 2 purple kale died");
  const auto [loop, p] = seen(9);
  EXPECT_NEAR(loop.fish[0].count, 30.0, 1e-9) << taken(p, "fish.trout.count")->reason;
}

TEST_F(PresentOf, FishThatCameAfterTheWeighingCountWithTheirOwnMass) {
  note(7, "weighed 10 fish 3000 g together");
  note(8, "stocked 40 trout of 50 g each");
  const auto [loop, p] = seen(9);
  EXPECT_NEAR(loop.fish[0].count, 80.0, 1e-9);
  EXPECT_NEAR(1e3 * loop.fish[0].mass.si(), 175.0, 1e-9) << "40 of 300 g and 40 of 50 g";
}

TEST_F(PresentOf, AChapterOfATableKeepsNoLoopFileAndThatIsSaid) {
  entries[0].description.clear();
  note(7, "3 dead");
  const auto [loop, p] = seen(9);
  EXPECT_NEAR(loop.fish[0].count, 40.0, 1e-9);
  EXPECT_NE(taken(p, "fish.trout.count")->reason.find("entry 1, keeps no loop file"), std::string::npos);
}

TEST_F(PresentOf, WhatLiesAheadIsNotKnownYet) {
  note(7, "temp 9.0");
  note(19, "temp 11.0; 5 dead");
  const auto [loop, p] = seen(12);
  EXPECT_NEAR(loop.water.temperature.celsius(), 9.0, 1e-9);
  EXPECT_NEAR(loop.fish[0].count, 40.0, 1e-9);
}

TEST_F(PresentOf, PowerAndTheLastMeal) {
  note(7, "fed 30 g");
  note(8, "power off");
  const auto [loop, p] = seen(9);
  ASSERT_TRUE(p.power && p.last_fed);
  EXPECT_EQ(p.power->subject, "off");
  EXPECT_EQ(*p.last_fed, at(7));
  EXPECT_NEAR(p.fed_today, 30.0, 1e-9);
}

}  // namespace
}  // namespace leat::learn
