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

/// What is assumed for a path, or "" if nothing is.
std::string assumed(const Loop& loop, std::string_view path) {
  for (const Assumption& a : loop.assumptions)
    if (a.path == path) return a.value;
  return {};
}

TEST(MakeLoop, AFullDescriptionLeavesLittleToAssume) {
  const Loop loop = loop_of(R"(
[tank.a]
area = "1.1 m2"
floor = "0.4 m"
rim = "1.4 m"
level = "1.2 m"
wall = "steel"
wall_thickness = "1 mm"
cladding = "foam"
cladding_thickness = "40 mm"
cladding_share = 0.5
lid = "board"
lid_thickness = "15 mm"
cover = 0.7
buried = "0.2 m"
shade = 0.1
film_area = "5 m2"
[sump.b]
[pump.c]
in = "sump.b"
curve = [["0 L/h", "4 m"], ["3000 L/h", "2 m"]]
power = "40 W"
check_valve = false
stopped_loss = 3.0
dry_run_level = "0.1 m"
[pipe.up]
from = "pump.c"
to = "tank.a"
bore = "27 mm"
length = "3 m"
fittings = ["entry", "2 x elbow", "exit"]
outlet_level = "1.45 m"
[overflow.out]
from = "tank.a"
to = "sump.b"
rim = "1.2 m"
standpipe_bore = "68 mm"
rim_coefficient = 1.7
vented = true
[fish.d]
in = "tank.a"
species = "rainbow trout"
count = 20
mass = "80 g"
feed = "15 g/d"
feed_protein = 0.45
meals = ["17:00", "8:30"]
)");
  for (const std::string_view part : {"tank.a.", "pump.c.", "pipe.up.", "overflow.out.", "fish.d."})
    for (const Assumption& a : loop.assumptions) EXPECT_FALSE(a.path.starts_with(part)) << a.path;
  EXPECT_NEAR(loop.pipes[0].run.minor_losses.si(), 0.5 + 2 * 0.9 + 1.0, 1e-12);
  EXPECT_EQ(loop.fish[0].meals, (std::vector<double>{8.5, 17.0}));
  EXPECT_NEAR(loop.pumps[0].curve.head(Flow<>(3.0 / 3600.0)).si(), 2.0, 1e-9);
}

TEST(MakeLoop, UnitsOfOneKindSayTheSame) {
  const double metres = loop_of("[tank.a]\ndepth = \"0.9144 m\"\n").vessels[0].depth().si();
  EXPECT_NEAR(loop_of("[tank.a]\ndepth = \"3 ft\"\n").vessels[0].depth().si(), metres, 1e-12);
  EXPECT_NEAR(loop_of("[tank.a]\ndepth = \"91.44 cm\"\n").vessels[0].depth().si(), metres, 1e-12);
  EXPECT_NEAR(loop_of("[tank.a]\n[water]\ntemperature = \"50 degF\"\n").water.temperature.celsius(), 10.0, 1e-9);
}

TEST(MakeLoop, VolumeWithAnOutlineSetsTheDepth) {
  EXPECT_NEAR(loop_of("[tank.a]\nvolume = \"600 L\"\nlength = \"1.2 m\"\nwidth = \"1 m\"\n").vessels[0].depth().si(),
              0.5, 1e-12);
  EXPECT_NEAR(loop_of("[tank.a]\nvolume = \"785.4 L\"\ndiameter = \"1 m\"\n").vessels[0].depth().si(), 1.0, 1e-4);
}

TEST(MakeLoop, AVolumeThatNearlyFitsIsNotChangedInSilence) {
  const Loop loop = loop_of("[tank.a]\nvolume = \"1000 L\"\narea = \"1.1 m2\"\ndepth = \"1 m\"\n");
  EXPECT_EQ(assumed(loop, "tank.a.volume"), "1100 L");
  EXPECT_EQ(assumed(loop_of("[tank.a]\nvolume = \"1100 L\"\narea = \"1.1 m2\"\ndepth = \"1 m\"\n"), "tank.a.volume"),
            "");
}

TEST(MakeLoop, ALevelThatFollowsFromNothingIsAssumed) {
  EXPECT_EQ(assumed(loop_of("[tank.a]\n[sump.b]\n"), "sump.b.level"), "0.36 m");
  // With an amount of water the levels follow from it.
  EXPECT_EQ(assumed(loop_of("[loop]\nwater = \"900 L\"\n[tank.a]\n[sump.b]\n"), "sump.b.level"), "");
}

TEST(MakeLoop, AnOverflowWithoutARimStandsAtTheLevel) {
  const Loop loop = loop_of("[tank.a]\nlevel = \"1.25 m\"\n[sump.b]\n[overflow.out]\nfrom = \"tank.a\"\n");
  EXPECT_NEAR(loop.overflows[0].rim.si(), 1.25, 1e-12);
}

TEST(MakeLoop, ShallowVesselsGetFittingsThatFit) {
  const Loop loop = loop_of(
      "[tank.a]\ndepth = \"60 mm\"\narea = \"1 m2\"\n[sump.b]\ndepth = \"80 mm\"\n[pump.c]\n[air.stone]\nto = "
      "\"tank.a\"\n");
  const Vessel &tank = loop.vessels[0], &sump = loop.vessels[1];
  EXPECT_GT(loop.overflows[0].rim, tank.floor);
  EXPECT_LT(loop.overflows[0].rim, tank.rim);
  EXPECT_LT(loop.pumps[0].dry_run_level, sump.floor + 0.5 * sump.depth());
  EXPECT_LT(loop.airs[0].depth, tank.depth());
}

TEST(MakeLoop, EveryPumpIsGivenSomethingToFeed) {
  const Loop two = loop_of("[tank.a]\n[tank.b]\n[pump.c]\nin = \"tank.a\"\n[pump.d]\nin = \"tank.b\"\n");
  ASSERT_EQ(two.pipes.size(), 2u);
  EXPECT_EQ(two.pipes[0].to.index, 1);
  EXPECT_EQ(two.pipes[1].to.index, 0);
  EXPECT_NE(two.pipes[0].path, two.pipes[1].path);
  EXPECT_EQ(loop_of("[raft_bed.a]\n[sump.b]\n[pump.c]\n").pipes.size(), 1u);
}

TEST(MakeLoop, APipeThatStartsTooLowEndsUnderWater) {
  const Loop loop = loop_of("[tank.a]\n[tank.b]\n[pipe.level]\nfrom = \"tank.a\"\nto = \"tank.b\"\n");
  EXPECT_FALSE(loop.pipes[0].outlet_level.has_value());
  EXPECT_EQ(assumed(loop, "pipe.level.outlet_level"), "under water");
}

TEST(MakeLoop, LimitsAreThoseOfTheFish) {
  EXPECT_NEAR(loop_of("[tank.a]\n[fish.b]\ncount = 20\n").limits.temperature_high.celsius(), 18.0, 1e-9);
  const Loop warm = loop_of("[tank.a]\n[fish.b]\ncount = 20\nspecies = \"Nile tilapia\"\n");
  EXPECT_GT(warm.limits.temperature_high.celsius(), 30.0);
  EXPECT_GT(warm.limits.temperature_low.celsius(), 12.0);
  EXPECT_LT(warm.limits.oxygen_low.si() * 31.998, 6.0);
  const Loop both = loop_of("[tank.a]\n[fish.b]\ncount = 9\nspecies = \"koi\"\n[fish.c]\ncount = 9\n");
  EXPECT_LE(both.limits.temperature_high.celsius(), 18.0);
}

TEST(MakeLoop, PlantsTakeTheRoomOfTheirKindAndNoMoreThanTheirBed) {
  const std::string bed = "[raft_bed.a]\narea = \"2.4 m2\"\n[planting.b]\nin = \"raft_bed.a\"\n";
  EXPECT_NEAR(loop_of(bed + "places = 22\n").plantings[0].area.si(), 1.0, 1e-12);
  EXPECT_NEAR(loop_of(bed + "places = 4\ncrop = \"tomato\"\n").plantings[0].area.si(), 1.0, 1e-12);
  EXPECT_NEAR(loop_of(bed + "places = 200\n").plantings[0].area.si(), 2.4, 1e-12);
}

TEST(MakeLoop, AReadingOfNoOxygenIsKept) {
  EXPECT_NEAR(loop_of("[tank.a]\n[water]\ndissolved_oxygen = \"0 mg/L\"\n").water.dissolved_oxygen.si(), 1e-6, 1e-9);
}

TEST(MakeLoop, OneWrongValueIsToldOnce) {
  for (const char* text :
       {"[tank.a]\n[fish.b]\ncount = \"many\"\n", "[tank.a]\nvolume = \"900\"\ndepth = \"9 m\"\n",
        "[tank.a]\n[sump.b]\n[pump.c]\nin = \"sump.d\"\n", "[tank.a]\n[fish.b]\ncuont = 20\n",
        "[tank.a]\n[planting.b]\nin = \"bed.c\"\nplaces = 20\n", "[barrel.a]\n[fish.b]\ncount = 2\n"}) {
    Problems problems;
    make_loop(read_description(text, "loop.toml", problems), problems);
    EXPECT_EQ(problems.size(), 1u) << text << problems.text();
  }
}

}  // namespace
}  // namespace leat::model
