#include "model/loop/loop.h"

#include <fmt/core.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

namespace leat::model {
namespace {

Loop loop_of(std::string_view text) {
  Problems problems;
  Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

bool assumes(const Loop& loop, std::string_view path) {
  return std::any_of(loop.assumptions.begin(), loop.assumptions.end(),
                     [&](const Assumption& a) { return a.path == path && !a.reason.empty(); });
}

TEST(MakeLoop, AFewLinesMakeAWholeLoopAndEveryGuessIsListed) {
  const Loop loop = loop_of("[tank.a]\n[sump.b]\n[pump.c]\n[fish.d]\ncount = 20\n");
  ASSERT_EQ(loop.vessels.size(), 2u);
  EXPECT_EQ(loop.pipes.size(), 1u);
  EXPECT_EQ(loop.overflows.size(), 1u);
  EXPECT_EQ(loop.sources.size(), 1u);
  for (const char* path :
       {"tank.a.area", "tank.a.depth", "pump.c.shut_off_head", "pump.c.pipe", "tank.a.overflow", "fish.d.mass",
        "fish.d.species", "water.pH", "place.latitude", "limits.dissolved_oxygen_low"})
    EXPECT_TRUE(assumes(loop, path)) << path;
}

TEST(MakeLoop, WhatWasSaidIsNotAssumed) {
  const Loop loop = loop_of(
      "[tank.a]\narea = \"1.1 m2\"\nfloor = \"0.4 m\"\nrim = \"1.4 m\"\nwall = \"steel\"\nwall_thickness = \"1 "
      "mm\"\n[water]\npH = 7.1\n");
  for (const char* path :
       {"tank.a.area", "tank.a.floor", "tank.a.depth", "tank.a.wall", "tank.a.wall_thickness", "water.pH"})
    EXPECT_FALSE(assumes(loop, path)) << path;
  EXPECT_DOUBLE_EQ(loop.vessels[0].area.si(), 1.1);
  EXPECT_DOUBLE_EQ(loop.water.pH, 7.1);
}

TEST(MakeLoop, ShapeFollowsFromWhicheverSizesWereSaid) {
  EXPECT_NEAR(loop_of("[tank.a]\nvolume = \"1000 L\"\ndepth = \"0.8 m\"\n").vessels[0].area.si(), 1.25, 1e-12);
  EXPECT_NEAR(loop_of("[tank.a]\nlength = \"1.2 m\"\nwidth = \"1 m\"\n").vessels[0].area.si(), 1.2, 1e-12);
  EXPECT_NEAR(loop_of("[tank.a]\ndiameter = \"2 m\"\n").vessels[0].area.si(), 3.14159265, 1e-6);
  EXPECT_NEAR(loop_of("[tank.a]\nvolume = \"500 L\"\narea = \"1 m2\"\n").vessels[0].depth().si(), 0.5, 1e-12);
  // Stones leave only their gaps to the water.
  const Vessel bed = loop_of("[gravel_bed.a]\narea = \"2 m2\"\ndepth = \"0.3 m\"\nporosity = 0.4\n").vessels[0];
  EXPECT_NEAR(bed.capacity().si(), 0.24, 1e-12);
}

TEST(MakeLoop, SouthMayBeSaidInWords) {
  EXPECT_DOUBLE_EQ(loop_of("[place]\nlatitude = 37.8\nhemisphere = \"south\"\n[tank.a]\n").site.place.latitude_deg,
                   -37.8);
  EXPECT_DOUBLE_EQ(loop_of("[place]\nlatitude = -37.8\n[tank.a]\n").site.place.latitude_deg, -37.8);
}

TEST(MakeLoop, SouthWithoutALatitudeIsAssumedSouth) {
  const Loop loop = loop_of("[place]\nhemisphere = \"south\"\n[tank.a]\n");
  EXPECT_LT(loop.site.place.latitude_deg, 0.0);
  const auto latitude = std::find_if(loop.assumptions.begin(), loop.assumptions.end(),
                                     [](const Assumption& a) { return a.path == "place.latitude"; });
  ASSERT_NE(latitude, loop.assumptions.end());
  EXPECT_EQ(latitude->value, fmt::format("{:g}", loop.site.place.latitude_deg));
}

TEST(MakeLoop, AZoneAloneSetsTheSunByItsMeridian) {
  const Loop loop = loop_of("[place]\ntime_zone = \"America/Los_Angeles\"\n[tank.a]\n");
  EXPECT_DOUBLE_EQ(loop.site.place.longitude_deg, -120.0);
  EXPECT_TRUE(assumes(loop, "place.longitude"));
  EXPECT_TRUE(assumes(loop_of("[place]\nlongitude = 14\n[tank.a]\n"), "place.time_zone"));
  // A logger's clock and the far west of a wide zone are no mistakes.
  loop_of("[place]\nlongitude = -122\ntime_zone = \"UTC\"\n[tank.a]\n");
  loop_of("[place]\nlongitude = 75.9\ntime_zone = \"Asia/Shanghai\"\n[tank.a]\n");
  loop_of("[place]\nlongitude = -157.4\ntime_zone = \"Pacific/Kiritimati\"\n[tank.a]\n");
}

TEST(MakeLoop, GroundIsAsWarmAsTheAirOfTheYear) {
  const Loop loop = loop_of("[place]\nlatitude = -38\naltitude = \"400 m\"\n[tank.a]\n");
  EXPECT_NEAR(loop.site.ground.celsius(), zonal_air(loop.site.place).mean.celsius(), 0.25);
  EXPECT_TRUE(assumes(loop, "place.ground_temperature"));
  EXPECT_DOUBLE_EQ(loop_of("[place]\nground_temperature = \"9 degC\"\n[tank.a]\n").site.ground.celsius(), 9.0);
}

TEST(MakeLoop, APumpInATankFeedsTheBedAndNotItsOwnTank) {
  const Loop loop = loop_of("[tank.a]\n[raft_bed.b]\n[pump.c]\nin = \"tank.a\"\n");
  ASSERT_EQ(loop.pipes.size(), 1u);
  EXPECT_EQ(loop.pipes[0].to.index, loop.vessel_index("raft_bed.b"));
}

TEST(MakeLoop, AssumedPartsHaveNamesOfTheirOwn) {
  const Loop loop = loop_of(
      "[tank.a]\n[tank.b]\n[sump.s]\n[pump.c]\n[pump.d]\n[pipe.assumed]\nfrom = \"sump.s\"\nto = "
      "\"tank.b\"\n");
  std::set<std::string> paths;
  for (const Pipe& p : loop.pipes) EXPECT_TRUE(paths.insert(p.path).second) << p.path;
  for (const Overflow& o : loop.overflows) EXPECT_TRUE(paths.insert(o.path).second) << o.path;
  EXPECT_EQ(paths.size(), 5u);
}

TEST(MakeLoop, AShallowVesselStillHasItsRimInside) {
  const Loop loop = loop_of("[raft_bed.a]\ndepth = \"8 cm\"\n[sump.s]\n[overflow.o]\nfrom = \"raft_bed.a\"\n");
  EXPECT_GT(loop.overflows[0].rim, loop.vessels[0].floor);
  EXPECT_LT(loop.overflows[0].rim, loop.vessels[0].rim);
}

TEST(MakeLoop, AReturnPipeSaidByItsLengthAloneIsAsWideAsItsStandpipe) {
  const Loop loop =
      loop_of("[tank.a]\n[sump.s]\n[overflow.o]\nfrom = \"tank.a\"\nstandpipe_bore = \"68.5 mm\"\nlength = \"3 m\"\n");
  ASSERT_TRUE(loop.overflows[0].back);
  EXPECT_DOUBLE_EQ(loop.overflows[0].back->bore.si(), 0.0685);
  EXPECT_TRUE(assumes(loop, "overflow.o.bore"));
}

TEST(MakeLoop, ReadingsKeepTheirBasis) {
  const Loop n = loop_of("[tank.a]\n[water]\nnitrate = \"10 mg/L as N\"\nalkalinity = \"50.04 mg/L as CaCO3\"\n");
  const Loop ion = loop_of("[tank.a]\n[water]\nnitrate = \"44.27 mg/L as NO3\"\n");
  EXPECT_NEAR(n.water.nitrate.si(), 10.0 / 14.007, 1e-3);
  EXPECT_NEAR(ion.water.nitrate.si(), n.water.nitrate.si(), 1e-3);
  EXPECT_NEAR(n.water.alkalinity.si(), 1.0, 1e-3);
}

}  // namespace
}  // namespace leat::model
