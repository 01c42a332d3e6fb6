// How sure a run is: what is drawn, how it is summed up, and whether the bands hold what they promise.
#include "answers/bands.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "answers/priors.h"
#include "model/weather/weather.h"
#include "tell/tell.h"
#include "tests/loop_file.h"

namespace leat::answers {
namespace {

const CivilDate kFirst{2026, 4, 10};

model::Weather spring(const model::Loop& loop, int days) {
  return model::assemble_weather(loop.site.place, {}, kFirst, days);
}
AheadRequest request(int days, int members, std::uint64_t seed) {
  AheadRequest r{kFirst, days};
  r.members = members;
  r.seed = seed;
  return r;
}
bool is_drawn(const std::vector<Prior>& priors, std::string_view name) {
  return std::any_of(priors.begin(), priors.end(), [&](const Prior& p) { return p.name == name; });
}

TEST(Draws, TakeOneFromEachStratum) {
  const auto draws = stratified_draws(50, 3, 7);
  for (std::size_t thing = 0; thing < 3; ++thing) {
    std::vector<double> z;
    for (const auto& row : draws) z.push_back(row[thing]);
    std::sort(z.begin(), z.end());
    for (std::size_t i = 0; i < z.size(); ++i) {
      const double share = 0.5 * std::erfc(-z[i] / std::sqrt(2.0));
      EXPECT_GE(share, static_cast<double>(i) / 50.0 - 1e-12);
      EXPECT_LE(share, static_cast<double>(i + 1) / 50.0 + 1e-12);
    }
  }
  EXPECT_EQ(draws, stratified_draws(50, 3, 7));
  EXPECT_NE(draws, stratified_draws(50, 3, 8));
  std::vector<double> first, second;
  for (const auto& row : draws) first.push_back(row[0]), second.push_back(row[1]);
  EXPECT_LT(std::abs(rank_correlation(first, second)), 0.5) << "each thing has an order of its own";
}

/// By hand: 1 - 6 sum d^2 / (n (n^2 - 1)) without ties.
TEST(RankCorrelation, ByHand) {
  EXPECT_DOUBLE_EQ(rank_correlation({1, 2, 3, 4, 5}, {2, 1, 4, 3, 5}), 0.8);
  EXPECT_DOUBLE_EQ(rank_correlation({1, 2, 3, 4}, {0.1, 5, 5.1, 900}), 1.0);
  EXPECT_DOUBLE_EQ(rank_correlation({1, 2, 3, 4}, {4, 3, 2, 1}), -1.0);
  EXPECT_NEAR(rank_correlation({1, 1, 2, 3}, {1, 2, 3, 4}), 0.948683298050514, 1e-12);  // 4.5 / sqrt(4.5 * 5)
  EXPECT_EQ(rank_correlation({1, 1, 1}, {1, 2, 3}), 0.0);
}

TEST(Priors, WhatTheGrowerSaidIsNotDrawn) {
  model::Loop loop = tests::read_loop("examples/smallest/loop.toml");
  const model::Weather weather = spring(loop, 2);
  EXPECT_TRUE(is_drawn(priors_of(loop, weather), "the wind in the yard"));
  std::erase_if(loop.assumptions, [](const model::Assumption& a) { return a.path.ends_with("wind_shelter"); });
  EXPECT_FALSE(is_drawn(priors_of(loop, weather), "the wind in the yard"));
  EXPECT_TRUE(is_drawn(priors_of(loop, weather), "the air of days nobody measured"));
}

TEST(Bands, TheSameSeedGivesTheSameBytesAndTheMiddleRunStaysAsItIs) {
  const model::Loop loop = tests::read_loop("examples/smallest/loop.toml");
  const model::Weather weather = spring(loop, 3);
  const AheadAnswer plain = ahead(loop, weather, request(3, 0, 1)), one = ahead(loop, weather, request(3, 24, 5)),
                    again = ahead(loop, weather, request(3, 24, 5)), other = ahead(loop, weather, request(3, 24, 6));
  EXPECT_FALSE(plain.bands);
  ASSERT_TRUE(one.bands);
  EXPECT_EQ(one.bands->members + one.bands->stopped, 24);
  EXPECT_EQ(tell::ahead_json(one), tell::ahead_json(again));
  EXPECT_NE(tell::ahead_json(one), tell::ahead_json(other));
  EXPECT_EQ(plain.vessels[0].hourly_oxygen, one.vessels[0].hourly_oxygen);
}

TEST(Bands, LieAroundTheMiddleRunAndWidenWithWhatIsNotKnown) {
  const model::Loop loop = tests::read_loop("examples/smallest/loop.toml");
  const AheadAnswer a = ahead(loop, spring(loop, 3), request(3, 40, 1));
  ASSERT_TRUE(a.bands);
  ASSERT_FALSE(a.bands->tanks.empty());
  const TankBands& tank = a.bands->tanks.front();
  for (std::size_t d = 0; d < 3; ++d) {
    EXPECT_LT(tank.temperature_high[d].low, tank.temperature_high[d].high);
    EXPECT_LT(tank.temperature_high[d].low, a.vessels[0].days[d].temperature_high.value);
    EXPECT_GT(tank.temperature_high[d].high, a.vessels[0].days[d].temperature_high.value);
  }
  for (const OwedMost& o : a.bands->owed) {
    EXPECT_LE(o.to.size(), 3u);
    for (std::size_t i = 1; i < o.to.size(); ++i)
      EXPECT_GE(std::abs(o.to[i - 1].correlation), std::abs(o.to[i].correlation));
  }
}

/// Truths drawn from the same ranges by another seed: nine in ten should lie within 5 and 95 %. With 60 truths of four
/// numbers chance alone gives shares from 0.80 to 0.98 (four spreads of a binomial, the numbers going together).
TEST(Bands, HoldNineInTenOfTruths) {
  const model::Loop loop = tests::read_loop("examples/smallest/loop.toml");
  const model::Weather weather = spring(loop, 2);
  const AheadAnswer guess = ahead(loop, weather, request(2, 100, 1));
  ASSERT_TRUE(guess.bands);
  const std::vector<Prior> priors = priors_of(loop, weather);
  const auto truths = stratified_draws(60, priors.size(), 99);
  int held = 0, all = 0;
  for (const auto& draw : truths) {
    model::Loop real = loop;
    model::Weather air = weather;
    for (std::size_t p = 0; p < priors.size(); ++p) priors[p].apply(draw[p], real, air);
    const AheadAnswer truth = ahead(real, air, request(2, 0, 1));
    const TankBands& band = guess.bands->tanks.front();
    const VesselDay& day = truth.vessels[0].days[1];
    const auto within = [&](const Spread& s, double x) {
      ++all;
      held += x >= s.low && x <= s.high;
    };
    within(band.temperature_low[1], day.temperature_low.value);
    within(band.temperature_high[1], day.temperature_high.value);
    within(band.oxygen_low[1], day.oxygen_low.value);
    within(band.ammonia[1], day.ammonia);
  }
  const double share = static_cast<double>(held) / all;
  RecordProperty("share_held", std::to_string(share));
  EXPECT_GT(share, 0.80);
  EXPECT_LT(share, 0.98);
}

}  // namespace
}  // namespace leat::answers
