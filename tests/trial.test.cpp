// leat trial by the front door where there are several beds, cycles, chapters and fish.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <random>

#include "answers/trial.h"
#include "science/statistics/mixed_model.h"
#include "tests/yard.h"

namespace leat {
namespace {

using nlohmann::json;
using tests::holds;

class ManyBeds : public ::testing::Test {
 protected:
  tests::Yard yard{"tests/stories/many-beds.toml"};

  void note(const std::string& phrase) {
    const auto printed = yard.note(phrase, "2026-12-01 09:00");
    ASSERT_EQ(printed.code, 0) << printed.text;
    ASSERT_FALSE(holds(printed.text, "kept as words")) << printed.text;
  }
  /// Planted on a day, cut on another, a row of weights.
  void grew(const std::string& bed, const std::string& planted, const std::string& cut, const std::string& row) {
    const auto n = std::count(row.begin(), row.end(), ' ') + 1;
    note(fmt::format("{} planted {} chard in {}", planted, n, bed));
    note(fmt::format("{} harvested chard {} g in {}", cut, row, bed));
  }
  json answer(const std::string& flags = "") {
    const auto printed = yard.leat("trial --json --now 2026-12-01 " + flags);
    EXPECT_EQ(printed.code, 0) << printed.text;
    return json::parse(printed.text);
  }
  std::string told(const std::string& flags = "") {
    return tests::unbroken(yard.leat("trial --now 2026-12-01 " + flags).text);
  }
  void six_beds() {
    grew("raft_bed.a", "2026-05-01", "2026-06-12", "123 131 118 128");
    grew("raft_bed.b", "2026-05-01", "2026-06-12", "140 129 151 136");
    grew("raft_bed.c", "2026-05-02", "2026-06-12", "150 158 143 149");
    grew("gravel_bed.d", "2026-05-01", "2026-06-12", "101 112 95 108");
    grew("gravel_bed.e", "2026-05-03", "2026-06-12", "99 90 104 95");
    grew("gravel_bed.f", "2026-05-01", "2026-06-12", "118 109 121 116");
  }
};

/// 3 against 3 beds can never give less than 0.10, however many plants stand in them.
TEST_F(ManyBeds, BedsAreDealtNotPlants) {
  six_beds();
  const json c = answer().at("trials").at(0).at("compared").at(0);
  EXPECT_EQ(c.at("dealt"), "beds");
  EXPECT_EQ(c.at("count_first").get<double>(), 3.0);
  EXPECT_NEAR(c.at("p").get<double>(), 0.10, 1e-9);
  EXPECT_NEAR(c.at("p_smallest").get<double>(), 0.10, 1e-9);
  // Means of beds: 125, 139, 150 against 104, 97, 116.
  EXPECT_NEAR(c.at("mass_difference").get<double>(), (125.0 + 139.0 + 150.0 - 104.0 - 97.0 - 116.0) / 3.0, 1e-6);
  EXPECT_NEAR(c.at("mass_difference_mixed").get<double>(), c.at("mass_difference").get<double>(), 1e-6);
  EXPECT_GT(c.at("mass_spread_beds").get<double>(), 0.0);
  EXPECT_TRUE(holds(told(), "so few can never give less than 0.10")) << told();
  EXPECT_FALSE(holds(told(), "everything of one treatment stands in one bed")) << told();
}

/// What died on the day of the harvest died among all that stood, whatever the hour at which it was noted.
TEST_F(ManyBeds, ADeathOnTheDayOfTheHarvestIsOneOfAll) {
  note("2026-05-01 planted 10 chard in raft_bed.a");
  note("2026-05-01 planted 10 chard in gravel_bed.d");
  note("2026-06-12 08:00 harvested chard 120 121 122 123 124 125 126 127 128 g in raft_bed.a");
  note("2026-06-12 08:00 harvested chard 120 121 122 123 124 125 126 127 128 129 g in gravel_bed.d");
  note("2026-06-12 09:00 1 chard died in raft_bed.a");
  EXPECT_TRUE(holds(told(), "raft bed 90 % from day 42 to 42")) << told();
}

/// Heavier plants, as much a place: each of the two sentences has its own verdict.
TEST_F(ManyBeds, WhatIsMoreThanChanceIsToldApartFromWhatMayBe) {
  note("2026-05-01 planted 9 chard in raft_bed.a");
  note("2026-05-01 planted 7 chard in gravel_bed.d");
  note("2026-06-12 2 chard died in raft_bed.a");
  note("2026-06-12 harvested chard 138 142 146 151 155 149 144 g in raft_bed.a");
  note("2026-06-12 harvested chard 108 111 114 117 120 123 126 g in gravel_bed.d");
  EXPECT_TRUE(holds(told(),
                    "What a living plant weighs is more than chance, what a place gave may be chance; but with "
                    "one bed each the trial cannot tell raft bed from where its bed stands."))
      << told();
}

TEST_F(ManyBeds, WhatIsTakenOfManyEntriesIsToldOnce) {
  note("2026-05-01 planted 3 chard in raft_bed.a");
  note("2026-06-12 harvested chard 120 121 122 123 124 g in raft_bed.a");
  note("2026-06-13 planted 5 chard in raft_bed.a");
  note("2026-06-14 2 chard died");
  EXPECT_TRUE(holds(told(),
                    "entries 6, 7, the first of 2026-06-12: no chard stood "
                    "in raft_bed.a that could be harvested; left out"))
      << told();
  EXPECT_TRUE(holds(told(), "2 died in raft_bed.a")) << told();
}

TEST_F(ManyBeds, TreatmentsMayBeNamed) {
  six_beds();
  const json t = answer("--treatment 'lagged: raft_bed.a, gravel_bed.d' --treatment 'bare: raft_bed.b, gravel_bed.e'")
                     .at("trials")
                     .at(0);
  EXPECT_EQ(t.at("stands").size(), 4u);
  EXPECT_EQ(t.at("compared").at(0).at("first"), "lagged");
  EXPECT_EQ(t.at("compared").at(0).at("second"), "bare");
  EXPECT_EQ(yard.leat("trial --treatment lagged").code, 2);
  EXPECT_EQ(yard.leat("trial --treatment 'lagged: shed'").code, 2);
  EXPECT_EQ(yard.leat("trial --wanted much").code, 2);
}

TEST_F(ManyBeds, ManyComparisonsAskForMore) {
  six_beds();
  const std::string flags =
      "--treatment 'x: raft_bed.a, gravel_bed.d' --treatment 'y: raft_bed.b, gravel_bed.e' --treatment 'z: raft_bed.c, "
      "gravel_bed.f'";
  EXPECT_TRUE(holds(told(flags), "3 treatments are 3 comparisons")) << told(flags);
  EXPECT_TRUE(holds(told(flags), "take only a p below 0.017")) << told(flags);
}

/// One bed each, three cycles: the difference of each cycle is flipped, and the bed is still one bed.
TEST_F(ManyBeds, CyclesAreBlocks) {
  grew("raft_bed.a", "2026-03-01", "2026-04-12", "110 120 130");
  grew("gravel_bed.d", "2026-03-01", "2026-04-12", "100 105 110");
  grew("raft_bed.a", "2026-05-01", "2026-06-12", "150 160");
  grew("gravel_bed.d", "2026-05-01", "2026-06-12", "140 130");
  grew("raft_bed.a", "2026-07-01", "2026-08-12", "90 100");
  grew("gravel_bed.d", "2026-07-03", "2026-08-12", "85 85");
  const json c = answer().at("trials").at(0).at("compared").at(0);
  EXPECT_EQ(c.at("dealt"), "cycles");
  EXPECT_NEAR(c.at("mass_difference").get<double>(), (15.0 + 20.0 + 10.0) / 3.0, 1e-9);
  EXPECT_NEAR(c.at("p").get<double>(), 0.25, 1e-12);
  EXPECT_TRUE(holds(told(), "everything of one treatment stands in one bed")) << told();
}

TEST_F(ManyBeds, ChaptersAreNeverPooled) {
  grew("raft_bed.a", "2026-03-01", "2026-04-12", "110 120 130");
  grew("gravel_bed.d", "2026-03-01", "2026-04-12", "100 105 110");
  note("2026-05-10 replumbed: raft after the gravel beds");
  grew("raft_bed.a", "2026-05-15", "2026-06-20", "150 160");
  grew("gravel_bed.d", "2026-05-15", "2026-06-20", "140 130");
  grew("raft_bed.b", "2026-05-01", "2026-06-20", "120 110");
  const json all = answer();
  ASSERT_EQ(all.at("trials").size(), 2u);
  EXPECT_EQ(all.at("trials").at(0).at("chapter"), 1);
  EXPECT_EQ(all.at("trials").at(1).at("chapter"), 2);
  EXPECT_EQ(all.at("trials").at(1).at("stands").size(), 2u);
  // What stood while the plumbing changed grew in two loops, and that is said.
  EXPECT_TRUE(holds(told(), "the loop was re-plumbed while these plants stood")) << told();
  EXPECT_TRUE(holds(told(), "re-plumbed: raft after the gravel beds (entry")) << told();
}

/// Two of ten die on day 10; four are cut on day 20; one of the four left dies on day 30: 0.8 x 3/4.
TEST_F(ManyBeds, PlantsThatWereCutEarlyLeaveAlive) {
  note("2026-05-01 planted 10 chard in raft_bed.a; 2026-05-11 2 chard died in raft_bed.a");
  note("2026-05-21 harvested chard 50 51 52 53 g in raft_bed.a; 2026-05-31 1 chard died in raft_bed.a");
  const json steps = answer().at("trials").at(0).at("lived").at(0).at("by_day");
  ASSERT_EQ(steps.size(), 2u);
  EXPECT_NEAR(steps.at(0).at("share_alive").get<double>(), 80.0, 1e-9);
  EXPECT_NEAR(steps.at(1).at("share_alive").get<double>(), 60.0, 1e-9);
  EXPECT_EQ(steps.at(1).at("count_at_risk").get<double>(), 4.0);
}

TEST_F(ManyBeds, GrowthIsStraightOnTheLogarithm) {
  note("2026-05-01 planted 4 chard in raft_bed.a");
  for (int week = 1; week <= 3; ++week)
    note(fmt::format("2026-05-{:02} weighed 4 chard {:.1f} g each in raft_bed.a", 1 + 7 * week,
                     10.0 * std::exp(0.08 * 7.0 * week)));
  const json g = answer().at("trials").at(0).at("growth").at(0);
  EXPECT_NEAR(g.at("share_a_day").get<double>(), 8.0, 0.05);
  EXPECT_EQ(g.at("points").size(), 3u);
  EXPECT_TRUE(g.contains("share_a_day_low"));
}

/// The next stand of a bed grows anew: two weighings of 10 and 20 g a week apart in each are 9.9 % a day in both.
TEST_F(ManyBeds, EachStandGrowsAnew) {
  for (const char* month : {"05", "07"}) {
    note(
        fmt::format("2026-{0}-01 planted 4 chard in raft_bed.a; 2026-{0}-08 weighed 4 chard 10 g each in raft_bed.a; "
                    "2026-{0}-15 weighed 4 chard 20 g each in raft_bed.a; 2026-{0}-16 4 chard died in raft_bed.a",
                    month));
  }
  const json g = answer().at("trials").at(0).at("growth");
  ASSERT_EQ(g.size(), 2u);
  for (const json& one : g) EXPECT_NEAR(one.at("share_a_day").get<double>(), 100.0 * std::log(2.0) / 7.0, 0.05);
}

/// 71.4 to 294.1 g in 186 days is 0.761 % a day (a published trial, recomputed); at 11 degC that is a thermal growth
/// coefficient of 1000 (294.1^(1/3) - 71.4^(1/3)) / (11 x 186).
TEST_F(ManyBeds, FishGrowthAndSurvival) {
  note("2026-03-01 08:00 stocked 60 trout; 2026-03-01 08:00 weighed 20 trout 71.4 g each");
  std::string warmth;
  for (int day = 0; day < 186; ++day) {
    const CivilDate date = CivilDate{2026, 3, 1}.plus_days(day);
    warmth += fmt::format("{1} 08:00 temp min 10 max 12 since {0} 08:00; ", date.text(), date.plus_days(1).text());
  }
  note(warmth);
  note("2026-04-01 3 dead; 2026-09-03 08:00 weighed 20 trout 294.1 g each");
  const json f = answer().at("fish").at(0);
  EXPECT_NEAR(f.at("share_growth_a_day").get<double>(), 0.761, 0.001);
  EXPECT_NEAR(f.at("thermal_growth_per_1000").get<double>(),
              1000.0 * (std::cbrt(294.1) - std::cbrt(71.4)) / (11.0 * 186.0), 0.002);
  EXPECT_NEAR(f.at("by_day").at(0).at("share_alive").get<double>(), 95.0, 1e-9);
  // Garwood 1936: 3 counted may be 8.767 expected; Clopper and Pearson for 3 of 60.
  EXPECT_NEAR(f.at("count_died_high").get<double>(), 8.767, 0.001);
  EXPECT_LT(f.at("share_died_low").get<double>(), 5.0);
  EXPECT_GT(f.at("share_died_high").get<double>(), 5.0);
}

TEST_F(ManyBeds, FishOfTheLoopFileWhereNoneWereStocked) {
  note("2026-04-01 3 dead");
  EXPECT_EQ(answer().at("fish").at(0).at("count_came").get<double>(), 60.0);
  EXPECT_TRUE(holds(told(), "60 fish from the loop file, since no stocking is noted")) << told();
}

/// Leaves cut again and again: 300 and 240 g from six places are 90 g a place.
TEST_F(ManyBeds, CutAndComeAgain) {
  note("2026-05-01 planted 6 chard in raft_bed.a; 2026-06-01 harvested 300 g chard from raft_bed.a");
  note("2026-06-15 harvested 240 g chard from raft_bed.a");
  EXPECT_NEAR(answer().at("trials").at(0).at("stands").at(0).at("mass_cut").get<double>(), 540.0, 1e-6);
  EXPECT_TRUE(holds(told(), "6 6 - - 90.0")) << told();
  EXPECT_TRUE(holds(told(), "540 g were cut from plants that stood on")) << told();
}

TEST_F(ManyBeds, NothingPlantedIsSaid) {
  note("fed 60 g");
  EXPECT_TRUE(holds(told(), "No plantings are in the record. Begin with: leat note")) << told();
  EXPECT_TRUE(holds(told("--crop kale"), "No kale was planted")) << told("--crop kale");
}

/// Whatever is noted, every plant is in a mean or is left out with a reason, and none is in both.
TEST(TrialBooks, EveryPlantIsAccountedFor) {
  std::mt19937_64 random(21);
  const auto below = [&](std::uint64_t n) { return random() % n; };
  for (int season = 0; season < 300; ++season) {
    record::Context context;
    context.now = 300ll * 86'400'000;
    std::vector<record::Entry> entries;
    for (int i = 0; i < 40; ++i) {
      static const char* const kWhat[] = {"planted",   "planted",   "died",   "substituted",
                                          "harvested", "harvested", "chapter"};
      record::Entry e;
      e.number = i + 1;
      e.what = kWhat[below(7)];
      e.kind = e.what == "chapter" ? record::Kind::chapter : record::Kind::deed;
      e.from = e.to = static_cast<record::Moment>(below(200)) * 86'400'000;
      e.where = below(2) ? "raft_bed.a" : "gravel_bed.b";
      e.subject = below(9) ? "chard" : "substitute chard";
      e.count = static_cast<double>(1 + below(6));
      if (e.what == "harvested" && below(8)) e.amount = {20.0 + static_cast<double>(below(90)), {}, "g", "each", false};
      if (e.amount.low) e.amount.high = e.amount.low;
      entries.push_back(e);
    }
    const answers::TrialAnswer a = answers::trial(entries, context, {});
    double counted = 0.0, in_means = 0.0, out = 0.0, places = 0.0, originals = 0.0;
    for (const answers::Trial& t : a.trials) {
      for (const answers::Stand& s : t.stands) {
        in_means += static_cast<double>(s.survivors.size());
        places += s.places;
        EXPECT_LE(s.survivors.size(), s.places_grams.size());
        EXPECT_GE(s.alive(), 0.0);
      }
      for (const answers::Exclusion& e : t.excluded) {
        out += e.count;
        EXPECT_FALSE(e.reason.empty());
        EXPECT_FALSE(e.entries.empty());
      }
    }
    for (const answers::Plant& p : a.plants) {
      counted += 1.0;
      originals += p.substitute ? 0.0 : 1.0;
    }
    EXPECT_EQ(in_means + out, counted) << season;
    EXPECT_GE(places, originals) << season;
  }
}

}  // namespace
}  // namespace leat
