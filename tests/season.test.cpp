// A season over several years of weather: counts are those of the single years, deeds keep the books closed.
#include "answers/season.h"

#include <cmath>

#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

class Season : public ::testing::Test {
 protected:
  model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  SeasonRequest request{{2026, 3, 10}, 35};
  std::vector<model::Weather> years = weathers(3);
  Season() { request.drawn = false; }

  std::vector<model::Weather> weathers(int count) const {
    std::vector<model::Weather> all;
    for (int y = 0; y < count; ++y) {
      model::WeatherSources sources;
      sources.seed = static_cast<std::uint64_t>(y + 1);
      all.push_back(model::assemble_weather(loop.site.place, sources, request.first, request.days));
    }
    return all;
  }
};

TEST_F(Season, IsTheSameEveryTimeAndCountsTheSingleYears) {
  const SeasonAnswer a = season(loop, years, request), b = season(loop, years, request);
  EXPECT_EQ(tell::season_json(a), tell::season_json(b));
  ASSERT_EQ(a.years, 3);
  ASSERT_EQ(a.weeks.size(), 5u);
  // The warmest water of the first week, by hand from single runs.
  double warmest = 0.0, coolest = 1e9;
  for (const model::Weather& w : years) {
    const AheadAnswer one =
        ahead(loop, w, {request.first, request.days, false, 1.5 * loop.limits.alkalinity_low, true});
    double high = 0.0;
    for (std::size_t d = 0; d < 7; ++d) high = std::max(high, one.vessels[0].days[d].temperature_high.value);
    warmest = std::max(warmest, high);
    coolest = std::min(coolest, high);
  }
  EXPECT_GE(a.warmest[0].low, coolest);
  EXPECT_LE(a.warmest[0].high, warmest);
  EXPECT_GE(a.warmest[0].high, a.warmest[0].middle);
  EXPECT_GE(a.warmest[0].middle, a.warmest[0].low);
}

TEST_F(Season, WhatNobodyKnowsIsDrawnBesideTheWeather) {
  const SeasonAnswer alone = season(loop, weathers(8), request);
  request.drawn = true;
  const SeasonAnswer drawn = season(loop, weathers(8), request), again = season(loop, weathers(8), request);
  EXPECT_EQ(tell::season_json(drawn), tell::season_json(again));
  EXPECT_TRUE(alone.how.drawn.empty());
  EXPECT_GE(drawn.how.drawn.size(), 5u);
  for (const Drawn& d : drawn.how.drawn) EXPECT_FALSE(d.name.starts_with("the air of days")) << "the years have it";
  const auto width = [](const SeasonAnswer& a) { return a.fish[0].mass_at_end.high - a.fish[0].mass_at_end.low; };
  EXPECT_GT(width(drawn), width(alone));
}

TEST_F(Season, DeedsKeepTheBooksClosed) {
  request.days = 70;
  const AheadAnswer one =
      ahead(loop, weathers(1)[0], {request.first, request.days, false, 1.5 * loop.limits.alkalinity_low, true});
  ASSERT_TRUE(one.finished) << one.said;
  for (const LedgerTable& t : one.books) EXPECT_LT(std::abs(t.closure), 1e-9) << ledger_name(t.ledger);
  int cut = 0;
  for (const PlantsAhead& p : one.plants) cut += static_cast<int>(p.harvests.size());
  EXPECT_GE(cut, 1);
}

TEST_F(Season, DosedBaseKeepsTheAlkalinityAboveItsLimit) {
  const auto breaks = [&](bool dosed) {
    SeasonRequest r = request;
    r.base_dosed = dosed;
    const SeasonAnswer a = season(loop, years, r);
    EXPECT_EQ(a.bill.bicarbonate.middle > 0.0, dosed);
    for (const SeasonRisk& risk : a.risks)
      if (risk.statement == "alkalinity_stays_above_need") return risk.years;
    return 0;
  };
  EXPECT_EQ(breaks(true), 0);
  EXPECT_EQ(breaks(false), 3);
}

TEST_F(Season, CountsWhatIsPriced) {
  loop.prices = {"EUR", 0.5, std::nullopt, std::nullopt};
  const SeasonAnswer a = season(loop, {years[0], years[1]}, request);
  EXPECT_TRUE(a.bill.priced);
  EXPECT_NEAR(a.bill.cost.middle, 0.5 * a.bill.energy / 3.6e6, 1e-9);
}

TEST_F(Season, FishReachASizeTheyHaveAlreadyOnTheFirstDay) {
  request.size = Mass<>(0.05);
  const SeasonAnswer a = season(loop, {years[0]}, request);
  ASSERT_EQ(a.fish.size(), 1u);
  EXPECT_EQ(a.fish[0].reaches_size.years, 1);
  EXPECT_EQ(a.fish[0].reaches_size.early.text(), request.first.plus_days(1).text());
}

}  // namespace
}  // namespace leat::answers
