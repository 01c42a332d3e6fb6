// The heat of a cubic metre in ways that growers build it, on a hot clear week of a real record (Seattle, 30 June 2015,
// after a week of the same weather), against swings that an independent program computed for the same set-ups
// (geometry 1.0 m square and deep, 2 mm polyethylene, water 5 cm below the rim, lid gap 5 cm, half the sun on a clear
// wall let in).
#include <gtest/gtest.h>

#include "answers/ahead.h"
#include "model/flow/paths.h"
#include "model/processes/heat.h"
#include "science/heat/daily_swing.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using namespace model;

/// The week from 30 June 2015, twice in a row.
Weather same_week_twice(const Place& place) {
  Problems problems;
  DailyRecord record = read_daily_record(
      tests::slurp(std::string(LEAT_ROOT) + "/examples/weather/seattle-daily-2012-2015.csv"), "seattle", "", problems);
  EXPECT_TRUE(problems.empty()) << problems.text();
  const CivilDate first{2015, 6, 30};
  WeatherSources sources;
  sources.daily = DailyRecord{};
  for (int d = -7; d < 7; ++d)
    for (const WeatherDay& day : record.days)
      if (day.date == first.plus_days((d + 7) % 7)) {
        WeatherDay copy = day;
        copy.date = first.plus_days(d);
        sources.daily->days.push_back(copy);
      }
  return assemble_weather(place, sources, first.plus_days(-7), 14);
}

/// Mean swing of the tank over the second week.
double swing_of(const std::string& set_up) {
  const Loop loop = tests::read_loop("tests/cases/heat/set-up-" + set_up + ".toml");
  const answers::AheadAnswer a = answers::ahead(loop, same_week_twice(loop.site.place), {{2015, 6, 23}, 14});
  EXPECT_TRUE(a.finished) << a.said;
  double sum = 0.0;
  for (std::size_t d = 7; d < 14; ++d) sum += a.vessels[0].days[d].swing;
  return sum / 7.0;
}

struct SetUp {
  const char* name;
  double swing;
};
void PrintTo(const SetUp& s, std::ostream* out) {
  *out << "set-up " << s.name;
}

class HotClearWeek : public ::testing::TestWithParam<SetUp> {};

TEST_P(HotClearWeek, SwingIsWithinFifteenPercent) {
  EXPECT_NEAR(swing_of(GetParam().name), GetParam().swing, 0.15 * GetParam().swing);
}

INSTANTIATE_TEST_SUITE_P(SetUps, HotClearWeek,
                         ::testing::Values(SetUp{"1", 6.72}, SetUp{"1b", 5.68}, SetUp{"1c", 7.7}, SetUp{"2", 4.8},
                                           SetUp{"2b", 3.7}, SetUp{"2c", 1.22}, SetUp{"3a", 0.52}, SetUp{"3d", 6.2}),
                         [](const auto& p) { return std::string("set_up_") + p.param.name; });

TEST(HotClearWeek, EachMeasureDampsMoreThanTheOneBefore) {
  const double clear = swing_of("1"), board = swing_of("1b"), half = swing_of("2b"), full = swing_of("2c"),
               sunk = swing_of("3a");
  EXPECT_GT(clear, board);
  EXPECT_GT(board, half);
  EXPECT_GT(half, full);
  EXPECT_GT(full, sunk);
}

/// The covered bed is left to its order only: 1.5 K was given for it, this model has 1.1 with the bed sunk like the
/// tank and 2.3 with its sides bare, and which was meant is not said.
TEST(HotClearWeek, AnOpenBedRaisesTheSwingOfASunkTankMoreThanACoveredOne) {
  EXPECT_GT(swing_of("3c"), swing_of("3a"));
  EXPECT_GT(swing_of("3d"), swing_of("3c"));
  EXPECT_GT(swing_of("3d"), 3.0 * swing_of("3a"));
}

/// One clear summer day over and over.
Weather settled_weather(const Place& place, int days) {
  WeatherSources sources;
  sources.daily = DailyRecord{};
  for (int d = 0; d < days; ++d) {
    WeatherDay day;
    day.date = CivilDate{2015, 6, 8}.plus_days(d);
    day.low = Temperature<>::from_celsius(12.0);
    day.high = Temperature<>::from_celsius(26.0);
    day.wind = Velocity<>(2.0);
    day.sky = model::Sky::clear;
    day.rain = Length<>(0.0);
    sources.daily->days.push_back(day);
  }
  return assemble_weather(place, sources, {2015, 6, 8}, days);
}

/// Waves and means of what acts on the vessels over one day that starts at local midnight.
struct DrivingDay {
  science::WeatherWaves level, walls;
  Temperature<> air;
  Velocity<> wind;
  Pressure<> vapour;
};

DrivingDay driving_day(const Forcing& forcing, Instant midnight) {
  std::vector<TemperatureDifference<>> air;
  std::vector<Flux<>> sun, wall_sun, sky, wall_sky;
  DrivingDay d;
  double air_sum = 0.0, wind_sum = 0.0, vapour_sum = 0.0;
  for (int i = 0; i < 96; ++i) {
    const Surroundings s = forcing.at({midnight.seconds + 900.0 * i});
    air.emplace_back(s.air.celsius());
    sun.push_back(s.sun);
    wall_sun.push_back(s.sun_on_walls);
    sky.push_back(s.sky);
    wall_sky.push_back(science::longwave_on_upright_wall(s.sky, s.air));
    air_sum += s.air.celsius() / 96.0;
    wind_sum += s.wind.si() / 96.0;
    vapour_sum += s.vapour.si() / 96.0;
  }
  const auto air_wave = science::first_harmonic<dim::temperature>(air);
  d.level = {air_wave, science::first_harmonic<dim::flux>(sun), science::first_harmonic<dim::flux>(sky)};
  d.walls = {air_wave, science::first_harmonic<dim::flux>(wall_sun), science::first_harmonic<dim::flux>(wall_sky)};
  d.air = Temperature<>::from_celsius(air_sum);
  d.wind = Velocity<>(wind_sum);
  d.vapour = Pressure<>(vapour_sum);
  return d;
}

/// Soil behind a thin wall: the two in series.
science::PeriodicWall soil_behind(double resistance) {
  science::PeriodicWall face = science::buried_face(science::soil_default);
  face.self = science::Wave<dim::conductance>(1.0 / (resistance + 1.0 / face.self.si()));
  return face;
}

/// The linear store that a vessel makes, from its own plan of faces.
science::SwingStore swing_store(const Vessel& v, Volume<> water, Temperature<> mean, const DrivingDay& d,
                                Pressure<> pressure) {
  const HeatPlan plan = heat_plan(v);
  const Conductance<> convection = science::external_convection(d.wind), film = science::external_film(d.wind, d.air);
  const science::ThermalResistance<> outside(1.0 / film.si());
  science::SwingStore store{HeatCapacity<>(water.si() * water_heat.si()), {}, {}};
  for (const WallFace& wall : plan.walls) {
    const auto wave = science::sol_air_wave(d.walls, convection, film, wall.absorptance);
    std::vector<science::WallLayer> layers;
    if (wall.store.si() > 0.0) {
      layers.push_back(science::massless_layer(
          science::ThermalResistance<>(1.0 / wall.to_store.si() - 0.5 * v.cladding_thickness.si() / 0.13)));
      layers.push_back(science::massive_layer(v.cladding_thickness, Conductivity<>(0.13), VolumetricHeat<>(0.8e6)));
    } else {
      layers.push_back(science::massless_layer(science::ThermalResistance<>(1.0 / wall.to_skin.si())));
    }
    layers.push_back(science::massless_layer(outside));
    store.add_face(wall.area, science::periodic_wall(layers), wave);
  }
  if (plan.cover.what == Cover::What::slab) {
    const std::vector<science::WallLayer> layers{
        science::massless_layer(science::ThermalResistance<>(1.0 / plan.cover.to_skin.si())),
        science::massless_layer(outside)};
    store.add_face(plan.cover.area, science::periodic_wall(layers),
                   science::sol_air_wave(d.level, convection, film, plan.cover.absorptance));
  }
  if (plan.open.si() > 0.0) {
    const science::AirOverWater<> over{d.air, d.vapour, pressure, d.wind};
    store.add_open_surface(plan.open, mean, science::wind_function_adams(mean, over, plan.open), pressure, d.level,
                           water_albedo);
  }
  store.add_face(plan.soil.area, soil_behind(1.0 / 200.0 + v.wall_thickness.si() / 0.5));
  return store;
}

TEST(SettledClearWeek, SwingsOfTwoCoupledStoresAreWithinTenPercentOfTheClosedForm) {
  const int days = 21;
  const Loop loop = tests::read_loop("tests/cases/heat/two-stores.toml");
  const Weather weather = settled_weather(loop.site.place, days);
  const answers::AheadAnswer a = answers::ahead(loop, weather, {{2015, 6, 8}, days});
  ASSERT_TRUE(a.finished) << a.said;

  const Plumbing plumbing(loop);
  const Settled running = settle(loop, plumbing, levels_at_rest(loop), Setting{});
  const Forcing forcing(loop.site, weather);
  const DrivingDay d =
      driving_day(forcing, loop.site.place.clock.instant({CivilDate{2015, 6, 8}.plus_days(days - 2), 0.0}));
  std::vector<science::SwingStore> stores;
  for (std::size_t v = 0; v < 2; ++v) {
    const auto& last = a.vessels[v].days[days - 2];
    const auto mean = Temperature<>::from_kelvin(0.5 * (last.temperature_low.value + last.temperature_high.value));
    stores.push_back(
        swing_store(loop.vessels[v], loop.vessels[v].volume_at(running.levels[v]), mean, d, forcing.pressure));
  }
  const auto waves = science::daily_waves(stores[0], stores[1],
                                          science::HeatFlowPerKelvin<>(running.flows.pumps[0].si() * water_heat.si()));
  const double first = science::swing_of(waves.first).si(), second = science::swing_of(waves.second).si();
  EXPECT_NEAR(a.vessels[0].days[days - 2].swing, first, 0.1 * first);
  EXPECT_NEAR(a.vessels[1].days[days - 2].swing, second, 0.1 * second);
  EXPECT_NEAR(a.vessels[0].days[days - 2].temperature_high.hour, science::crest_time(waves.first).si() / 3600.0, 1.0);
}

}  // namespace
}  // namespace leat
