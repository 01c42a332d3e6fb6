#include <gtest/gtest.h>

#include <cmath>

#include "model/weather/test_help.h"

namespace leat::model {
namespace {

TEST(ZonalAir, ColderTowardsThePoleAndUphill) {
  double before = 99.0;
  for (double latitude = 10.0; latitude <= 90.0; latitude += 2.5) {
    const double mean = zonal_air(place_at(latitude, 0.0, 0.0, "UTC")).mean.celsius();
    EXPECT_LE(mean, before);
    before = mean;
  }
  const auto low = zonal_air(place_at(45.0, 0.0, 0.0, "UTC")), high = zonal_air(place_at(45.0, 0.0, 1000.0, "UTC"));
  EXPECT_NEAR((low.mean - high.mean).si(), 6.0, 1e-9);
}

TEST(ZonalAir, WithinFiveKelvinOfTwoRecords) {
  Problems problems;
  const std::string text = example("two-cities-daily-2015.csv");
  for (const auto& [city, place] :
       {std::pair{"Seattle", seattle()}, {"New York", place_at(40.7, -74.0, 10.0, "America/New_York")}}) {
    double sum = 0.0;
    const DailyRecord record = read_daily_record(text, "w.csv", city, problems);
    for (const WeatherDay& day : record.days) sum += 0.5 * (day.low.celsius() + day.high.celsius());
    EXPECT_NEAR(zonal_air(place).mean.celsius(), sum / static_cast<double>(record.days.size()), 5.0) << city;
  }
}

TEST(NormalsFor, SouthIsTheNorthHalfAYearLater) {
  std::vector<std::string> said;
  const YearNormals north = normals_for(place_at(42.0, 0.0, 50.0, "UTC"), {}, said);
  const YearNormals south = normals_for(place_at(-42.0, 0.0, 50.0, "UTC"), {}, said);
  for (std::size_t m = 0; m < 12; ++m) {
    EXPECT_NEAR(south[(m + 6) % 12].low.kelvin(), north[m].low.kelvin(), 1e-9);
    EXPECT_NEAR(south[(m + 6) % 12].high.kelvin(), north[m].high.kelvin(), 1e-9);
  }
  EXPECT_LT(north[0].high, north[6].low);
  EXPECT_TRUE(says(said, "common practice, no source"));
}

TEST(NormalsFor, TakesMonthsFromTheRecord) {
  const DailyRecord record = seattle_record();
  std::vector<std::string> said;
  const YearNormals normals = normals_for(seattle(), record.days, said);
  double high = 0.0, wet = 0.0, n = 0.0;
  for (const WeatherDay& day : record.days) {
    if (day.date.month != 7) continue;
    high += day.high.celsius();
    wet += day.rain->si() > 0.0002 ? 1.0 : 0.0;
    n += 1.0;
  }
  EXPECT_NEAR(normals[6].high.celsius(), high / n, 1e-9);
  EXPECT_NEAR(normals[6].wet_share, wet / n, 1e-9);
  EXPECT_GT(normals[6].clearness_dry, normals[6].clearness_wet);
  EXPECT_TRUE(says(said, "each month is taken from the record"));
  EXPECT_FALSE(says(said, "rough guess"));
}

TEST(NormalsFor, AFewMonthsMoveTheOthers) {
  std::vector<WeatherDay> spring;
  for (const WeatherDay& day : seattle_record().days)
    if (day.date.year == 2013 && day.date.month >= 3 && day.date.month <= 5) spring.push_back(day);
  std::vector<std::string> said;
  const YearNormals part = normals_for(seattle(), spring, said), none = normals_for(seattle(), {}, said);
  double off = 0.0;
  for (std::size_t m = 2; m < 5; ++m) off += (part[m].low - none[m].low).si() / 3.0;
  EXPECT_NEAR((part[9].low - none[9].low).si(), off, 1e-9);
  EXPECT_TRUE(says(said, "3 of the 12 months"));
  EXPECT_TRUE(says(said, "the other months is a rough guess"));
}

TEST(NormalsFor, TooFewDaysAreNoMonth) {
  const auto all = seattle_record().days;
  std::vector<std::string> said;
  const YearNormals few = normals_for(seattle(), {all.begin(), all.begin() + 19}, said);
  const YearNormals none = normals_for(seattle(), {}, said);
  EXPECT_EQ(few[0].low, none[0].low);
}

}  // namespace
}  // namespace leat::model
