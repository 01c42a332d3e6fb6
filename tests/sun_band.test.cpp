// The share of the sun that nobody said: how far it moves the answer.
#include <gtest/gtest.h>

#include "answers/ahead.h"
#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using namespace model;

constexpr CivilDate kFirst{2015, 6, 30};
constexpr int kDays = 7;

Loop loop_of(const std::string& text) {
  Problems problems;
  Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

const std::string kClear = R"([place]
latitude = 47.45
longitude = -122.3
time_zone = "-08:00"
[tank.main]
volume = "1000 L"
depth = "1 m"
wall = "clear_polyethylene"
)";

answers::AheadAnswer run(const Loop& loop) {
  Problems problems;
  WeatherSources sources;
  sources.daily = read_daily_record(
      tests::slurp(std::string(LEAT_ROOT) + "/examples/weather/seattle-daily-2012-2015.csv"), "seattle", "", problems);
  return answers::ahead(loop, assemble_weather(loop.site.place, sources, kFirst, kDays), {kFirst, kDays});
}

double highest(const answers::AheadAnswer& a) {
  double seen = 0.0;
  for (const auto& day : a.vessels[0].days) seen = std::max(seen, day.temperature_high.value);
  return seen;
}

TEST(SunBand, IsWhatRunsWithTheShareSaidWouldGive) {
  const answers::AheadAnswer assumed = run(loop_of(kClear + "lid = \"clear\"\n"));
  ASSERT_TRUE(assumed.sun_band);
  ASSERT_EQ(assumed.sun_band->assumed_for, std::vector<std::string>{"tank.main"});
  const auto& band = assumed.sun_band->vessels.front();
  for (const answers::AtShare& at : {band.low, band.middle, band.high}) {
    const answers::AheadAnswer said =
        run(loop_of(kClear + "lid = \"clear\"\nsun_through_wall = " + std::to_string(at.share) + "\n"));
    EXPECT_FALSE(said.sun_band);
    EXPECT_NEAR(at.highest, highest(said), 1e-6);
    double swing = 0.0;
    for (const auto& day : said.vessels[0].days) swing += day.swing / kDays;
    EXPECT_NEAR(at.mean_swing, swing, 1e-6);
  }
  EXPECT_EQ(band.low.share, 0.4);
  EXPECT_EQ(band.middle.share, 0.6);
  EXPECT_EQ(band.high.share, 0.8);
  EXPECT_GT(band.middle.highest, band.low.highest + 1.0);
  EXPECT_GT(band.high.highest, band.middle.highest + 1.0);
}

TEST(SunBand, ComesWithAClearLidOnAnOpaqueTankToo) {
  const std::string opaque = "[tank.main]\nvolume = \"1000 L\"\ndepth = \"1 m\"\nlid = \"clear\"\n";
  const answers::AheadAnswer assumed = run(loop_of(opaque));
  ASSERT_TRUE(assumed.sun_band);
  EXPECT_GT(assumed.sun_band->vessels.front().width(), 0.5);
  EXPECT_FALSE(run(loop_of(opaque + "sun_through_wall = 0.7\n")).sun_band);
}

TEST(SunBand, IsLeftOutWhereNoSunGetsThrough) {
  EXPECT_FALSE(run(loop_of("[tank.main]\nvolume = \"1000 L\"\ndepth = \"1 m\"\n")).sun_band);
  EXPECT_FALSE(run(loop_of(kClear + "lid = \"board\"\ncladding = \"foam\"\n")).sun_band);
}

TEST(SunBand, IsToldInOneLineAndInJson) {
  const answers::AheadAnswer a = run(loop_of(kClear));
  const std::string text = tell::ahead_text(a, false);
  const std::size_t at = text.find("Not known: how much sun");
  ASSERT_NE(at, std::string::npos);
  const std::string line = text.substr(at, text.find('\n', at) - at);
  EXPECT_NE(line.find("At 0.4 tank.main would reach "), std::string::npos) << line;
  EXPECT_NE(line.find("at 0.8"), std::string::npos) << line;
  EXPECT_NE(tell::ahead_json(a).find("\"sun_band\""), std::string::npos);
  EXPECT_EQ(tell::ahead_text(run(loop_of(kClear + "sun_through_wall = 0.6\n")), false).find("Not known: how much sun"),
            std::string::npos);
}

}  // namespace
}  // namespace leat
