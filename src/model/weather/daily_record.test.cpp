#include <gtest/gtest.h>

#include "model/weather/test_help.h"

namespace leat::model {
namespace {

DailyRecord read(std::string_view text, std::string_view location = "") {
  Problems problems;
  DailyRecord record = read_daily_record(text, "w.csv", location, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return record;
}

TEST(ReadDailyRecord, FourYearsOfSeattle) {
  const DailyRecord record = read(example("seattle-daily-2012-2015.csv"));
  ASSERT_EQ(record.days.size(), 1461u);
  EXPECT_EQ(record.days.front().date.text(), "2012-01-01");
  EXPECT_EQ(record.days.back().date.text(), "2015-12-31");
  const WeatherDay& first = record.days.front();
  EXPECT_NEAR(first.low.celsius(), 5.0, 1e-9);
  EXPECT_NEAR(first.high.celsius(), 12.8, 1e-9);
  EXPECT_EQ(first.rain, Length<>(0.0));
  EXPECT_EQ(first.wind, Velocity<>(4.7));
  EXPECT_NEAR(record.days[1].rain->si(), 0.0109, 1e-12);
  EXPECT_TRUE(says(record.assumptions, "wind in m/s"));
}

TEST(ReadDailyRecord, WeatherIsNoWordForTheSky) {
  const DailyRecord record = read(example("seattle-daily-2012-2015.csv"));
  for (const WeatherDay& day : record.days) ASSERT_FALSE(day.sky || day.sun);
  EXPECT_TRUE(says(record.assumptions, R"(the column "weather" is not read)"));
}

TEST(ReadDailyRecord, OneOfTwoCities) {
  const std::string text = example("two-cities-daily-2015.csv");
  const DailyRecord york = read(text, "new york"), seattle = read(text, "Seattle");
  ASSERT_EQ(york.days.size(), 365u);
  ASSERT_EQ(seattle.days.size(), 365u);
  EXPECT_NE(york.days[0].low, seattle.days[0].low);
  EXPECT_NEAR(seattle.days[0].low.celsius(), -3.2, 1e-9);
  Problems problems;
  EXPECT_TRUE(read_daily_record(text, "w.csv", "", problems).days.empty());
  EXPECT_EQ(
      problems.text(),
      "w.csv:1:1 location: holds \"Seattle\" and \"New York\"; say which one is meant, such as location \"Seattle\"\n");
}

TEST(ReadDailyRecord, UnitsBehindTheNames) {
  const DailyRecord record = read(
      "Date,Low degF,Max Temp (°F),Wind Speed [km/h],rain in,sun W/m²\n"
      "2025-07-01,50,86,18,0.5,250\n");
  ASSERT_EQ(record.days.size(), 1u);
  const WeatherDay& day = record.days[0];
  EXPECT_NEAR(day.low.celsius(), 10.0, 1e-9);
  EXPECT_NEAR(day.high.celsius(), 30.0, 1e-9);
  EXPECT_NEAR(day.wind->si(), 5.0, 1e-12);
  EXPECT_NEAR(day.rain->si(), 0.0127, 1e-12);
  EXPECT_NEAR(day.sun->si(), 250.0, 1e-9);
  EXPECT_FALSE(says(record.assumptions, "says no unit"));
}

TEST(ReadDailyRecord, SunAsASumOfTheDay) {
  for (const char* column : {"sun MJ/m2,21.6", "sun (kWh/m2),6", "sun J/cm2,2160", "sun,21.6", "sun MJ m-2 d-1,21.6"}) {
    const std::string text(column);
    const std::size_t comma = text.find(',');
    const DailyRecord record =
        read("date,min,max," + text.substr(0, comma) + "\n2025-07-01,10,20," + text.substr(comma + 1) + "\n");
    ASSERT_EQ(record.days.size(), 1u) << column;
    EXPECT_NEAR(record.days[0].sun->si(), 250.0, 1e-9) << column;
  }
  EXPECT_NEAR(read("date,min,max,wind mph\n2025-07-01,10,20,10\n").days[0].wind->si(), 4.4704, 1e-12);
}

TEST(ReadDailyRecord, RowsAreSortedAndWhatIsMissingStaysOpen) {
  const DailyRecord record = read(
      "\xEF\xBB\xBF"
      "date;max;min;rain;sky\r\n2025/07/02;21.5;9;;Clear\r\n2025-7-1;20;8;1.5;-\r\n");
  ASSERT_EQ(record.days.size(), 2u);
  EXPECT_EQ(record.days[0].date.text(), "2025-07-01");
  EXPECT_EQ(record.lines, (std::vector<int>{3, 2}));
  EXPECT_FALSE(record.days[0].sky);
  EXPECT_EQ(record.days[1].sky, Sky::clear);
  EXPECT_FALSE(record.days[1].rain || record.days[1].wind || record.days[1].sun);
}

}  // namespace
}  // namespace leat::model
