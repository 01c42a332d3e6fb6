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
  EXPECT_NE(o.said.find("now.toml:11:6 pump.p.in: \"sump.s\" is not described"), std::string::npos) << o.said;
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

TEST(Patch, IsKnownByItsHeading) {
  EXPECT_TRUE(is_patch("[plan]\n"));
  EXPECT_FALSE(is_patch(kNow));
  Problems problems;
  read_description("[plan]\n[tank.a]\narea = \"1 m2\"\n", "loop.toml", problems);
  EXPECT_NE(problems.text().find("belongs into a patch"), std::string::npos);
}

}  // namespace
}  // namespace leat::model
