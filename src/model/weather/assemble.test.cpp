#include <fmt/core.h>
#include <gtest/gtest.h>

#include <cmath>

#include "model/weather/hours.h"
#include "model/weather/test_help.h"

namespace leat::model {
namespace {

WeatherDay day_of(CivilDate date, double low_c, double high_c) {
  WeatherDay day;
  day.date = date;
  day.low = Temperature<>::from_celsius(low_c);
  day.high = Temperature<>::from_celsius(high_c);
  return day;
}

WeatherSources forecast_of(std::vector<WeatherDay> days) {
  WeatherSources sources;
  for (WeatherDay& day : days) day.source = DaySource::forecast;
  sources.forecast = std::move(days);
  return sources;
}

/// Radiation over the hours of one date by a clock, MJ/m2.
double sun_of_date(const Weather& weather, CivilDate date) {
  double sum = 0.0;
  for (std::size_t k = 0; k < weather.airs.size(); ++k)
    if (weather.place.clock.local({weather.start.seconds + 3600.0 * static_cast<double>(k)}).date == date)
      sum += weather.airs[k].sun.si() * 3600.0 / 1e6;
  return sum;
}

TEST(AssembleWeather, CoversTheDaysByTheClock) {
  for (const auto& [place, date] : {std::pair{seattle(), CivilDate{2026, 3, 8}},
                                    {seattle(), CivilDate{2026, 11, 1}},
                                    {place_at(22.6, 88.4, 9.0, "Asia/Kolkata"), CivilDate{2026, 5, 1}},
                                    {place_at(-31.5, 159.1, 5.0, "Australia/Lord_Howe"), CivilDate{2026, 4, 5}}}) {
    const Weather weather = assemble_weather(place, {}, date, 2);
    const Instant from = place.clock.instant({date, 0.0}), to = place.clock.instant({date.plus_days(2), 0.0});
    EXPECT_EQ(std::fmod(weather.start.seconds, 3600.0), 0.0);
    EXPECT_LE(weather.start, from);
    EXPECT_LT(from.seconds - weather.start.seconds, 3600.0);
    EXPECT_GE(weather.end(), to);
    EXPECT_LT(weather.end().seconds - to.seconds, 3600.0);
    ASSERT_EQ(weather.days.size(), 2u);
    EXPECT_EQ(weather.days[0].date, date);
  }
}

TEST(AssembleWeather, BetterSourcesWin) {
  const CivilDate first{2010, 3, 30};
  Problems problems;
  WeatherSources sources = forecast_of({day_of(first.plus_days(3), 1.0, 9.0), day_of(first.plus_days(2), 1.0, 9.0)});
  sources.hourly = read_hourly_record(example("seattle-hourly-normals-march.csv"), "h.csv", seattle(), problems);
  sources.daily = DailyRecord{{day_of(first, 2.0, 8.0), day_of(first.plus_days(2), 2.0, 8.0)}, {2, 3}, {}};
  sources.daily->days[0].rain = Length<>(0.003);
  const Weather weather = assemble_weather(seattle(), sources, first, 5);
  using enum DaySource;
  const std::vector<DaySource> expected{hourly_file, hourly_file, daily_record, forecast, generated};
  for (std::size_t i = 0; i < 5; ++i) EXPECT_EQ(weather.days[i].source, expected[i]) << i;
  EXPECT_EQ(weather.days[0].rain, Length<>(0.003)) << "a lesser source fills what a better one left open";
  EXPECT_TRUE(says(weather.assumptions, "2 hourly file, 1 daily record, 1 forecast, 1 generated"));
  EXPECT_TRUE(says(weather.assumptions, "they are no forecast"));
}

TEST(AssembleWeather, HoursOfAFileStandAsMeasured) {
  Problems problems;
  WeatherSources sources;
  sources.hourly = read_hourly_record(example("seattle-hourly-normals-march.csv"), "h.csv", seattle(), problems);
  const Weather weather = assemble_weather(seattle(), sources, {2010, 3, 5}, 20);
  for (std::size_t i = 0; i < sources.hourly->airs.size(); ++i) {
    const Instant t{sources.hourly->start.seconds + 3600.0 * static_cast<double>(i)};
    if (t < weather.start || t > weather.end()) continue;
    ASSERT_EQ(weather.at(t).temperature, sources.hourly->airs[i].temperature);
    ASSERT_EQ(weather.at(t).wind, sources.hourly->airs[i].wind);
  }
  EXPECT_GT(sun_of_date(weather, {2010, 3, 10}), 5.0) << "the file has no sun, so it is built";
}

TEST(AssembleWeather, SkyWordBeatsTheSpanOfTheAir) {
  const CivilDate date{2025, 6, 21};
  const double clear_mj = sun_frame(london(), date).clear.in(science::megajoule_per_square_metre_day);
  for (const auto& [sky, share] : {std::pair{Sky::clear, 0.95}, {Sky::mixed, 0.65}, {Sky::overcast, 0.30}}) {
    WeatherDay day = day_of(date, 10.0, 22.0);
    day.sky = sky;
    const Weather weather = assemble_weather(london(), forecast_of({day}), date, 1);
    EXPECT_NEAR(sun_of_date(weather, date), share * clear_mj, 0.01);
    EXPECT_NEAR(weather.airs[12].cloud, 1.0 - share, 1e-9);
  }
  const Weather guessed = assemble_weather(london(), forecast_of({day_of(date, 10.0, 22.0)}), date, 1);
  EXPECT_NEAR(sun_of_date(guessed, date), 0.16 * std::sqrt(12.0) / (0.75 + 2e-5 * 20.0) * clear_mj, 0.01);
  EXPECT_TRUE(says(guessed.assumptions, "span of the day's air"));
}

TEST(AssembleWeather, MeasuredSunWinsAndIsHeldBelowTheSky) {
  const CivilDate date{2025, 6, 21};
  WeatherDay day = day_of(date, 10.0, 22.0);
  day.sky = Sky::overcast;
  day.sun = 25.0 * science::megajoule_per_square_metre_day;
  EXPECT_NEAR(sun_of_date(assemble_weather(london(), forecast_of({day}), date, 1), date), 25.0, 0.01);
  day.sun = 44.0 * science::megajoule_per_square_metre_day;
  const Weather cut = assemble_weather(london(), forecast_of({day}), date, 1);
  EXPECT_NEAR(sun_of_date(cut, date),
              0.85 * sun_frame(london(), date).outside.in(science::megajoule_per_square_metre_day), 0.01);
  EXPECT_TRUE(says(cut.assumptions, "are cut to 0.85"));
}

TEST(AssembleWeather, SunOfARecordDayAfterDay) {
  WeatherSources sources;
  sources.daily = seattle_record();
  const Weather weather = assemble_weather(seattle(), sources, {2015, 1, 1}, 365);
  for (const WeatherDay& day : weather.days) {
    const SunFrame frame = sun_frame(seattle(), day.date);
    const Flux<> expected = std::min(science::radiation_hargreaves(day.high - day.low, frame.outside), frame.clear);
    ASSERT_NEAR(sun_of_date(weather, day.date), expected.in(science::megajoule_per_square_metre_day), 0.01)
        << day.date.text();
  }
}

TEST(AssembleWeather, HotWeekOfSeattle) {
  // Trade: 30 June 2015, seven days, 15 to 34 degC, about 26 MJ/m2 a day.
  WeatherSources sources;
  sources.daily = seattle_record();
  const Weather weather = assemble_weather(seattle(), sources, {2015, 6, 30}, 7);
  double least = 99.0, most = -99.0, sun = 0.0;
  for (const Air& air : weather.airs) {
    least = std::min(least, air.temperature.celsius());
    most = std::max(most, air.temperature.celsius());
    sun += air.sun.si() * 3600.0 / 1e6 / 7.0;
  }
  EXPECT_NEAR(least, 15.0, 0.6);
  EXPECT_NEAR(most, 34.0, 0.7);
  EXPECT_NEAR(sun, 26.0, 1.0);
}

TEST(AssembleWeather, DewFollowsTheOneQuestion) {
  const CivilDate date{2025, 6, 21};
  WeatherSources sources = forecast_of({day_of(date, 10.0, 22.0)});
  const auto dew_c = [&] {
    return science::dew_point(assemble_weather(london(), sources, date, 1).airs[14].vapour_pressure).celsius();
  };
  EXPECT_NEAR(dew_c(), 10.0, 1e-6);
  sources.dew = science::MorningDew::hardly;
  EXPECT_NEAR(dew_c(), 4.0, 1e-6);
  EXPECT_TRUE(says(assemble_weather(london(), sources, date, 1).assumptions, "less 6 K"));
}

TEST(AssembleWeather, EveryHourIsPossible) {
  for (const Place& place : {seattle(), place_at(69.6, 18.9, 10.0, "Europe/Oslo"), place_at(-77.8, 166.7, 10.0, "UTC"),
                             place_at(0.0, 0.0, 0.0, "UTC"), place_at(90.0, 0.0, 0.0, "UTC")}) {
    const Weather weather = assemble_weather(place, {}, {2026, 1, 1}, 366);
    for (const Air& air : weather.airs) {
      ASSERT_TRUE(std::isfinite(air.temperature.kelvin()));
      ASSERT_GT(air.vapour_pressure.si(), 0.0);
      ASSERT_LE(air.vapour_pressure, science::saturation_vapour_pressure(air.temperature));
      ASSERT_GE(air.sun.si(), 0.0);
      ASSERT_GE(air.diffuse.si(), 0.0);
      ASSERT_LE(air.diffuse, air.sun);
      ASSERT_GE(air.wind.si(), 0.0);
      ASSERT_GE(air.cloud, 0.0);
      ASSERT_LE(air.cloud, 1.0);
      ASSERT_GE(air.rain.si(), 0.0);
    }
  }
}

TEST(AssembleWeather, SameSourcesSameBits) {
  const Weather a = assemble_weather(seattle(), {}, {2026, 1, 1}, 60),
                b = assemble_weather(seattle(), {}, {2026, 1, 1}, 60);
  for (std::size_t k = 0; k < a.airs.size(); ++k) {
    ASSERT_EQ(a.airs[k].temperature, b.airs[k].temperature);
    ASSERT_EQ(a.airs[k].sun, b.airs[k].sun);
  }
}

TEST(WeatherAt, StraightBetweenHoursAndHeldAtTheEnds) {
  const Weather weather = assemble_weather(seattle(), {}, {2026, 7, 1}, 2);
  const auto t_at = [&](double hours) {
    return weather.at({weather.start.seconds + 3600.0 * hours}).temperature.kelvin();
  };
  const double a = weather.airs[7].temperature.kelvin(), b = weather.airs[8].temperature.kelvin();
  EXPECT_DOUBLE_EQ(t_at(7.0), a);
  EXPECT_NEAR(t_at(7.25), 0.75 * a + 0.25 * b, 1e-9);
  EXPECT_DOUBLE_EQ(t_at(-5.0), weather.airs.front().temperature.kelvin());
  EXPECT_DOUBLE_EQ(t_at(1e6), weather.airs.back().temperature.kelvin());
}

TEST(WordFor, EverySource) {
  EXPECT_EQ(word_for(DaySource::hourly_file), "hourly file");
  EXPECT_EQ(word_for(DaySource::generated), "generated");
}

}  // namespace
}  // namespace leat::model
