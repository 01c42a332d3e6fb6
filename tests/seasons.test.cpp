// The year at both ends of the Earth: the south is the north half a year later, and the sun may stay up, stay away, or
// skim the horizon.
#include <gtest/gtest.h>

#include <cmath>

#include "answers/ahead.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using namespace model;

/// Half a year. From the solstice of June to that of December it is 183 days and a half; from early April to the day on
/// which the sun stands as far south it is 186, for the northern summer half is the longer.
constexpr int kFromJune = 183, kFromApril = 186;

Place place_at(double latitude_deg) {
  Place place;
  place.latitude_deg = latitude_deg;
  place.longitude_deg = 0.0;
  place.altitude = Length<>(100.0);
  place.clock = Clock::fixed(0.0, "UTC");
  return place;
}

/// Clear days of one kind in a row.
WeatherSources same_days(CivilDate first, int count, double low_c, double high_c) {
  WeatherSources sources;
  sources.daily = DailyRecord{};
  for (int d = 0; d < count; ++d) {
    WeatherDay day;
    day.date = first.plus_days(d);
    day.low = Temperature<>::from_celsius(low_c);
    day.high = Temperature<>::from_celsius(high_c);
    day.wind = Velocity<>(2.5);
    day.rain = Length<>(0.0);
    day.sky = Sky::clear;
    sources.daily->days.push_back(day);
  }
  return sources;
}

struct Week {
  double swing = 0.0, sun = 0.0;  ///< mean swing of the last seven days, K; mean sun over the run, W/m2
};

Week run(const std::string& file, double latitude_deg, const WeatherSources& sources, CivilDate first, int days) {
  Loop loop = tests::read_loop(file);
  loop.site.place = place_at(latitude_deg);
  const Weather weather = assemble_weather(loop.site.place, sources, first, days);
  const answers::AheadAnswer a = answers::ahead(loop, weather, {first, days});
  EXPECT_TRUE(a.finished) << a.said;
  Week week;
  for (std::size_t d = a.dates.size() - 7; d < a.dates.size(); ++d) week.swing += a.vessels[0].days[d].swing / 7.0;
  for (const Air& air : weather.airs) week.sun += air.sun.si() / static_cast<double>(weather.airs.size());
  return week;
}

class Mirror : public ::testing::TestWithParam<const char*> {};

/// In early April and early October the Earth is as far from the sun as in its mean: what is left between the two sides
/// is 0.2 % of distance, 0.1 degree of height and a quarter of an hour of the equation of time against the clock's
/// midnights. 0.2 % of sun, and a slightly later noon: within 1 %.
TEST_P(Mirror, TheSameDaysHalfAYearLaterInTheSouthSwingTheSame) {
  const CivilDate first{2015, 3, 28}, later = first.plus_days(kFromApril);
  const std::string file = std::string("tests/cases/heat/set-up-") + GetParam() + ".toml";
  const Week north = run(file, 47.45, same_days(first, 14, 6.0, 18.0), first, 14);
  const Week south = run(file, -47.45, same_days(later, 14, 6.0, 18.0), later, 14);
  EXPECT_NEAR(south.sun, north.sun, 0.01 * north.sun);
  // 0.01 K for the sunk one: its ground, which turns by 182 days and not by 186, is then 0.2 K off.
  EXPECT_NEAR(south.swing, north.swing, std::max(0.01 * north.swing, 0.01));
}
INSTANTIATE_TEST_SUITE_P(SetUps, Mirror, ::testing::Values("1", "1c", "2b", "3a", "3c"),
                         [](const auto& p) { return std::string("set_up_") + p.param; });

/// A clear sky lets more sun through in the southern summer, when the Earth is nearer to the sun: (1.0167/0.9833)^2 is
/// 1.069. The independent program has 28.1 against 26.4 MJ/m2, and 7.0 against 6.7 K for the clear tote.
TEST(Mirror, TheSouthernSummersSunIsNearer) {
  const CivilDate first{2015, 6, 16}, later = first.plus_days(kFromJune);
  const Week north = run("tests/cases/heat/set-up-1.toml", 47.45, same_days(first, 21, 15.0, 31.0), first, 21);
  const Week south = run("tests/cases/heat/set-up-1.toml", -47.45, same_days(later, 21, 15.0, 31.0), later, 21);
  EXPECT_NEAR(south.sun / north.sun, 1.067, 0.004);
  EXPECT_NEAR(south.swing / north.swing, 7.0 / 6.7, 0.015);
}

struct Edge {
  const char* name;
  double latitude;
  CivilDate first;
  double low_c, high_c;
};
void PrintTo(const Edge& e, std::ostream* out) {
  *out << e.name;
}

class EdgeOfTheEarth : public ::testing::TestWithParam<Edge> {
 protected:
  static constexpr int kDays = 14;
  const Edge& edge = GetParam();
  Weather clear_days() const {
    return assemble_weather(place_at(edge.latitude), same_days(edge.first, kDays, edge.low_c, edge.high_c), edge.first,
                            kDays);
  }
};

void expect_whole(const Surroundings<>& s, double hour) {
  for (const double x : {s.air.kelvin(), s.vapour.si(), s.wind.si(), s.sun.si(), s.sun_on_walls.si(), s.sky.si(),
                         s.reference_et.si(), s.rain.si(), s.ground.kelvin()})
    EXPECT_TRUE(std::isfinite(x)) << "hour " << hour;
  EXPECT_GE(s.sun.si(), 0.0) << "hour " << hour;
  EXPECT_GE(s.sun_on_walls.si(), 0.0) << "hour " << hour;
  EXPECT_LT(s.sun.si(), 1200.0) << "hour " << hour;
  EXPECT_LT(s.sun_on_walls.si(), 1200.0) << "hour " << hour;
  EXPECT_GT(s.sky.si(), 50.0) << "hour " << hour;
}

TEST_P(EdgeOfTheEarth, WhatActsOnTheWaterIsWholeAtEveryQuarterHour) {
  Loop loop = tests::read_loop("tests/cases/heat/set-up-1c.toml");
  loop.site.place = place_at(edge.latitude);
  const Weather weather = clear_days();
  const Forcing forcing(loop.site, weather);
  for (int q = 0; q < 96 * kDays; ++q) expect_whole(forcing.at({forcing.start().seconds + 900.0 * q}), q / 4.0);
  for (const Air& air : weather.airs) {
    EXPECT_GE(air.diffuse.si(), 0.0);
    EXPECT_LE(air.diffuse.si(), air.sun.si());
    EXPECT_GE(air.temperature.celsius(), edge.low_c - 1e-9);
    EXPECT_LE(air.temperature.celsius(), edge.high_c + 1e-9);
  }
}

/// Clear days in a row: the sun climbs by at most 0.4 degree a day, which is 9.5 W/m2 of level sun outside the air at
/// the pole and nowhere more than 11; seven and a half tenths of it come through.
TEST_P(EdgeOfTheEarth, TheSunOfTheDayHasNoJump) {
  const Weather weather = clear_days();
  double before = -1.0;
  for (int d = 0; d < kDays; ++d) {
    double mean = 0.0;
    for (int h = 0; h < 24; ++h) mean += weather.airs[static_cast<std::size_t>(24 * d + h)].sun.si() / 24.0;
    if (before >= 0.0) {
      EXPECT_LT(std::abs(mean - before), 8.5) << "day " << d;
    }
    before = mean;
  }
  for (std::size_t h = 1; h < weather.airs.size(); ++h)
    EXPECT_LT(std::abs((weather.airs[h].temperature - weather.airs[h - 1].temperature).si()),
              0.5 * (edge.high_c - edge.low_c))
        << "hour " << h;
}

TEST_P(EdgeOfTheEarth, TheWholeLoopRunsThroughIt) {
  Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  loop.site.place = place_at(edge.latitude);
  loop.water.temperature = Temperature<>::from_celsius(std::max(2.0, 0.5 * (edge.low_c + edge.high_c)));
  const answers::AheadAnswer a = answers::ahead(loop, clear_days(), {edge.first, kDays});
  ASSERT_TRUE(a.finished) << a.said;
  ASSERT_EQ(a.dates.size(), static_cast<std::size_t>(kDays));
  for (const auto& table : a.books) EXPECT_LT(std::abs(table.closure), 1e-9);
  for (const auto& vessel : a.vessels)
    for (std::size_t d = 0; d < vessel.days.size(); ++d) {
      const answers::VesselDay& day = vessel.days[d];
      for (const double x : {day.temperature_low.value, day.temperature_high.value, day.oxygen_low.value, day.ammonia,
                             day.nitrate, day.pH_low, day.pH_high, day.alkalinity})
        EXPECT_TRUE(std::isfinite(x)) << vessel.path << " day " << d;
      EXPECT_GT(day.temperature_low.value, std::min(271.0, 273.15 + edge.low_c));
      EXPECT_LT(day.temperature_high.value, 318.0);
      if (d > 1) {  // after the start, one day's mean follows on the other's
        EXPECT_LT(std::abs(day.temperature_low.value - vessel.days[d - 1].temperature_low.value), 2.0)
            << vessel.path << " day " << d;
      }
    }
}

/// The loop without any weather file: days are made up from the latitude.
TEST_P(EdgeOfTheEarth, GeneratedDaysRunThroughItToo) {
  Loop loop = tests::read_loop("tests/cases/heat/set-up-1c.toml");
  loop.site.place = place_at(edge.latitude);
  loop.water.temperature_said = false;
  const Weather weather = assemble_weather(loop.site.place, {}, edge.first, kDays);
  const answers::AheadAnswer a = answers::ahead(loop, weather, {edge.first, kDays});
  ASSERT_TRUE(a.finished) << a.said;
  const Forcing forcing(loop.site, weather);
  for (int h = 0; h < 24 * kDays; ++h) expect_whole(forcing.at({forcing.start().seconds + 3600.0 * h}), h);
  double coldest = 271.0;
  for (const Air& air : weather.airs) coldest = std::min(coldest, air.temperature.kelvin());
  for (const auto& day : a.vessels[0].days) {
    EXPECT_TRUE(std::isfinite(day.swing));
    EXPECT_GT(day.temperature_low.value, coldest);
  }
}

INSTANTIATE_TEST_SUITE_P(Edges, EdgeOfTheEarth,
                         ::testing::Values(Edge{"polar_day_70n", 70.0, {2015, 6, 14}, 4.0, 12.0},
                                           Edge{"polar_night_70n", 70.0, {2015, 12, 14}, -14.0, -6.0},
                                           Edge{"polar_day_70s", -70.0, {2015, 12, 14}, -2.0, 4.0},
                                           Edge{"last_sunset_70n", 70.0, {2015, 5, 12}, 0.0, 8.0},
                                           Edge{"grazing_at_the_circle", 66.56, {2015, 6, 14}, 5.0, 15.0},
                                           Edge{"equinox_at_the_north_pole", 90.0, {2015, 3, 13}, -30.0, -22.0},
                                           Edge{"equinox_at_the_south_pole", -90.0, {2015, 9, 16}, -60.0, -52.0},
                                           Edge{"equinox_at_the_equator", 0.0, {2015, 3, 13}, 22.0, 31.0}),
                         [](const auto& p) { return std::string(p.param.name); });

TEST(PolarDay, TheSunShinesAllDayAndAPolarNightHasNone) {
  const auto sum_of = [](double latitude, CivilDate date) {
    const Weather w = assemble_weather(place_at(latitude), same_days(date, 1, 0.0, 8.0), date, 1);
    double sum = 0.0;
    for (std::size_t h = 0; h < 24; ++h) sum += w.airs[h].sun.si() / 24.0;
    return sum;
  };
  EXPECT_EQ(sum_of(70.0, {2015, 12, 21}), 0.0);
  EXPECT_EQ(sum_of(-70.0, {2015, 6, 21}), 0.0);
  // Outside the air a solstice day has more sun at the pole than at the equator: 0.399 pi against 0.917 of the same.
  EXPECT_NEAR(sum_of(90.0, {2015, 6, 21}) / sum_of(0.0, {2015, 6, 21}), 0.3978 * M_PI / 0.9175, 0.01);
}

}  // namespace
}  // namespace leat
