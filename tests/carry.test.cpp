// What a loop carries: each limit moves the way it must.
#include "answers/carry.h"

#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class Carry : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  CivilDate first{2014, 1, 1};
  model::Weather weather = model::assemble_weather(loop.site.place, {}, first, 364);

  static double limit(const CarryWeek& week, const std::string& name) {
    for (const CarryLimit& l : week.limits)
      if (l.name == name) return l.kg;
    return -1.0;
  }
};

TEST_F(Carry, AYearOfWeeksEachWithItsLeastLimitFirst) {
  const CarryAnswer a = carry(loop, weather, first);
  ASSERT_EQ(a.weeks.size(), 52u);
  for (const CarryWeek& w : a.weeks) {
    EXPECT_LE(w.limits[0].kg, w.limits[1].kg);
    EXPECT_GE(w.limits[0].kg, a.all_year_kg);
  }
}

TEST_F(Carry, WarmWaterCarriesFewerByOxygen) {
  const CarryAnswer a = carry(loop, weather, first);
  for (std::size_t i = 0; i < a.weeks.size(); ++i)
    for (std::size_t j = 0; j < a.weeks.size(); ++j)
      if (a.weeks[i].water.celsius() > a.weeks[j].water.celsius() + 0.5) {
        EXPECT_LT(limit(a.weeks[i], "oxygen"), limit(a.weeks[j], "oxygen"));
      }
}

TEST_F(Carry, TwiceTheFilmCarriesTwiceAsManyByFilm) {
  const double before = limit(carry(loop, weather, first).weeks[20], "film");
  for (model::Vessel& v : loop.vessels) v.film_area = 2.0 * v.film_area;
  EXPECT_NEAR(limit(carry(loop, weather, first).weeks[20], "film"), 2.0 * before, 1e-9 * before);
}

TEST_F(Carry, AnAirLineMoreCarriesMoreByOxygen) {
  const double before = limit(carry(loop, weather, first).weeks[20], "oxygen");
  loop.airs.push_back(loop.airs.front());
  EXPECT_GT(limit(carry(loop, weather, first).weeks[20], "oxygen"), before);
}

TEST_F(Carry, WithoutFishTroutAreTakenAndThatIsSaid) {
  loop.fish.clear();
  const CarryAnswer a = carry(loop, weather, first);
  EXPECT_EQ(a.species, "rainbow trout");
  EXPECT_NE(a.assumed.front().find("no fish are described"), std::string::npos);
}

}  // namespace
}  // namespace leat::answers
