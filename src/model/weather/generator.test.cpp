#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "model/weather/random.h"
#include "model/weather/test_help.h"

namespace leat::model {
namespace {

constexpr CivilDate kFirst{2025, 1, 1};

YearNormals seattle_normals() {
  std::vector<std::string> said;
  return normals_for(seattle(), seattle_record().days, said);
}

struct Month {
  double n = 0, low = 0, high = 0, low2 = 0, high2 = 0, wet = 0, rain = 0, wind = 0, next = 0;
  double mean(double sum) const { return sum / n; }
};

std::array<Month, 12> monthly(const std::vector<WeatherDay>& days) {
  std::array<Month, 12> months;
  for (const WeatherDay& day : days) {
    Month& m = months[static_cast<std::size_t>(day.date.month - 1)];
    m.n += 1.0;
    m.low += day.low.celsius();
    m.high += day.high.celsius();
    m.low2 += day.low.celsius() * day.low.celsius();
    m.high2 += day.high.celsius() * day.high.celsius();
    m.wet += day.rain->si() > 0.0 ? 1.0 : 0.0;
    m.rain += day.rain->si();
    m.wind += day.wind->si();
  }
  return months;
}

TEST(Random, BitsAreTheStandardsOwn) {
  // The 10 000th number of the engine with its default seed is given by the language standard.
  std::mt19937_64 engine;
  engine.discard(9999);
  EXPECT_EQ(engine(), 9981545732273789042u);
  Random random(7);
  double sum = 0.0, sum2 = 0.0, least = 1.0, most = 0.0;
  for (int i = 0; i < 100000; ++i) {
    const auto [a, b] = random.normals();
    sum += a + b;
    sum2 += a * a + b * b;
    const double u = random.uniform();
    least = std::min(least, u);
    most = std::max(most, u);
  }
  EXPECT_NEAR(sum / 2e5, 0.0, 0.01);
  EXPECT_NEAR(sum2 / 2e5, 1.0, 0.015);
  EXPECT_GT(least, 0.0);
  EXPECT_LT(most, 1.0);
}

TEST(GenerateDays, SameSeedSameDays) {
  const YearNormals normals = seattle_normals();
  const auto a = generate_days(seattle(), normals, kFirst, 400, 42),
             b = generate_days(seattle(), normals, kFirst, 400, 42);
  const auto c = generate_days(seattle(), normals, kFirst, 400, 43);
  int same = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    ASSERT_EQ(a[i].low, b[i].low);
    ASSERT_EQ(a[i].high, b[i].high);
    ASSERT_EQ(a[i].rain, b[i].rain);
    ASSERT_EQ(a[i].wind, b[i].wind);
    ASSERT_EQ(a[i].sun, b[i].sun);
    same += a[i].high == c[i].high ? 1 : 0;
  }
  EXPECT_LT(same, 40);
}

TEST(GenerateDays, ALongerRunBeginsAsAShorterOne) {
  const YearNormals normals = seattle_normals();
  const auto brief = generate_days(seattle(), normals, kFirst, 30, 5),
             whole = generate_days(seattle(), normals, kFirst, 300, 5);
  for (std::size_t i = 0; i < brief.size(); ++i) ASSERT_EQ(brief[i].low, whole[i].low);
}

TEST(GenerateDays, EveryDayIsPossible) {
  for (const Place& place : {seattle(), place_at(5.0, 0.0, 0.0, "UTC"), place_at(-70.0, 20.0, 0.0, "UTC")}) {
    std::vector<std::string> said;
    int n = 0;
    for (const WeatherDay& day : generate_days(place, normals_for(place, {}, said), kFirst, 5000, 9)) {
      ASSERT_LT(day.low, day.high);
      ASSERT_GE(day.rain->si(), 0.0);
      ASSERT_GE(day.wind->si(), 0.0);
      ASSERT_LT(day.wind->si(), 25.0);
      ASSERT_GE(day.sun->si(), 0.0);
      ASSERT_EQ(day.date, kFirst.plus_days(n++));
      ASSERT_EQ(day.source, DaySource::generated);
    }
  }
}

TEST(GenerateDays, MonthsAreLikeTheirNormals) {
  const YearNormals normals = seattle_normals();
  const auto months = monthly(generate_days(seattle(), normals, kFirst, 365 * 60, 1));
  for (std::size_t m = 0; m < 12; ++m) {
    const Month& got = months[m];
    // Standard errors of 60 years with a lag-one correlation of 0.6 are near 0.2 K; bounds are about three of them.
    EXPECT_NEAR(got.mean(got.low), normals[m].low.celsius(), 0.7) << m;
    EXPECT_NEAR(got.mean(got.high), normals[m].high.celsius(), 0.7) << m;
    EXPECT_NEAR(got.wet / got.n, normals[m].wet_share, 0.05) << m;
    EXPECT_NEAR(got.rain / got.wet, normals[m].rain_of_wet_day.si(), 0.2 * normals[m].rain_of_wet_day.si()) << m;
    EXPECT_NEAR(got.mean(got.wind), normals[m].wind.si(), 0.1 * normals[m].wind.si()) << m;
    const double sd = std::sqrt(got.high2 / got.n - got.mean(got.high) * got.mean(got.high));
    EXPECT_NEAR(sd, normals[m].high_sd, 0.2 * normals[m].high_sd) << m;
  }
}

TEST(GenerateDays, DaysHangTogether) {
  // Trade: lag-one correlation about 0.62 for highs and 0.67 for lows; the seasons are taken off first.
  const YearNormals normals = seattle_normals();
  const auto days = generate_days(seattle(), normals, kFirst, 365 * 60, 3);
  const auto months = monthly(days);
  double now2 = 0.0, product = 0.0;
  for (std::size_t i = 0; i + 1 < days.size(); ++i) {
    if (days[i].date.month != days[i + 1].date.month) continue;
    const Month& m = months[static_cast<std::size_t>(days[i].date.month - 1)];
    const double a = days[i].high.celsius() - m.mean(m.high), b = days[i + 1].high.celsius() - m.mean(m.high);
    now2 += a * a;
    product += a * b;
  }
  EXPECT_NEAR(product / now2, 0.62, 0.08);
}

TEST(GenerateDays, WetDaysAreCoolerByDayAndDarker) {
  const auto days = generate_days(seattle(), seattle_normals(), kFirst, 365 * 20, 3);
  double wet = 0.0, dry = 0.0, wet_sun = 0.0, dry_sun = 0.0, n_wet = 0.0, n_dry = 0.0;
  for (const WeatherDay& day : days) {
    if (day.date.month != 5) continue;
    const bool rains = day.rain->si() > 0.0;
    (rains ? wet : dry) += day.high.celsius();
    (rains ? wet_sun : dry_sun) += day.sun->si();
    (rains ? n_wet : n_dry) += 1.0;
  }
  EXPECT_LT(wet / n_wet, dry / n_dry - 1.0);
  EXPECT_LT(wet_sun / n_wet, dry_sun / n_dry);
}

TEST(GenerateDays, SouthMirrorsNorth) {
  std::vector<std::string> said;
  const Place north = place_at(42.0, 0.0, 50.0, "UTC"), south = place_at(-42.0, 0.0, 50.0, "UTC");
  const auto in_north = monthly(generate_days(north, normals_for(north, {}, said), kFirst, 365 * 40, 11));
  const auto in_south = monthly(generate_days(south, normals_for(south, {}, said), kFirst, 365 * 40, 11));
  for (std::size_t m = 0; m < 12; ++m) {
    const Month &a = in_north[m], &b = in_south[(m + 6) % 12];
    EXPECT_NEAR(a.mean(a.low), b.mean(b.low), 0.9) << m;
    EXPECT_NEAR(a.mean(a.high), b.mean(b.high), 0.9) << m;
  }
  EXPECT_GT(in_south[0].mean(in_south[0].high), in_south[6].mean(in_south[6].high) + 10.0);
}

}  // namespace
}  // namespace leat::model
