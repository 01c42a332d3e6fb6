#include <gtest/gtest.h>

#include "model/loop/loop.h"

namespace leat::model {
namespace {

constexpr const char* kNow = R"([tank.a]
area = "1 m2"
floor = "0.50 m"
rim = "1.50 m"
[sump.s]
area = "1 m2"
floor = "0 m"
rim = "0.6 m"
level = "0.4 m"
[pump.p]
in = "sump.s"
dry_run_level = "0.1 m"
[pipe.up]
from = "pump.p"
to = "tank.a"
bore = "27 mm"
outlet_level = "1.45 m"
[overflow.a]
from = "tank.a"
to = "sump.s"
rim = "1.20 m"
)";

struct Outcome {
  Loop loop;
  Description description;
  std::string said;
};

Outcome patch(const std::string& text) {
  Problems problems;
  const Description now = read_description(kNow, "now.toml", problems);
  Outcome o;
  o.description = patched(now, text, "plan.toml", problems);
  o.loop = make_loop(o.description, problems);
  o.said = problems.text();
  return o;
}

TEST(Patch, ReplacesKeysAndAddsParts) {
  const Outcome o = patch("[plan]\n[pipe.up]\nbore = \"34 mm\"\n[air.stone]\nto = \"tank.a\"\nflow = \"10 L/min\"\n");
  EXPECT_EQ(o.said, "");
  EXPECT_NEAR(o.loop.pipes[0].run.bore.si(), 0.034, 1e-12);
  EXPECT_NEAR(o.loop.pipes[0].outlet_level->si(), 1.45, 1e-12);
  EXPECT_EQ(o.loop.airs.size(), 1u);
}

TEST(Patch, MovesAVesselWithAllThatHangsOnIt) {
  const Outcome o = patch("[plan]\nmove = [\"tank.a 0.20 m\"]\n");
  EXPECT_EQ(o.said, "");
  EXPECT_NEAR(o.loop.vessels[0].floor.si(), 0.70, 1e-12);
  EXPECT_NEAR(o.loop.vessels[0].rim.si(), 1.70, 1e-12);
  EXPECT_NEAR(o.loop.overflows[0].rim.si(), 1.40, 1e-12);
  EXPECT_NEAR(o.loop.pipes[0].outlet_level->si(), 1.65, 1e-12);
  EXPECT_NEAR(o.loop.pumps[0].dry_run_level.si(), 0.1, 1e-12);
}

TEST(Patch, RemovesAPartAndTellsWhatStillPointsToIt) {
  EXPECT_EQ(patch("[plan]\nremove = [\"overflow.a\"]\n").description.find("overflow.a"), nullptr);
  const Outcome o = patch("[plan]\nremove = [\"sump.s\"]\n");
  EXPECT_NE(o.said.find("plan.toml:2:10 plan.remove: takes out \"sump.s\", but pump.p.in still points to it "
                        "(now.toml:11); take out pump.p too, or give it another \"in\""),
            std::string::npos)
      << o.said;
}

TEST(Patch, MistakesNameTheFileTheyStandIn) {
  const Outcome o =
      patch("[plan]\nremove = [\"tank.b\"]\nmove = [\"tank.a\", \"pump.p 1 m\"]\n[pipe.up]\nbore = \"34 L\"\n");
  EXPECT_NE(o.said.find("plan.toml:2:10 plan.remove: \"tank.b\" is not in the loop; did you mean \"tank.a\"?"),
            std::string::npos)
      << o.said;
  EXPECT_NE(o.said.find("plan.toml:3:8 plan.move: \"tank.a\" does not say how far up"), std::string::npos) << o.said;
  EXPECT_NE(o.said.find("\"pump.p\" is no vessel"), std::string::npos) << o.said;
  EXPECT_NE(o.said.find("plan.toml:5:8 pipe.up.bore"), std::string::npos) << o.said;
}

TEST(Patch, AWrongHeightOfThePatchIsToldAtItsOwnPlace) {
  const Outcome o = patch("[plan]\n[overflow.a]\nrim = \"1.9 m\"\n");
  EXPECT_NE(o.said.find("plan.toml:3:7 overflow.a.rim"), std::string::npos) << o.said;
}

TEST(Patch, MovesTheFloatValveThatFillsAVessel) {
  const Outcome o = patch("[plan]\nmove = [\"sump.s -0.10 m\"]\n[source.tap]\nto = \"sump.s\"\n");
  EXPECT_EQ(o.said, "");
  Problems problems;
  const std::string with_tap = std::string(kNow) + "[source.tap]\nto = \"sump.s\"\nlevel = \"0.30 m\"\n";
  const Description now = read_description(with_tap, "now.toml", problems);
  const Description moved = patched(now, "[plan]\nmove = [\"sump.s -0.10 m\"]\n", "plan.toml", problems);
  EXPECT_NEAR(moved.find("source.tap")->find("level")->number, 0.20, 1e-12);
  EXPECT_NEAR(moved.find("sump.s")->find("level")->number, 0.30, 1e-12);
  EXPECT_NEAR(moved.find("pump.p")->find("dry_run_level")->number, 0.0, 1e-12);
  EXPECT_NEAR(moved.find("pipe.up")->find("outlet_level")->number, 1.45, 1e-12);
}

TEST(Patch, AMistakeMadeByAMoveIsThePatchs) {
  const Outcome o = patch("[plan]\nmove = [\"sump.s 0.20 m\"]\n[sump.s]\nfloor = \"0 m\"\nlevel = \"0.9 m\"\n");
  EXPECT_NE(o.said.find("plan.toml:5:9 sump.s.level"), std::string::npos) << o.said;
  const Outcome far = patch("[plan]\nmove = [\"tank.a 500 m\"]\n");
  EXPECT_NE(far.said.find("does not say how far up, 20 m at most"), std::string::npos) << far.said;
  Problems problems;
  const Description now = read_description("[tank.a]\n[sump.s]\n", "now.toml", problems);
  patched(now, "[plan]\nmove = [\"tank.a 0.2 m\"]\n", "plan.toml", problems);
  EXPECT_NE(problems.text().find("plan.toml:2:8 plan.move: tank.a says neither floor nor rim"), std::string::npos)
      << problems.text();
}

TEST(Patch, CopiesAVesselWithItsPipesAndOutlets) {
  // What is taken out may be described anew: so a key is taken away.
  const Outcome o = patch(
      "[plan]\ncopy = [\"tank.a as tank.b\"]\nremove = [\"pipe.up\", \"pipe.b\"]\n[junction.y]\n"
      "[pipe.up]\nfrom = \"pump.p\"\nto = \"junction.y\"\n"
      "[pipe.a]\nfrom = \"junction.y\"\nto = \"tank.a\"\n[pipe.b]\nfrom = \"junction.y\"\nto = \"tank.b\"\n");
  EXPECT_EQ(o.said, "");
  ASSERT_EQ(o.loop.vessels.size(), 3u);
  EXPECT_NEAR(o.loop.vessels[static_cast<std::size_t>(o.loop.vessel_index("tank.b"))].rim.si(), 1.50, 1e-12);
  ASSERT_EQ(o.loop.overflows.size(), 2u);
  EXPECT_EQ(o.loop.overflows[1].path, "overflow.b");
  EXPECT_EQ(o.loop.overflows[1].from, o.loop.vessel_index("tank.b"));
}

TEST(Patch, ACopiedPipeTakesOverItsSizesAndWhatIsSaidOfItComesOnTop) {
  const Outcome o = patch("[plan]\ncopy = [\"tank.a as tank.b\"]\n[pipe.b]\nlength = \"9 m\"\n");
  const Component* pipe = o.description.find("pipe.b");
  ASSERT_TRUE(pipe);
  EXPECT_EQ(pipe->find("to")->text, "tank.b");
  EXPECT_EQ(pipe->find("bore")->text, "27 mm");
  EXPECT_EQ(pipe->find("length")->text, "9 m");
}

TEST(Patch, AWrongCopyIsToldWithAnExample) {
  const Outcome o = patch(
      "[plan]\ncopy = [\"tank.a\", \"tank.c as tank.b\", \"tank.a as sump.b\", \"tank.a as tank.a\", \"pump.p as "
      "pump.q\"]\n");
  for (const char* said :
       {"\"tank.a\" does not say under which name; write for example \"tank.a as tank.a_2\"",
        "\"tank.c\" is not in the loop; did you mean \"tank.a\"?", "\"sump.b\" is no name for a copy",
        "\"tank.a\" is there already", "\"pump.p\" is no vessel"})
    EXPECT_NE(o.said.find(said), std::string::npos) << said << '\n' << o.said;
  // A copied pipe would be the pump's second.
  EXPECT_NE(patch("[plan]\ncopy = [\"tank.a as tank.b\"]\n").said.find("pump.p: feeds more than one pipe"),
            std::string::npos);
}

TEST(Patch, APlanThatLacksItsHeadingIsToldSo) {
  Problems ignored;
  const Description now = read_description(kNow, "now.toml", ignored);
  for (const char* text :
       {"[pipe.up]\nbore = \"34 mm\"\n", "[tank.b]\narea = \"1 m2\"\n[pipe.b]\nfrom = \"sump.s\"\nto = \"tank.b\"\n"}) {
    Problems problems;
    read_plan(now, text, "plan.toml", problems);
    EXPECT_EQ(problems.size(), 1u);
    EXPECT_NE(problems.text().find("plan.toml:1:1: holds only a part of a loop; if it is what changes in now.toml"),
              std::string::npos)
        << problems.text();
  }
  Problems problems;
  read_plan(now, kNow, "plan.toml", problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  read_plan(now, "remove = [\"pipe.up\"]\n", "plan.toml", problems);
  EXPECT_NE(problems.text().find("it belongs under a heading [plan]"), std::string::npos) << problems.text();
}

TEST(Patch, WhatPointsToNothingNamesBothFiles) {
  const Outcome o = patch("[plan]\n[pipe.up]\nto = \"tank.z\"\n");
  EXPECT_NE(o.said.find("plan.toml:3:6 pipe.up.to: \"tank.z\" is described neither here nor in now.toml"),
            std::string::npos)
      << o.said;
}

TEST(Patch, IsKnownByItsHeading) {
  EXPECT_TRUE(is_patch("[plan]\n"));
  EXPECT_FALSE(is_patch(kNow));
  Problems problems;
  read_description("[plan]\n[tank.a]\narea = \"1 m2\"\n", "loop.toml", problems);
  EXPECT_NE(problems.text().find("belongs into a patch"), std::string::npos);
}

}  // namespace
}  // namespace leat::model
