// What else warms and cools a loop: air blown through it, stones that share its warmth, pumps that stand in it.
#include <gtest/gtest.h>

#include <cmath>

#include "answers/ahead.h"
#include "science/heat/stores.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using namespace model;

constexpr int kDays = 6;
constexpr CivilDate kFirst{2015, 6, 8};

/// The same dry warm day over and over.
Weather same_days(const Place& place) {
  WeatherSources sources;
  sources.daily = DailyRecord{};
  for (int d = 0; d < kDays; ++d) {
    WeatherDay day;
    day.date = kFirst.plus_days(d);
    day.low = Temperature<>::from_celsius(12.0);
    day.high = Temperature<>::from_celsius(26.0);
    day.wind = Velocity<>(2.0);
    day.sky = Sky::clear;
    day.rain = Length<>(0.0);
    sources.daily->days.push_back(day);
  }
  return assemble_weather(place, sources, kFirst, kDays);
}

/// A covered tank in foam, and what a test adds to it.
Loop tank_with(const std::string& more) {
  const std::string text = R"(
[place]
latitude = 47.45
longitude = -122.3
ground_temperature = "18 degC"
[water]
temperature = "20 degC"
[source.none]
to = "tank.main"
top_up = "none"
[tank.main]
length = "1 m"
width = "1 m"
depth = "1 m"
floor = "0 m"
level = "0.9 m"
lid = "foam"
cladding = "foam"
cladding_thickness = "50 mm"
)" + more;
  Problems problems;
  Loop loop = make_loop(read_description(text, "loop.toml", problems), problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  return loop;
}

struct Done {
  Loop loop;
  Weather weather = same_days(loop.site.place);
  answers::AheadAnswer answer = answers::ahead(loop, weather, {kFirst, kDays});

  explicit Done(Loop l) : loop(std::move(l)) { EXPECT_TRUE(answer.finished) << answer.said; }

  /// What an account brought into the loop.
  double brought(Ledger ledger, std::string_view account) const {
    for (const auto& table : answer.books)
      for (const auto& line : table.lines)
        if (table.ledger == ledger && line.account == account) return line.amount;
    ADD_FAILURE() << "no account " << account;
    return 0.0;
  }
  double heat(std::string_view account) const { return brought(Ledger::heat, account); }
  double warmest_at_end() const { return answer.vessels[0].days.back().temperature_high.value; }
};

void expect_closed(const Done& run) {
  for (const auto& table : run.answer.books) EXPECT_LT(std::abs(table.closure), 1e-9) << ledger_name(table.ledger);
}

const std::string kAir = "[air.line]\nto = \"tank.main\"\ndepth = \"0.6 m\"\nflow = ";

TEST(AirLine, TakesTheHeatThatItsMoistAirCarriesOff) {
  const Done run(tank_with(kAir + "\"60 L/min\"\n"));
  // The same by hand from the hours of the answer: the relation that the tables of checks hold.
  const Forcing forcing(run.loop.site, run.weather);
  double joules = 0.0, litres = 0.0;
  for (int h = 0; h < 24 * kDays; ++h) {
    const auto water =
        Temperature<>::from_kelvin(run.answer.vessels[0].hourly_temperature[static_cast<std::size_t>(h)]);
    const Surroundings s = forcing.at({forcing.start().seconds + 3600.0 * h});
    const auto saturated = science::saturation_vapour_pressure(s.air);
    const science::BubbledAir<> air{Flow<>(1e-3), s.air, Number<>((s.vapour / saturated).si()), forcing.pressure,
                                    science::dry_air_density(s.air, s.vapour, forcing.pressure)};
    joules += 3600.0 * science::bubbled_air_heat_loss(water, air, science::latent_heat(water)).si();
    const double gained = (science::mixing_ratio(science::saturation_vapour_pressure(water), forcing.pressure) -
                           science::mixing_ratio(s.vapour, forcing.pressure))
                              .si();
    litres += 3600.0 * 1e-3 * air.density.si() * gained;
  }
  EXPECT_GT(joules, 0.0);
  // The water that leaves as vapour has its own warmth, 4.18 kJ per kg and degree, and stands in the account as well.
  const double with_water = joules + litres * 4180.0 * 19.0;
  EXPECT_NEAR(-run.heat("air_lines"), with_water, 0.01 * with_water);
  EXPECT_NEAR(-run.brought(Ledger::water, "air"), litres / 1000.0, 0.01 * litres / 1000.0);
  expect_closed(run);
}

TEST(AirLine, CoolsATankInDryAirAndMoreAirCoolsMore) {
  const Done none(tank_with("")), some(tank_with(kAir + "\"30 L/min\"\n")), more(tank_with(kAir + "\"90 L/min\"\n"));
  EXPECT_LT(some.warmest_at_end(), none.warmest_at_end());
  EXPECT_LT(more.warmest_at_end(), some.warmest_at_end());
  EXPECT_EQ(none.heat("air_lines"), 0.0);
}

TEST(AirLine, WarmsColdWaterWhoseVapourIsLessThanTheAirs) {
  Loop loop = tank_with(kAir + "\"60 L/min\"\n");
  loop.water.temperature = loop.site.ground = Temperature<>::from_celsius(6.0);
  const Done run(loop);
  EXPECT_GT(run.heat("air_lines"), 0.0);
  EXPECT_GT(run.brought(Ledger::water, "air"), 0.0);  // it condenses in the bubbles
  expect_closed(run);
}

/// What is left of a blower's warmth behind a hose, from the flow of heat that its air can carry.
TEST(AirLine, ABlowersPowerArrivesByWhatTheHoseLeaves) {
  const Done said(tank_with(kAir + "\"60 L/min\"\npower = \"35 W\"\n")), unsaid(tank_with(kAir + "\"60 L/min\"\n")),
      small(tank_with(kAir + "\"10 L/min\"\npower = \"35 W\"\n"));
  const double all = 35.0 * 86400.0 * kDays;
  const double carries = 1e-3 * 1.2 * 1005.0;
  EXPECT_NEAR(said.heat("power"), all * std::exp(-2.0 / carries), 1e-6 * all);
  EXPECT_EQ(unsaid.heat("power"), 0.0);
  EXPECT_LT(small.heat("power"), 1e-3 * all);
  EXPECT_GT(said.warmest_at_end(), unsaid.warmest_at_end());
  expect_closed(said);
}

/// A pump that stirs its own tank: all that it draws ends there.
TEST(Pump, WarmsTheWaterThatItStandsInByAllItsPower) {
  const auto stirred = [](const char* watts) {
    return Done(tank_with(std::string(R"(
[pump.stir]
in = "tank.main"
curve = [["0 L/h", "2 m"], ["2000 L/h", "1 m"], ["3000 L/h", "0 m"]]
dry_run_level = "0.05 m"
power = ")") + watts + R"("
[pipe.stir]
from = "pump.stir"
to = "tank.main"
bore = "40 mm"
length = "2 m"
)"));
  };
  const Done strong = stirred("60 W"), weak = stirred("10 W");
  EXPECT_NEAR(strong.heat("power"), 60.0 * 86400.0 * kDays, 1.0);
  EXPECT_NEAR(weak.heat("power"), 10.0 * 86400.0 * kDays, 1.0);
  // 50 W into 0.9 m3 for six days would be 6.9 K if nothing leaked; foam and ground keep more than a third of it.
  const double kept = strong.warmest_at_end() - weak.warmest_at_end();
  EXPECT_LT(kept, 50.0 * 86400.0 * kDays / (0.9 * 4.18e6));
  EXPECT_GT(kept, 50.0 * 86400.0 * kDays / (0.9 * 4.18e6) / 3.0);
  expect_closed(strong);
}

/// A gravel bed of stated porosity beside the tank, both in one loop.
Loop gravel_loop(double porosity) {
  return tank_with(R"(
[gravel_bed.bed]
area = "2 m2"
floor = "-0.6 m"
rim = "-0.2 m"
level = "-0.3 m"
porosity = )" + std::to_string(porosity) +
                   R"(
[overflow.out]
from = "tank.main"
to = "gravel_bed.bed"
rim = "0.9 m"
standpipe_bore = "80 mm"
[pump.back]
in = "gravel_bed.bed"
curve = [["0 L/h", "3 m"], ["2000 L/h", "1.6 m"], ["3000 L/h", "0 m"]]
dry_run_level = "-0.55 m"
power = "10 W"
[pipe.back]
from = "pump.back"
to = "tank.main"
bore = "40 mm"
length = "2 m"
outlet_level = "0.95 m"
)");
}

/// 3.0 MJ/m3/K for a flooded bed of 40 % voids, of which the water holds 1.67: the rest is the stones'.
TEST(Gravel, SharesItsWarmthWithTheWaterAroundIt) {
  const Loop loop = gravel_loop(0.4);
  const Weather weather = same_days(loop.site.place);
  const Plumbing plumbing(loop);
  const Settled running = settle(loop, plumbing, levels_at_rest(loop), Setting{});
  const Forcing forcing(loop.site, weather);
  const Equations equations(loop, plumbing, running, forcing);
  std::vector<double> y = equations.initial_state();
  const BodySlots& bed = equations.layout().bodies[1];
  const double water = y[static_cast<std::size_t>(bed.water)], joules = 1e6;
  EXPECT_NEAR(equations.body(1, y, 7.0).temperature.celsius(), 20.0, 1e-9);
  y[static_cast<std::size_t>(bed.heat)] += joules;
  const double stones = (3.0e6 - 0.4 * 4.18e6) * 2.0 * 0.4;
  const double warmer = equations.body(1, y, 7.0).temperature.celsius() - 20.0;
  EXPECT_NEAR(warmer, joules / (water * 4.18e6 + stones), 0.01 * warmer);
}

TEST(Gravel, BooksCloseWithStonesAndTheirShareIsNotLost) {
  const Done run(gravel_loop(0.4));
  expect_closed(run);
  EXPECT_NEAR(run.heat("power"), 10.0 * 86400.0 * kDays, 1.0);
}

}  // namespace
}  // namespace leat
