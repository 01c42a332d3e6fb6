// Today's loop against a plan: the verdict, what is another, and what it takes.
#include "answers/compare.h"

#include <algorithm>

#include "tests/loop_file.h"

namespace leat::answers {
namespace {

struct Loops {
  model::Description now_text, plan_text;
  model::Loop now, plan;
};

Loops loops(const std::string& now_file, const std::string& patch) {
  Problems problems;
  Loops l;
  l.now_text = model::read_description(tests::slurp(std::string(LEAT_ROOT) + "/" + now_file), "now.toml", problems);
  l.plan_text = model::read_plan(l.now_text, patch, "plan.toml", problems);
  l.now = model::make_loop(l.now_text, problems);
  l.plan = model::make_loop(l.plan_text, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return l;
}

CompareAnswer compared(const Loops& l, int days = 1) {
  const CivilDate first{2026, 7, 1};
  const model::Weather weather = model::assemble_weather(l.now.site.place, {}, first, days);
  return compare({l.now_text, l.now}, {l.plan_text, l.plan}, weather, {first, days});
}

const std::string kYard = "tests/stories/tollgate-now.toml", kBeds = "examples/five-beds/loop.toml";

double to_get(const Bill& bill, const std::string& what) {
  for (const BillItem& item : bill.items)
    if (item.what == what) return item.to_get();
  return 0.0;
}

Bill bill(const std::string& patch) {
  const Loops l = loops(kBeds, patch);
  return bill_of({l.now_text, l.now}, {l.plan_text, l.plan});
}

TEST(Compare, TheYardsPlanIsANoAndSaysWhichTwoThingsFailAnew) {
  const CompareAnswer a =
      compared(loops(kYard, tests::slurp(std::string(LEAT_ROOT) + "/tests/stories/tollgate-patch.toml")));
  EXPECT_EQ(a.verdict, Verdict::bad);
  EXPECT_TRUE(a.whole);
  const auto change = [&](const std::string& statement, const std::string& path) {
    const auto c = std::find_if(a.checks.begin(), a.checks.end(),
                                [&](const CheckChange& x) { return x.statement == statement && x.path == path; });
    EXPECT_NE(c, a.checks.end()) << statement;
    return c->what;
  };
  EXPECT_EQ(change("fill_window_is_open", "sump.main"), CheckChange::What::worse);
  EXPECT_EQ(change("tank_turns_over_often_enough", "tank.b"), CheckChange::What::added);
  EXPECT_EQ(change("bed_drains_before_its_next_flood", "drain_hole.g1"), CheckChange::What::better);
  // The days are judged too: their findings stand behind those of the plumbing.
  EXPECT_GT(a.plan_findings.size(), a.plan.findings.size());
}

TEST(Compare, DifferencesSubtractAndHaveNoOtherSideWhereAPartIsNew) {
  const CompareAnswer a =
      compared(loops(kYard, tests::slurp(std::string(LEAT_ROOT) + "/tests/stories/tollgate-patch.toml")));
  const auto find = [&](const std::string& path, const std::string& what) -> const Difference* {
    for (const Difference& d : a.differences)
      if (d.path == path && d.what == what) return &d;
    return nullptr;
  };
  const Difference* flow = find("pipe.g3", "flow");
  ASSERT_TRUE(flow);
  EXPECT_FALSE(flow->now);
  EXPECT_NEAR(*flow->plan * 3.6e6, 1756.0, 0.03 * 1756.0);
  const Difference* tank = find("tank.b", "flow in");
  ASSERT_TRUE(tank);
  EXPECT_FALSE(tank->now);
  EXPECT_NEAR(*tank->plan * 3.6e6, 939.0, 0.03 * 939.0);
  const Difference* half = find("tank.a", "flow in");
  ASSERT_TRUE(half);
  EXPECT_LT(*half->plan, 0.6 * *half->now);
}

TEST(Compare, TheSameLoopDiffersInNothing) {
  const CompareAnswer a = compared(loops(kYard, "[plan]\n"));
  EXPECT_TRUE(a.differences.empty());
  EXPECT_TRUE(a.checks.empty());
  EXPECT_TRUE(a.parts.empty());
  EXPECT_TRUE(a.bill.items.empty());
  EXPECT_EQ(a.water_now.si(), a.water_plan.si());
  for (const std::string& reason : a.reasons) EXPECT_TRUE(reason.ends_with("(as now)")) << reason;
}

/// One weather serves both sides, so both stand at its place, whatever the plan's file says.
TEST(Compare, APlanOfAnotherPlaceRunsWhereTodaysLoopStands) {
  Loops l = loops("examples/smallest/loop.toml", tests::slurp(std::string(LEAT_ROOT) + "/examples/smallest/loop.toml"));
  const CompareAnswer same = compared(l);
  EXPECT_TRUE(same.assumed.empty());
  l.plan.site.place.clock = Clock::fixed(l.now.site.place.clock.standard_offset_hours(2026) + 10.0, "east");
  l.plan.site.place.longitude_deg += 150.0;
  const CompareAnswer moved = compared(l);
  EXPECT_TRUE(moved.plan_ahead.finished) << moved.plan_ahead.said;
  EXPECT_EQ(moved.assumed.size(), 1u);
  EXPECT_TRUE(moved.differences.empty());
  EXPECT_EQ(moved.plan_ahead.vessels[0].days[0].temperature_low.value,
            same.plan_ahead.vessels[0].days[0].temperature_low.value);
}

TEST(Compare, TheDaysAreJudgedAsWellAsThePlumbing) {
  // Nothing of this plumbing fails; a hot first of July breaks the limits of its fish.
  const CompareAnswer a = compared(loops(kBeds, "[plan]\n"));
  const auto fails = [](const Finding& f) { return f.verdict == Verdict::bad; };
  EXPECT_TRUE(std::none_of(a.plan.findings.begin(), a.plan.findings.end(), fails));
  EXPECT_TRUE(std::any_of(a.plan_ahead.findings.begin(), a.plan_ahead.findings.end(), fails));
  EXPECT_EQ(a.verdict, Verdict::bad);
}

TEST(Bill, CountsMetresFittingsHolesAndVessels) {
  const Bill b = bill("[plan]\ncopy = [\"gravel_bed.two as gravel_bed.five\"]\n");
  EXPECT_NEAR(to_get(b, "pipe, 27.2 mm"), 5.0, 1e-9);
  EXPECT_NEAR(to_get(b, "elbow on 27.2 mm pipe"), 2.0, 1e-9);
  EXPECT_NEAR(to_get(b, "gravel bed, 1.20 m2, 300 mm deep"), 1.0, 1e-9);
  EXPECT_NEAR(to_get(b, "drain hole to drill, 16 mm"), 1.0, 1e-9);
  EXPECT_NEAR(to_get(b, "standpipe, 68.5 mm"), 1.0, 1e-9);
  EXPECT_NEAR(to_get(b, "bulkhead fitting for a pipe, 68.5 mm"), 1.0, 1e-9);
}

TEST(Bill, ANewBoreTakesNewPipeAndLeavesTheOld) {
  const Bill b = bill("[plan]\n[pipe.tank]\nbore = \"40 mm\"\n");
  EXPECT_NEAR(to_get(b, "pipe, 40 mm"), 4.5, 1e-9);
  EXPECT_NEAR(to_get(b, "pipe, 34.0 mm"), -4.5, 1e-9);
  EXPECT_NEAR(to_get(b, "elbow on 40 mm pipe"), 3.0, 1e-9);
}

TEST(Bill, WhatBecomesFreeIsUsedAgainButNoHole) {
  // A bed of the same sizes in place of another, on a shorter pipe: only holes and the difference in pipe remain.
  const Bill b = bill(
      "[plan]\ncopy = [\"gravel_bed.two as gravel_bed.five\"]\nremove = [\"gravel_bed.two\", \"pipe.two\", "
      "\"drain_hole.two\", \"overflow.two\"]\n[pipe.five]\nlength = \"3 m\"\n");
  EXPECT_NEAR(to_get(b, "gravel bed, 1.20 m2, 300 mm deep"), 0.0, 1e-9);
  EXPECT_NEAR(to_get(b, "pipe, 27.2 mm"), -2.0, 1e-9);
  EXPECT_NEAR(to_get(b, "bulkhead fitting for a pipe, 68.5 mm"), 0.0, 1e-9);
  EXPECT_NEAR(to_get(b, "drain hole to drill, 16 mm"), 1.0, 1e-9);
}

TEST(Bill, ALiftedTankTakesNothing) {
  EXPECT_TRUE(bill("[plan]\nmove = [\"tank.trout 0.10 m\"]\n").items.empty());
}

TEST(Bill, AnotherWayOfWritingASizeTakesNothing) {
  EXPECT_TRUE(bill("[plan]\n[pipe.tank]\nbore = \"0.034 m\"\n").items.empty());
}

TEST(Bill, TellsWhatItCannotCount) {
  const Bill b = bill("[plan]\n[air.second]\nto = \"tank.trout\"\n");
  ASSERT_EQ(b.not_counted.size(), 1u);
  EXPECT_EQ(b.not_counted[0], "air.second: flow not said");
}

}  // namespace
}  // namespace leat::answers
