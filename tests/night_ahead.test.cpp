// The coming night by the model alone.
#include "answers/night_ahead.h"

#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class NightAhead : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  CivilDate evening{2026, 7, 20};
  model::Weather weather = model::assemble_weather(loop.site.place, {}, evening, 2);
};

TEST_F(NightAhead, TakesItsLowestFromTheHoursOfTheRun) {
  const NightAheadAnswer a = night_ahead(loop, weather, evening);
  const AheadAnswer run = ahead(loop, weather, {evening, 2, false});
  ASSERT_EQ(a.tanks.size(), 1u);
  EXPECT_GT(a.sunset_hour, 20.0);  // July at 47 degrees north
  EXPECT_LT(a.sunrise_hour, 6.0);
  double lowest = 1e9;
  for (std::size_t h = 21; h <= 30; ++h) lowest = std::min(lowest, run.vessels[0].hourly_oxygen[h]);
  EXPECT_DOUBLE_EQ(a.tanks[0].lowest, lowest);
  EXPECT_LE(a.tanks[0].lowest, a.tanks[0].dusk + 1e-3);
}

TEST_F(NightAhead, MoreFishHaveLessOxygen) {
  const double few = night_ahead(loop, weather, evening).tanks[0].lowest;
  loop.fish[0].count *= 1.5;
  EXPECT_LT(night_ahead(loop, weather, evening).tanks[0].lowest, few);
}

TEST_F(NightAhead, SaysWhyThereIsNoAnswer) {
  std::erase_if(loop.fish, [](const model::FishGroup&) { return true; });
  for (model::Vessel& v : loop.vessels)
    if (v.kind == model::VesselKind::tank) v.kind = model::VesselKind::sump;
  const NightAheadAnswer a = night_ahead(loop, weather, evening);
  EXPECT_TRUE(a.tanks.empty());
  EXPECT_FALSE(a.said.empty());
}

}  // namespace
}  // namespace leat::answers
