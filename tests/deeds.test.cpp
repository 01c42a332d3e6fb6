// What a loop file has done within a run: fish moved and graded, algae that die, plants that are cut. The books close
// across each, and what was done can be counted.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>

#include "answers/ahead.h"
#include "science/fish/grading.h"
#include "science/water/substances.h"
#include "tests/steady_days.h"

namespace leat {
namespace {

using namespace model;

/// Two tanks over one sump, and a bed.
const std::string kYard = R"([water]
temperature = "14 degC"
alkalinity = "200 mg/L as CaCO3"
[source.tap]
to = "sump.main"
[tank.a]
volume = "1000 L"
depth = "0.9 m"
floor = "0.5 m"
lid = "board"
[tank.b]
volume = "1000 L"
depth = "0.9 m"
floor = "0.5 m"
lid = "board"
[sump.main]
volume = "400 L"
depth = "0.6 m"
floor = "0 m"
lid = "board"
[raft_bed.one]
length = "2 m"
width = "1 m"
depth = "0.3 m"
floor = "0.7 m"
[pump.main]
[junction.split]
[pipe.rising]
from = "pump.main"
to = "junction.split"
bore = "25 mm"
[pipe.bed]
from = "junction.split"
to = "raft_bed.one"
bore = "25 mm"
[pipe.a]
from = "junction.split"
to = "tank.a"
bore = "25 mm"
[pipe.b]
from = "junction.split"
to = "tank.b"
bore = "25 mm"
[air.a]
to = "tank.a"
flow = "40 L/min"
[air.b]
to = "tank.b"
flow = "40 L/min"
[fish.trout]
in = "tank.a"
count = 60
mass = "80 g"
feed = "60 g/d"
)";

struct Moved : tests::SteadyDays {
  explicit Moved(const std::string& more, int days = 4) : SteadyDays(kYard + more, days, {10.0, 16.0}) {}
  double count(double day, std::size_t g) const { return held(day, layout().fish[g].count); }
  double mass(double day, std::size_t g) const { return held(day, layout().fish[g].biomass); }
};

const std::string kTwenty = R"([fish_move.half]
fish = "fish.trout"
to = "tank.b"
on = "2015-05-09 12:30"
count = 20
)";

TEST(FishMove, TakesFleshAndGutsAlongAndTheBooksClose) {
  const Moved m(kTwenty);  // closes its books at 1e-9, as every run of steady days
  ASSERT_EQ(m.loop.fish.size(), 2u);
  EXPECT_EQ(m.loop.fish[1].path, "fish.half");
  EXPECT_EQ(m.count(1.0, 0), 60.0);
  EXPECT_EQ(m.count(1.0, 1), 0.0);
  EXPECT_EQ(m.mass(1.5, 1), 0.0);
  EXPECT_EQ(m.count(2.0, 0), 40.0);
  EXPECT_EQ(m.count(2.0, 1), 20.0);
  // Any fish of a group are as heavy as their mean.
  EXPECT_NEAR(m.mass(2.0, 1) / 20.0, m.mass(2.0, 0) / 40.0, 1e-3 * m.mass(2.0, 0) / 40.0);
  ASSERT_EQ(m.run.deeds.size(), 1u);
  EXPECT_NE(m.run.deeds[0].words.find("20 of fish.trout"), std::string::npos) << m.run.deeds[0].words;
  // A stated feed goes with the fish: two thirds and one third of it from then on.
  EXPECT_NEAR(m.run.days[2].fed_kg[0], 0.040, 1e-9);
  EXPECT_NEAR(m.run.days[2].fed_kg[1], 0.020, 1e-9);
}

TEST(FishMove, BreathesWhereTheFishAre) {
  const Moved with(kTwenty), without("");
  const auto ammonia = [](const Moved& m, std::size_t v) { return m.body(4.0, v).ammonia.si(); };
  const double before = ammonia(without, 0) - ammonia(without, 1), after = ammonia(with, 0) - ammonia(with, 1);
  EXPECT_GT(before, 0.0);
  EXPECT_LT(after, before);
}

TEST(FishMove, OfFishThatStayTogetherChangesNothingButTheTank) {
  // All of them, into a tank of the same water at the same moment: they grow as they would have.
  const Moved all(R"([fish_move.all]
fish = "fish.trout"
to = "tank.b"
on = "2015-05-09 12:30"
)"),
      none("");
  EXPECT_EQ(all.count(4.0, 0), 0.0);
  EXPECT_EQ(all.mass(4.0, 0), 0.0);
  EXPECT_EQ(all.count(4.0, 1), 60.0);
  EXPECT_NEAR(all.mass(4.0, 1), none.mass(4.0, 0), 1e-3 * none.mass(4.0, 0));
}

TEST(FishMove, GradesBySizeAndGradedFishMayBeMovedAgain) {
  const Moved m(R"([fish_move.large]
fish = "fish.trout"
to = "tank.b"
on = "2015-05-09 12:30"
larger_than = "90 g"
[fish_move.back]
fish = "fish_move.large"
to = "fish.trout"
on = "2015-05-10 12:30"
)");
  const double one = m.mass(36.5 / 24.0 - 1e-9, 0) / 60.0;
  const double above = std::round(60.0 * (1.0 - science::share_below({Mass<>(one), 0.25}, Mass<>(0.090))));
  EXPECT_NEAR(m.count(2.0, 1), above, 1.0);
  EXPECT_GT(m.mass(2.0, 1) / m.count(2.0, 1), 0.090);
  EXPECT_LT(m.mass(2.0, 0) / m.count(2.0, 0), one);
  EXPECT_EQ(m.count(4.0, 0), 60.0);
  EXPECT_EQ(m.count(4.0, 1), 0.0);
}

TEST(FishMove, OutOfTheLoopCountsAsHarvest) {
  const Moved m(R"([fish_move.sold]
fish = "fish.trout"
on = "2015-05-09 12:30"
count = 15
take = "largest"
)");
  EXPECT_EQ(m.count(4.0, 0), 45.0);
  const double taken = m.into(m.layout().outside.harvest_nitrogen, 0.0, 4.0);
  EXPECT_GT(taken, 15.0 * 0.080 * m.layout().matter[0].body_nitrogen);  // the largest are above the mean
  EXPECT_LT(taken, 15.0 * 0.140 * m.layout().matter[0].body_nitrogen);
}

std::string mistakes(const std::string& more) {
  Problems problems;
  make_loop(read_description("[place]\nlatitude = 50\n" + kYard + more, "loop.toml", problems), problems);
  return problems.text();
}

TEST(FishMove, SaysWhatCannotBeDone) {
  const std::string head = "[fish_move.x]\nfish = \"fish.trout\"\n";
  EXPECT_NE(mistakes(head).find("say which day"), std::string::npos);
  EXPECT_NE(mistakes(head + "on = \"soon\"\n").find("a day is wanted"), std::string::npos);
  EXPECT_NE(mistakes(head + "on = 2015-05-09\nto = \"tank.a\"\n").find("already"), std::string::npos);
  EXPECT_NE(mistakes(head + "on = 2015-05-09\nto = \"tank.b\"\ntake = \"largest\"\n").find("needs a count"),
            std::string::npos);
  EXPECT_NE(
      mistakes(head + "on = 2015-05-09\nlarger_than = \"90 g\"\nsmaller_than = \"80 g\"\n").find("no fish is between"),
      std::string::npos);
  EXPECT_NE(mistakes(head + "on = 2015-05-09\nto = \"fish.carp\"\n[fish.carp]\nspecies = \"common carp\"\nin = "
                            "\"tank.b\"\ncount = 3\n")
                .find("let them be a group of their own"),
            std::string::npos);
  EXPECT_NE(mistakes("[fish_move.y]\nfish = \"fish_move.x\"\non = 2015-05-08\nto = \"tank.b\"\n" + head +
                     "on = 2015-05-09\nto = \"tank.b\"\n")
                .find("makes no group before that day"),
            std::string::npos);
}

answers::AheadAnswer ahead_of(const std::string& more, int days = 4) {
  const Loop loop = tests::SteadyDays::loop_of(kYard + more);
  const Weather weather = tests::SteadyDays::same_days(loop.site.place, {2015, 5, 8}, days, {10.0, 16.0});
  return answers::ahead(loop, weather, {{2015, 5, 8}, days, false});
}

const answers::Finding* finding(const answers::AheadAnswer& a, const std::string& statement) {
  for (const answers::Finding& f : a.findings)
    if (f.statement == statement) return &f;
  return nullptr;
}

TEST(FishMove, IntoAnotherWaterIsHeldAgainstWhatFishBear) {
  const answers::AheadAnswer same = ahead_of(kTwenty);
  const answers::Finding* f = finding(same, "moved_fish_meet_a_small_step");
  ASSERT_TRUE(f);
  EXPECT_EQ(f->verdict, answers::Verdict::good) << f->reason;
  EXPECT_LT(f->value, 3.0);
  // A tank of its own, of clear plastic in the sun at noon: far warmer than the loop.
  const std::string alone = R"([tank.sun]
volume = "40 L"
depth = "0.2 m"
wall = "clear_polyethylene"
[fish_move.hot]
fish = "fish.trout"
to = "tank.sun"
on = "2015-05-09 15:00"
count = 5
)";
  const answers::AheadAnswer hot = ahead_of(alone), slow = ahead_of(alone + "tempering = \"8 h\"\n");
  const answers::Finding *bad = finding(hot, "moved_fish_meet_a_small_step"),
                         *good = finding(slow, "moved_fish_meet_a_small_step");
  ASSERT_TRUE(bad && good);
  EXPECT_GT(bad->value, 5.0);
  EXPECT_EQ(bad->verdict, answers::Verdict::bad) << bad->reason;
  EXPECT_NE(bad->action.find("2.5 K an hour"), std::string::npos) << bad->action;
  EXPECT_EQ(good->verdict, answers::Verdict::good) << good->reason;
}

TEST(FishMove, BeforeTheFirstDayIsTakenAsDescribed) {
  const answers::AheadAnswer a =
      ahead_of("[fish_move.past]\nfish = \"fish.trout\"\nto = \"tank.b\"\non = 2015-05-07\n");
  EXPECT_EQ(a.fish[0].counts.back(), 60.0);
  bool told = false;
  for (const Assumption& s : a.assumptions) told = told || s.path == "fish_move.past";
  EXPECT_TRUE(told);
}

const std::string kGreen = R"([loop]
film = "grown"
[algae_death.crash]
on = "2015-05-09 06:00"
share = 0.95
)";

/// A pond that is green and lies open, in its own water.
std::string pond(const std::string& more) {
  return "[water]\ntemperature = \"20 degC\"\nalkalinity = \"150 mg/L as CaCO3\"\nchlorophyll = \"300 ug/L\"\nnitrate "
         "= "
         "\"30 mg/L as N\"\n[tank.pond]\nvolume = \"1000 L\"\ndepth = \"0.9 m\"\n" +
         more;
}

TEST(AlgaeDeath, TurnsAlgaeToSolidsThatTakeOxygenAndGiveAmmonia) {
  const tests::SteadyDays dead(pond(kGreen), 6, {16.0, 24.0}), alive(pond(""), 6, {16.0, 24.0});
  const BodyState<double> before = dead.body(30.0 / 24.0), after = dead.body(31.0 / 24.0);
  EXPECT_LT(after.algae.si(), 0.07 * before.algae.si());
  EXPECT_NEAR((after.solids_carbon - before.solids_carbon).si(), 0.95 * before.algae.si(), 0.02 * before.algae.si());
  // Ammonia that the rotting sets free, and less oxygen by the next night than where they live.
  EXPECT_GT(dead.body(3.0).ammonia.si() + dead.body(3.0).nitrate.si(),
            alive.body(3.0).ammonia.si() + alive.body(3.0).nitrate.si());
  double least_dead = 1e9, least_alive = 1e9;
  for (std::size_t d = 1; d < 6; ++d) {
    least_dead = std::min(least_dead, dead.run.days[d].bodies[0].oxygen.low);
    least_alive = std::min(least_alive, alive.run.days[d].bodies[0].oxygen.low);
  }
  fmt::print("least oxygen, mg/L: {:.1f} after the death, {:.1f} alive\n", 31.998 * least_dead, 31.998 * least_alive);
  EXPECT_NE(dead.run.deeds.at(0).words.find("g of oxygen"), std::string::npos);
}

TEST(Cut, TakesAShareAndTheRestGrowsOn) {
  const std::string greens =
      "[planting.greens]\nin = \"raft_bed.one\"\ncrop = \"chard\"\nplaces = 30\nage = \"30 d\"\n";
  const Moved m(greens + "[cut.first]\nplanting = \"planting.greens\"\non = \"2015-05-09 06:00\"\n", 12);
  const PlantSlots& p = m.layout().plants[0];
  const double before = m.held(30.0 / 24.0, p.dry_mass), after = m.held(31.0 / 24.0, p.dry_mass);
  EXPECT_NEAR(after, 0.67 * before, 0.01 * before);  // table of crops: a third at a time
  EXPECT_GT(m.held(12.0, p.dry_mass), after);
  ASSERT_EQ(m.run.harvests.size(), 1u);
  EXPECT_FALSE(m.run.harvests[0].whole);
  EXPECT_NEAR(m.run.harvests[0].fresh.si() * m.equations.crop(0).dry_share, 0.33 * before, 0.01 * before);
}

TEST(Picking, GoesOnUntilTheLastTimeTakesAll) {
  const std::string greens =
      "[planting.greens]\nin = \"raft_bed.one\"\ncrop = \"rocket\"\nplaces = 100\narea = \"1 m2\"\nage = \"25 d\"\n";
  const Loop loop = tests::SteadyDays::loop_of(kYard + greens),
             whole = tests::SteadyDays::loop_of(kYard + greens + "harvest = \"whole\"\n");
  const int days = 60;
  const Weather weather = tests::SteadyDays::same_days(loop.site.place, {2015, 5, 8}, days, {12.0, 22.0});
  answers::AheadRequest request{{2015, 5, 8}, days, false};
  request.resow = true;
  const answers::AheadAnswer picked = answers::ahead(loop, weather, request),
                             once = answers::ahead(whole, weather, request);
  const auto& cuts = picked.plants[0].harvests;
  ASSERT_GE(cuts.size(), 3u);
  EXPECT_FALSE(cuts[0].whole);
  EXPECT_FALSE(cuts[1].whole);
  EXPECT_TRUE(cuts[2].whole);
  for (const auto& cut : once.plants[0].harvests) EXPECT_TRUE(cut.whole);
  EXPECT_LT(once.plants[0].harvests.size(), cuts.size());
  for (const auto& t : picked.books) EXPECT_LT(std::abs(t.closure), 1e-9) << ledger_name(t.ledger);
}

}  // namespace
}  // namespace leat
