// What a loop carries: each limit moves the way it must.
#include "answers/carry.h"

#include <algorithm>

#include "answers/ahead.h"
#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class Carry : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  CivilDate first{2014, 1, 1};
  model::Weather weather = model::assemble_weather(loop.site.place, {}, first, 364);

  /// The example as it stands: a year takes seconds, so it is run once.
  const CarryAnswer& as_it_stands() const {
    static const CarryAnswer a = carry(loop, weather, first);
    return a;
  }

  static double limit(const CarryWeek& week, const std::string& name) {
    for (const CarryLimit& l : week.limits)
      if (l.name == name) return l.kg;
    return -1.0;
  }
};

TEST_F(Carry, AYearOfWeeksEachWithItsLeastLimitFirst) {
  const CarryAnswer& a = as_it_stands();
  ASSERT_EQ(a.weeks.size(), 52u);
  for (const CarryWeek& w : a.weeks) {
    EXPECT_LE(w.limits[0].kg, w.limits[1].kg);
    EXPECT_GE(w.limits[0].kg, a.all_year_kg);
  }
}

TEST_F(Carry, WarmWaterCarriesFewerByOxygen) {
  const CarryAnswer& a = as_it_stands();
  for (std::size_t i = 0; i < a.weeks.size(); ++i)
    for (std::size_t j = 0; j < a.weeks.size(); ++j)
      if (a.weeks[i].water.celsius() > a.weeks[j].water.celsius() + 0.5) {
        EXPECT_LT(limit(a.weeks[i], "oxygen"), limit(a.weeks[j], "oxygen"));
      }
}

TEST_F(Carry, TwiceTheFilmCarriesTwiceAsManyByFilm) {
  const double before = limit(as_it_stands().weeks[20], "film");
  for (model::Vessel& v : loop.vessels) v.film_area = 2.0 * v.film_area;
  EXPECT_NEAR(limit(carry(loop, weather, first).weeks[20], "film"), 2.0 * before, 1e-9 * before);
}

TEST_F(Carry, AnAirLineMoreCarriesMoreByOxygen) {
  const double before = limit(as_it_stands().weeks[20], "oxygen");
  loop.airs.push_back(loop.airs.front());
  EXPECT_GT(limit(carry(loop, weather, first).weeks[20], "oxygen"), before);
}

TEST_F(Carry, WithoutFishTroutAreTakenAndThatIsSaid) {
  loop.fish.clear();
  const CarryAnswer a = carry(loop, weather, first);
  EXPECT_EQ(a.species, "rainbow trout");
  EXPECT_NE(a.assumed.front().find("no fish are described"), std::string::npos);
}

/// The water is the loop's own, not the air: a tank in the ground swings less than the air over the year, and the
/// weeks' temperatures are those of a run of the same loop.
TEST_F(Carry, TakesTheWaterOfTheLoopNotTheAir) {
  const CarryAnswer& a = as_it_stands();
  EXPECT_EQ(a.weeks_of_air, 0);
  const AheadAnswer run = ahead(loop, weather, {first, 28, false});
  for (std::size_t w = 0; w < 4; ++w) {
    double sum = 0.0, warmest = 0.0;
    for (std::size_t d = 7 * w; d < 7 * w + 7; ++d) {
      const VesselDay& day = run.vessels[static_cast<std::size_t>(loop.fish[0].vessel)].days[d];
      sum += 0.5 * (day.temperature_low.value + day.temperature_high.value);
      warmest = std::max(warmest, day.temperature_high.value);
    }
    EXPECT_NEAR(a.weeks[w].water.kelvin(), sum / 7.0, 0.15) << w;  // feed and fish change what they change
    EXPECT_NEAR(a.weeks[w].warmest.kelvin(), warmest, 0.3) << w;
  }
  const auto range = [&](auto&& of) {
    double low = 1e9, high = -1e9;
    for (const CarryWeek& w : a.weeks) low = std::min(low, of(w)), high = std::max(high, of(w));
    return high - low;
  };
  EXPECT_GT(range([](const CarryWeek& w) { return w.water.celsius(); }), 5.0);
  model::Loop buried = loop;
  for (model::Vessel& v : buried.vessels) v.buried = 0.9 * v.depth(), v.lid = model::Lid::foam, v.cover = 1.0;
  const CarryAnswer deep = carry(buried, weather, first);
  double swing = 0.0, deep_swing = 0.0;
  for (std::size_t w = 0; w < 52; ++w) {
    swing = std::max(swing, a.weeks[w].warmest.kelvin() - a.weeks[w].water.kelvin());
    deep_swing = std::max(deep_swing, deep.weeks[w].warmest.kelvin() - deep.weeks[w].water.kelvin());
  }
  EXPECT_LT(deep_swing, swing);
}

/// What kills trout was found in days, so an hour above it is told and does not empty the loop.
TEST_F(Carry, IsEmptiedByAWeekThatKillsAndTellsOfAnHour) {
  CarryAnswer a = as_it_stands();
  ASSERT_TRUE(a.kills_above);
  for (const CarryWeek& w : a.weeks) EXPECT_EQ(limit(w, "warmth") == 0.0, w.water > *a.kills_above);
  for (const double hour : {24.0, 26.0}) {
    for (CarryWeek& w : a.weeks) w.warmest = Temperature<>::from_celsius(hour);
    EXPECT_EQ(tell::carry_text(a).find("Its warmest hour") != std::string::npos, hour > 25.0) << hour;
  }
}

}  // namespace
}  // namespace leat::answers
