#include <gtest/gtest.h>

#include "model/weather/test_help.h"

namespace leat::model {
namespace {

constexpr CivilDate kToday{2026, 1, 5};  // a Monday

std::vector<WeatherDay> read(std::string_view text) {
  Problems problems;
  auto days = read_forecast(text, "typed", kToday, problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return days;
}

std::vector<std::string> dates(std::string_view text) {
  std::vector<std::string> all;
  for (const WeatherDay& day : read(text)) all.push_back(day.date.text().substr(5));
  return all;
}

TEST(ReadForecast, AWholePhrase) {
  const auto days = read("tomorrow min 4 max 12 clear light wind rain 2 mm");
  ASSERT_EQ(days.size(), 1u);
  EXPECT_EQ(days[0].date.text(), "2026-01-06");
  EXPECT_NEAR(days[0].low.celsius(), 4.0, 1e-9);
  EXPECT_NEAR(days[0].high.celsius(), 12.0, 1e-9);
  EXPECT_EQ(days[0].sky, Sky::clear);
  EXPECT_EQ(days[0].wind, wind_of(WindWord::light));
  EXPECT_NEAR(days[0].rain->si(), 0.002, 1e-12);
  EXPECT_EQ(days[0].source, DaySource::forecast);
}

TEST(ReadForecast, LeavesOpenWhatIsNotSaid) {
  const auto days = read("max 8 min -2");
  EXPECT_FALSE(days[0].rain || days[0].wind || days[0].sky || days[0].sun);
  EXPECT_NEAR(days[0].low.celsius(), -2.0, 1e-9);
}

TEST(ReadForecast, OrderSpellingAndUnitsAreFree) {
  const auto days = read("Thursday: High 54F, Low 39.2 degF, wind 18 km/h, overcast, rain 0.1 in, sun 80 W/m2");
  EXPECT_EQ(days[0].date.text(), "2026-01-08");
  EXPECT_NEAR(days[0].low.celsius(), 4.0, 1e-9);
  EXPECT_NEAR(days[0].high.celsius(), 12.2222, 1e-4);
  EXPECT_NEAR(days[0].wind->si(), 5.0, 1e-12);
  EXPECT_NEAR(days[0].rain->si(), 0.00254, 1e-12);
  EXPECT_NEAR(days[0].sun->si(), 80.0, 1e-9);
  EXPECT_EQ(read("max 12°C min 4C calm dry")[0].rain, Length<>(0.0));
  EXPECT_EQ(read("max 12 min 4 wind windy")[0].wind, wind_of(WindWord::windy));
  EXPECT_EQ(read("max 12 min 4 windy")[0].wind, read("max 12 min 4 wind windy")[0].wind);
}

TEST(ReadForecast, NamesOfDays) {
  using Dates = std::vector<std::string>;
  EXPECT_EQ(dates("min 1 max 2; min 1 max 2\nmin 1 max 2"), (Dates{"01-05", "01-06", "01-07"}));
  EXPECT_EQ(dates("tomorrow min 1 max 2; min 1 max 2"), (Dates{"01-06", "01-07"}));
  EXPECT_EQ(dates("mon min 1 max 2; tue min 1 max 2; mon min 1 max 2"), (Dates{"01-05", "01-06", "01-12"}));
  EXPECT_EQ(dates("sun min 1 max 2"), (Dates{"01-11"}));
  EXPECT_EQ(dates("sun 5 min 1 max 2"), (Dates{"01-05"}));
  EXPECT_EQ(dates("2026-01-09 min 1 max 2; today min 1 max 2"), (Dates{"01-05", "01-09"}));
  EXPECT_EQ(dates("# from the radio\n\n  \ntoday min 1 max 2;\n"), (Dates{"01-05"}));
  EXPECT_TRUE(read("").empty());
}

TEST(ReadForecast, OneMistakeLeavesTheOtherDays) {
  Problems problems;
  const auto days =
      read_forecast("today min 1 max 5\ntomorrow min 9 max 5\nwed min 1 max 5", "f.txt", kToday, problems);
  EXPECT_EQ(days.size(), 2u);
  EXPECT_EQ(problems.text(), "f.txt:2:1 min: \"9\" is above the max, \"5\"; exchange the two\n");
}

}  // namespace
}  // namespace leat::model
