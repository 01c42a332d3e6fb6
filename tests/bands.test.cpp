// How sure a run is: what is drawn, how it is summed up, and whether the bands hold what they promise.
#include "answers/bands.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "answers/ahead_run.h"
#include "answers/priors.h"
#include "answers/running_water.h"
#include "model/weather/weather.h"
#include "science/statistics/ranks.h"
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
  EXPECT_LT(std::abs(science::rank_correlation(first, second)), 0.5) << "each thing has an order of its own";
}

TEST(Priors, WhatTheGrowerSaidIsNotDrawn) {
  model::Loop loop = tests::read_loop("examples/smallest/loop.toml");
  const model::Weather weather = spring(loop, 2);
  EXPECT_TRUE(is_drawn(priors_of(loop, weather), "the wind in the yard"));
  std::erase_if(loop.assumptions, [](const model::Assumption& a) { return a.path.ends_with("wind_shelter"); });
  EXPECT_FALSE(is_drawn(priors_of(loop, weather), "the wind in the yard"));
  EXPECT_TRUE(is_drawn(priors_of(loop, weather), "the air of days nobody measured"));
}

std::vector<double> column(const std::vector<std::vector<double>>& draws, std::size_t thing) {
  std::vector<double> z;
  for (const auto& row : draws) z.push_back(row[thing]);
  return z;
}
std::vector<double> sorted(std::vector<double> z) {
  std::sort(z.begin(), z.end());
  return z;
}

/// What is drawn of each thing alone stays as it was, in the order of members where nothing goes with it; pairs that go
/// together reach the rank correlation that is told of them, from which that of the scores strays by 0.25 over the root
/// of the number (one standard deviation; simulated apart).
TEST(Priors, GoTogetherAsIsToldAndStayAloneWhatTheyWere) {
  model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  loop.assumptions.push_back({"site.wind_shelter", "", "as if nobody had said it"});
  std::vector<Prior> all;
  for (const unsigned question : {asked::days, asked::months, asked::still_tank, asked::stock})
    for (const Prior& p : priors_of(loop, spring(loop, 2), question))
      if (!is_drawn(all, p.name)) all.push_back(p);
  const auto column_of = [&](const std::string& name) {
    return std::find_if(all.begin(), all.end(), [&](const Prior& p) { return p.name == name; })->column;
  };
  const std::vector<DrawnTogether> pairs = drawn_together(all);
  ASSERT_EQ(pairs.size(), 6u) << "a name of a pair is that of no thing";
  for (const std::size_t members : {20u, 100u, 1000u}) {
    const auto draws = draws_of_priors(members, 4), alone = stratified_draws(members, things_not_known(), 4);
    for (std::size_t thing = 0; thing < things_not_known(); ++thing) {
      EXPECT_EQ(sorted(column(draws, thing)), sorted(column(alone, thing)));
      const auto tied = [&](const DrawnTogether& p) {
        return column_of(p.one) == thing || column_of(p.other) == thing;
      };
      if (std::none_of(pairs.begin(), pairs.end(), tied)) {
        EXPECT_EQ(column(draws, thing), column(alone, thing));
      }
    }
    for (const DrawnTogether& p : pairs)
      EXPECT_NEAR(science::rank_correlation(column(draws, column_of(p.one)), column(draws, column_of(p.other))),
                  p.correlation, 0.9 / std::sqrt(static_cast<double>(members)))
          << p.one << " and " << p.other << " of " << members;
    EXPECT_EQ(draws, draws_of_priors(members, 4));
    EXPECT_NE(draws, draws_of_priors(members, 5));
  }
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

/// A thousand truths drawn from the same ranges by another seed, on a loop with fish, gravel and rafts: nine in ten lie
/// within 5 and 95 %. By chance, of a thousand truths and of as many members, a share is good to 0.015.
TEST(Bands, HoldNineInTenOfAThousandTruths) {
  constexpr int kDays = 3, kTruths = 1000;
  const model::Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  const model::Weather weather = spring(loop, kDays);
  const AheadAnswer guess = ahead(loop, weather, request(kDays, 1000, 1));
  ASSERT_TRUE(guess.bands);
  const model::Loop warm = with_water_as_warm_as_the_air(loop, weather, kFirst);
  const model::Plumbing plumbing(warm);
  const std::vector<Prior> priors = priors_of(warm, weather);
  const auto draws = draws_of_priors(kTruths, 99);
  const std::vector<AheadAnswer> truths = run_ahead_together(warm, plumbing, running_water(plumbing).water,
                                                             request(kDays, 0, 1), kTruths, [&](std::size_t m) {
                                                               model::MemberInput truth{warm, weather};
                                                               apply_draws(priors, draws[m], truth.loop, truth.weather);
                                                               return truth;
                                                             });
  const TankBands& band = guess.bands->tanks.front();
  const auto tank = static_cast<std::size_t>(loop.vessel_index(band.path));
  for (std::size_t d = 1; d < kDays; ++d) {  // the first day begins with water that is given
    const auto share = [&](const char* what, const Spread& s, auto&& of) {
      int held = 0;
      for (const AheadAnswer& truth : truths) {
        const double x = of(truth.vessels[tank].days[d]);
        held += x >= s.low && x <= s.high;
      }
      EXPECT_GE(held, 870) << what << " of day " << d + 1;
      EXPECT_LE(held, 930) << what << " of day " << d + 1;
      RecordProperty(std::string(what) + std::to_string(d + 1), held);
    };
    share("coldest", band.temperature_low[d], [](const VesselDay& x) { return x.temperature_low.value; });
    share("warmest", band.temperature_high[d], [](const VesselDay& x) { return x.temperature_high.value; });
    share("oxygen", band.oxygen_low[d], [](const VesselDay& x) { return x.oxygen_low.value; });
    share("ammonia", band.ammonia[d], [](const VesselDay& x) { return x.ammonia; });
  }
}

}  // namespace
}  // namespace leat::answers
