// What killed them: other stories must lead elsewhere, and an empty record nowhere.
#include "answers/cause.h"

#include "record/phrase.h"
#include "record/when.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class CauseOf : public ::testing::Test {
 protected:
  std::string text = tests::slurp(std::string(LEAT_ROOT) + "/tests/stories/harrow-lea.toml");
  model::Loop loop = tests::read_loop("tests/stories/harrow-lea.toml");
  std::vector<record::Entry> entries;
  CauseRequest request;

  record::Moment at(int day, double hour) const {
    return record::moment_of(loop.site.place.clock, {2026, 6, day}, hour);
  }
  void note(int day, double hour, const std::string& phrase) {
    Problems problems;
    auto context =
        record::context_of(model::read_description(text, "loop.toml", problems), loop.site.place.clock, at(day, hour));
    for (const auto& u : record::read_phrase(phrase, context))
      for (record::Entry e : u.entries) {
        e.number = static_cast<std::int64_t>(entries.size()) + 1;
        entries.push_back(std::move(e));
      }
  }
  CauseAnswer answer() {
    request.now = at(28, 12.0);
    return cause(loop, entries, request);
  }
  static const Cause& named(const CauseAnswer& a, const std::string& key) {
    for (const Cause& c : a.causes)
      if (c.key == key) return c;
    ADD_FAILURE() << key;
    return a.causes.front();
  }
};

TEST_F(CauseOf, NothingNotedIsNoCause) {
  note(20, 8.0, "fed 30 g");
  EXPECT_FALSE(answer().said.empty());
  EXPECT_TRUE(answer().causes.empty());
}

TEST_F(CauseOf, DeathsAloneDecideNothing) {
  note(20, 12.0, "4 dead");
  const CauseAnswer a = answer();
  for (const Cause& c : a.causes) EXPECT_NE(c.standing, Standing::fits) << c.key;
  EXPECT_GE(a.excluded_not.size(), 6u);
}

TEST_F(CauseOf, OneDeathNowAndThenIsTheLastOne) {
  note(10, 7.0, "1 dead");
  note(20, 7.0, "1 dead");
  note(24, 7.0, "9 lettuce died");
  EXPECT_EQ(answer().found, at(20, 7.0));
  note(15, 7.0, "4 dead");
  EXPECT_EQ(answer().found, at(15, 7.0)) << "several at once go before";
  const auto far = [](const CauseAnswer& a) {
    return std::any_of(a.assumed.begin(), a.assumed.end(),
                       [](const std::string& s) { return s.starts_with("the death nearest to the time"); });
  };
  request.found = at(11, 12.0);
  EXPECT_FALSE(far(answer()));
  request.found = at(1, 12.0);
  EXPECT_EQ(answer().found, at(10, 7.0));
  EXPECT_TRUE(far(answer()));
}

/// Small first, in a bright afternoon, at pH 9.7: the table of fish kills (Meyer and Barclay 1990) has a toxic bloom.
TEST_F(CauseOf, SmallFishByDayAtHighAcidityIsABloom) {
  note(20, 12.0, "temp 18");
  note(20, 13.0, "ph 9.7");
  note(20, 13.1, "do 11.0");
  note(20, 13.2, "tan 0.1");
  note(20, 14.0, "20 dead, 55 g each");
  note(20, 16.0, "weighed 20 fish 80 g each");
  const CauseAnswer a = answer();
  EXPECT_EQ(a.causes.front().key, "bloom_poison");
  EXPECT_EQ(named(a, "oxygen").standing, Standing::unlikely);
}

TEST_F(CauseOf, NewWaterFromTheTapIsChlorine) {
  note(19, 18.0, "changed 600 L");
  note(20, 6.0, "do 9.0");
  note(20, 6.5, "12 dead");
  const CauseAnswer a = answer();
  const Cause& chlorine = named(a, "chlorine");
  EXPECT_EQ(chlorine.standing, Standing::part);
  ASSERT_FALSE(chlorine.evidence.empty());
  EXPECT_NE(chlorine.evidence.front().words.find("600 L of new water, 25 % of all"), std::string::npos)
      << chlorine.evidence.front().words;
  EXPECT_EQ(named(a, "oxygen").standing, Standing::unlikely) << "9.0 was read half an hour before";
  note(20, 7.0, "chlorine 0.4 mg/L");
  EXPECT_EQ(named(answer(), "chlorine").standing, Standing::fits);
}

TEST_F(CauseOf, ATreatedChangeSpeaksLessForChlorine) {
  note(19, 17.0, "put thiosulfate into the new water");
  note(19, 18.0, "changed 600 L");
  note(20, 6.5, "12 dead");
  EXPECT_LT(named(answer(), "chlorine").score(), 1);
}

TEST_F(CauseOf, AFewADayWithSoresIsIllness) {
  for (int d = 14; d < 20; ++d) note(d, 8.0, "1 dead");
  note(19, 8.1, "sores on two of them");
  note(20, 8.0, "3 dead");
  EXPECT_EQ(answer().causes.front().key, "illness");
}

TEST_F(CauseOf, DeadLettuceSpeaksForNoIllness) {
  note(17, 8.0, "3 lettuce died");
  note(18, 8.0, "2 lettuce died");
  note(20, 8.0, "4 dead");
  const CauseAnswer a = answer();
  for (const Evidence& e : named(a, "illness").evidence) EXPECT_LT(e.weight, 2) << e.words;
}

TEST_F(CauseOf, ThePowerWasOff) {
  note(20, 22.0, "power off");
  note(21, 6.0, "30 dead");
  const CauseAnswer a = answer();
  EXPECT_EQ(a.causes.front().key, "oxygen");
  EXPECT_EQ(a.causes.front().standing, Standing::fits);
}

TEST_F(CauseOf, NitriteWithBrownGills) {
  note(20, 8.0, "no2 4 as N");
  note(20, 8.1, "6 dead");
  note(20, 8.2, "gills brown gill colour like chocolate");
  EXPECT_EQ(answer().causes.front().key, "nitrite");
}

/// Every piece of evidence that speaks of a number names the entry that it rests on.
TEST_F(CauseOf, WhatRestsOnAReadingNamesIt) {
  note(20, 8.0, "ph 7.2; tan 0.2; no2 0.05 as N; do 8.0; temp 16");
  note(20, 8.5, "kh 4 dKH");
  note(20, 9.5, "3 dead");
  for (const Cause& c : answer().causes)
    for (const Evidence& e : c.evidence)
      if (e.words.find("mg/L") != std::string::npos || e.words.find("degC") != std::string::npos) {
        EXPECT_FALSE(e.rests_on.empty()) << e.words;
      }
}

TEST_F(CauseOf, MoreDeadThanThereWereIsSaid) {
  note(20, 8.0, "70 dead");
  const CauseAnswer a = answer();
  ASSERT_FALSE(a.assumed.empty());
  EXPECT_NE(a.assumed.front().find("more died than"), std::string::npos);
}

}  // namespace
}  // namespace leat::answers
