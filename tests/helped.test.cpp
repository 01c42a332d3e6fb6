// Whether leat helped is honest: where nothing was changed it must seldom say that something helped, and where days of
// alike weather stand on both sides it must use them.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "answers/heat_capacity.h"
#include "answers/helped.h"
#include "model/flow/water_run.h"
#include "record/when.h"
#include "tell/helped_text.h"

namespace leat::answers {
namespace {

const Clock kClock = Clock::fixed(0.0, "UTC");

record::Context context() {
  record::Context c;
  c.clock = kClock;
  c.now = record::moment_of(kClock, {2026, 6, 1}, 12.0);
  c.fish_in = {"tank.main"};
  return c;
}

record::Entry reading(std::int64_t number, const CivilDate& date, const char* what, const char* where,
                      const char* extreme, double value) {
  record::Entry e;
  e.number = number;
  e.kind = record::Kind::reading;
  e.what = what;
  e.where = where;
  e.extreme = extreme;
  e.amount = {value, value, "degC", "", false};
  e.from = e.to = record::moment_of(kClock, date, 7.0);
  e.since = e.from - 86'400'000;
  return e;
}

/// So many days before and after 2026-03-01, the water `before` and `after` of the air, with what is left over
/// correlated from day to day.
std::vector<record::Entry> season(std::mt19937_64& random, int days, double before, double after, double correlation) {
  std::normal_distribution<double> normal;
  std::vector<record::Entry> entries;
  double left = normal(random);
  for (int day = -days; day < days; ++day) {
    const CivilDate date = CivilDate{2026, 3, 2}.plus_days(day);
    const double air = std::max(2.0, 10.0 + 3.0 * normal(random));
    left = correlation * left + std::sqrt(1.0 - correlation * correlation) * normal(random);
    const double water = std::max(0.1, (day < 0 ? before : after) * air + 0.5 * left);
    const auto n = static_cast<std::int64_t>(entries.size());
    entries.push_back(reading(n + 1, date, "temperature", "tank.main", "min", 8.0));
    entries.push_back(reading(n + 2, date, "temperature", "tank.main", "max", 8.0 + water));
    entries.push_back(reading(n + 3, date, "air_temperature", "outside", "min", 2.0));
    entries.push_back(reading(n + 4, date, "air_temperature", "outside", "max", 2.0 + air));
  }
  return entries;
}

HelpedRequest on_first_of_march() {
  HelpedRequest r;
  r.change = record::moment_of(kClock, {2026, 3, 1}, 7.0);
  return r;
}

TEST(Helped, SeldomFindsWhatIsNotThere) {
  std::mt19937_64 random(11);
  constexpr int kTries = 300;
  for (const double correlation : {0.0, 0.3, 0.6})
    for (const int days : {9, 20}) {
      int found = 0;
      for (int i = 0; i < kTries; ++i) {
        const HelpedAnswer a = helped(season(random, days, 0.45, 0.45, correlation), context(), on_first_of_march());
        ASSERT_NE(a.verdict, HelpedVerdict::not_comparable) << a.why_not;
        found += a.verdict != HelpedVerdict::cannot_tell ? 1 : 0;
      }
      std::printf("correlation %.1f, %d days a side: a change was found in %.1f %% of records without one\n",
                  correlation, days, 100.0 * found / kTries);
      // 5 % wanted; 10 % lies four standard errors of 300 tries above it.
      EXPECT_LE(found, kTries / 10) << correlation << " " << days;
    }
}

TEST(Helped, FindsWhatIsThereAndPairsAlikeDays) {
  std::mt19937_64 random(12);
  int found = 0;
  for (int i = 0; i < 50; ++i) {
    const HelpedAnswer a = helped(season(random, 15, 0.45, 0.30, 0.3), context(), on_first_of_march());
    found += a.verdict == HelpedVerdict::steadier ? 1 : 0;
    EXPECT_TRUE(a.overlap);
    EXPECT_GT(a.alike.size(), 3u);
    for (const Alike& pair : a.alike) EXPECT_LE(std::fabs(pair.before.air - pair.after.air), 1.0);
  }
  // The usual power of 80 %: the price of seldom finding what is not there.
  std::printf("a third less swing, 15 days a side: found in %d of 50 records\n", found);
  EXPECT_GE(found, 40);
}

/// More pairs than all swaps can be counted for.
TEST(Helped, ManyAlikeDaysHaveTheirChanceDrawn) {
  std::mt19937_64 random(11);
  const auto a = helped(season(random, 80, 0.5, 0.3, 0.3), context(), on_first_of_march());
  ASSERT_GT(a.alike.size(), 24u);
  ASSERT_TRUE(a.alike_chance);
  double cut = 0.0;
  for (const Alike& pair : a.alike) cut += pair.before.water - pair.after.water;
  EXPECT_NEAR(a.alike_chance->difference, cut / static_cast<double>(a.alike.size()), 1e-12);
  EXPECT_NEAR(a.alike_chance->difference, 2.0, 0.4) << "0.2 of a day of 10 K";
  EXPECT_LT(a.alike_chance->p, 0.001);
  EXPECT_EQ(a.alike_chance->arrangements, 20000.0);
  const std::string text = tell::helped_text(a, kClock);
  EXPECT_NE(text.find(" by 20000"), std::string::npos) << text;
}

TEST(Helped, AWorseChangeIsSaidSo) {
  std::mt19937_64 random(13);
  EXPECT_EQ(helped(season(random, 15, 0.30, 0.50, 0.3), context(), on_first_of_march()).verdict,
            HelpedVerdict::less_steady);
}

/// Nothing from before an earlier re-plumbing is used.
TEST(Helped, AnEarlierReplumbingBoundsTheTimeBefore) {
  std::mt19937_64 random(14);
  auto entries = season(random, 15, 0.45, 0.30, 0.0);
  record::Entry chapter;
  chapter.number = 900;
  chapter.kind = record::Kind::chapter;
  chapter.what = "replumbed";
  chapter.from = chapter.to = record::moment_of(kClock, {2026, 2, 22}, 12.0);
  entries.push_back(chapter);
  const HelpedAnswer a = helped(entries, context(), on_first_of_march());
  EXPECT_LT(a.before.days.size(), 8u);
  for (const Matched& d : a.before.days) EXPECT_GE(d.from, chapter.from);
  EXPECT_EQ(a.after.days.size(), 15u);
}

/// A thermometer read at seven: its highest belongs to the afternoon before, its lowest to this dawn.
TEST(Helped, TheAirOfADailyRecord) {
  std::mt19937_64 random(15);
  auto entries = season(random, 6, 0.45, 0.45, 0.0);
  std::erase_if(entries, [](const record::Entry& e) { return e.where == "outside"; });
  model::DailyRecord weather;
  for (int day = -8; day < 8; ++day) {
    const double high = 14.0 + day, low = 3.0;
    weather.days.push_back({CivilDate{2026, 3, 2}.plus_days(day),
                            Temperature<>::from_celsius(low),
                            Temperature<>::from_celsius(high),
                            {},
                            {},
                            {},
                            {},
                            model::DaySource::daily_record});
  }
  HelpedRequest request = on_first_of_march();
  request.weather = &weather;
  const HelpedAnswer a = helped(entries, context(), request);
  ASSERT_EQ(a.after.days.size(), 6u);
  // Read on 2026-03-02: the high of 03-01 is 13, the low of 03-02 is 3.
  EXPECT_NEAR(a.after.days[0].air, 10.0, 1e-9);
}

// A thousand litres take up 4.186 MJ for a degree; 2 m2 of stones half a metre deep with 0.4 of pores 2.2 * 0.6 more.
TEST(HeatCapacity, IsThatOfWaterAndStones) {
  const auto capacity = [](const std::string& text) {
    Problems problems;
    const model::Loop loop = model::make_loop(model::read_description(text, "loop.toml", problems), problems);
    EXPECT_TRUE(problems.empty()) << problems.text();
    const double water = model::water_in(loop, model::levels_at_rest(loop)).si();
    return heat_capacity_of(loop) - 4.186e6 * water;
  };
  const std::string tank = "[tank.a]\narea = \"1 m2\"\nfloor = \"0 m\"\nrim = \"1 m\"\nlevel = \"1 m\"\n";
  const std::string bed = "[gravel_bed.b]\narea = \"2 m2\"\nfloor = \"0 m\"\nrim = \"0.5 m\"\nporosity = 0.4\n";
  EXPECT_NEAR(capacity(tank), 0.0, 1.0);
  EXPECT_NEAR(capacity(tank + bed), 2.2e6 * 0.6, 1.0);
}

}  // namespace
}  // namespace leat::answers
