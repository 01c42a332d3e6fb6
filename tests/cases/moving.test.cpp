// Three systems that never stand still, from their descriptions, against answers computed elsewhere by other methods
// (quadrature, closed forms of the square-root law, fixed-step Runge-Kutta). Tolerances as stated with those answers:
// flows 0.3 %, levels 1 mm, volumes 1 L or 0.3 %, times 0.5 % or 1 s unless a line says otherwise.
#include <algorithm>

#include "model/flow/cycle.h"
#include "tests/loop_file.h"

namespace leat::model {
namespace {

using numerics::Then;

Flow<> litres_an_hour(double q) {
  return Flow<>(q / 3.6e6);
}
void expect_time(double seconds, double wanted) {
  EXPECT_NEAR(seconds, wanted, std::max(1.0, 0.005 * wanted));
}
void expect_share(double part, double all) {
  EXPECT_NEAR(part, all, 0.003 * std::abs(all) + 5e-5);
}
std::vector<double> times_of(const WaterRun& run, WaterChange what) {
  std::vector<double> times;
  for (const WaterEvent& e : run.events)
    if (e.what == what) times.push_back(e.at.si());
  return times;
}

// ---- case 3

struct SiphonRow {
  double inflow, fill, prime, drain, period, drain_share, wet_share, litres;
};

void PrintTo(const SiphonRow& row, std::ostream* out) {
  *out << row.inflow << " L/h";
}

class Case3 : public ::testing::TestWithParam<SiphonRow> {
 protected:
  Loop loop = tests::read_loop("tests/cases/case-3-open.toml");
};

TEST_P(Case3, FillsPrimesAndDrainsInItsTimes) {
  const SiphonRow& row = GetParam();
  loop.sources[0].float_flow = litres_an_hour(row.inflow);
  const Plumbing plumbing(loop);
  double at_rim = 0.0, wet = 0.0, out = 0.0;
  const WaterRun run =
      run_water(plumbing, water_at_rest(loop), {Duration<>(2.5 * row.period)}, [&](const WaterStep& s) {
        const double from = s.levels(s.from)[0].si(), to = s.levels(s.to)[0].si();
        if (at_rim == 0.0 && from < 1.15 && to >= 1.15)
          at_rim = s.from.si() + (s.to - s.from).si() * (1.15 - from) / (to - from);
        return Then::go_on;
      });
  ASSERT_TRUE(run.finished);
  const auto primes = times_of(run, WaterChange::siphon_primes), breaks = times_of(run, WaterChange::siphon_breaks);
  ASSERT_GE(breaks.size(), 2u);
  expect_time(at_rim, row.fill);
  EXPECT_NEAR(primes[0] - at_rim, row.prime, 3.0);  // it depends on the law of the rim
  expect_time(breaks[0] - primes[0], row.drain);
  expect_time(breaks[1] - breaks[0], row.period);
  // One whole cycle, from break to break: shares of time and what leaves while it drains.
  WaterState state = water_at_rest(loop);
  const WaterRun first = run_water(plumbing, state, {Duration<>(breaks[0] + 1e-6)});
  WaterPlan cycle{Duration<>(breaks[1] - breaks[0])};
  run_water(plumbing, first.end, cycle, [&](const WaterStep& s) {
    const int pieces = 200;
    for (int k = 0; k < pieces; ++k) {
      const Duration<> when = s.from + ((k + 0.5) / pieces) * (s.to - s.from);
      const double dt = (s.to - s.from).si() / pieces;
      if (s.levels(when)[0].si() > 1.045) wet += dt;
      if (s.setting->primed[0]) out += dt * s.flows(when).siphons[0].si();
    }
    return Then::go_on;
  });
  expect_share(wet / row.period, row.wet_share);
  EXPECT_NEAR(1e3 * out, row.litres, std::max(1.0, 0.003 * row.litres));
  expect_share((breaks[1] - primes[1]) / (breaks[1] - breaks[0]), row.drain_share);
}

INSTANTIATE_TEST_SUITE_P(Inflows, Case3,
                         ::testing::Values(SiphonRow{600, 604.80, 94.68, 175.54, 875.02, 0.2006, 0.5518, 135.31},
                                           SiphonRow{900, 403.20, 31.14, 203.90, 638.24, 0.3195, 0.5188, 157.02},
                                           SiphonRow{1200, 302.40, 20.38, 243.34, 566.12, 0.4298, 0.5070, 187.16},
                                           SiphonRow{1800, 201.60, 12.26, 399.67, 613.53, 0.6514, 0.4725, 305.89}),
                         [](const auto& row) { return std::to_string(static_cast<int>(row.param.inflow)); });

TEST(Case3Window, PrimingFlowAndFlowsWhileFull) {
  const Loop loop = tests::read_loop("tests/cases/case-3-open.toml");
  const Plumbing plumbing(loop);
  const Siphon& s = loop.siphons[0];
  EXPECT_NEAR(plumbing.priming_flow(s).in(units::litre_per_hour), 572.8, 1.7);
  EXPECT_NEAR(plumbing.full_flow(0, Length<>(1.16093), Length<>(0.1)).in(units::litre_per_hour), 3094.6, 9.3);
  EXPECT_NEAR(plumbing.full_flow(0, Length<>(0.94), Length<>(0.1)).in(units::litre_per_hour), 2462.5, 7.4);
}

TEST(Case3Window, BelowItDribblesForEverAboveItNeverBreaks) {
  for (const auto& [inflow, level, primed] : {std::tuple{450.0, 1.1591, false}, std::tuple{2600.0, 0.9839, true}}) {
    Loop loop = tests::read_loop("tests/cases/case-3-open.toml");
    loop.sources[0].float_flow = litres_an_hour(inflow);
    const Plumbing plumbing(loop);
    const WaterRun run = run_water(plumbing, water_at_rest(loop), {Duration<>(6.0 * 3600.0)});
    ASSERT_TRUE(run.finished);
    EXPECT_NEAR(run.end.levels[0].si(), level, 0.001);
    EXPECT_EQ(bool(run.end.setting.primed[0]), primed);
    EXPECT_TRUE(times_of(run, WaterChange::siphon_breaks).empty());
  }
}

TEST(Case3Loop, TheSumpSwingsByWhatTheBedHolds) {
  const Loop loop = tests::read_loop("tests/cases/case-3.toml");
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic) << cycle.said;
  expect_time(cycle.period.si(), 638.24);
  EXPECT_NEAR(cycle.vessels[1].low.si(), 0.3434, 0.001);
  EXPECT_NEAR(cycle.vessels[1].high.si(), 0.4760, 0.001);
  EXPECT_NEAR(cycle.vessels[0].mean_water.si(), 0.07209, 0.001);
}

/// Tank, bed and sump in a ring: the tracer's tank has constant volume, so it is a held one that the flow passes.
class Case3Tracer : public ::testing::Test {
 protected:
  Loop loop = tests::read_loop("tests/cases/case-3-tracer.toml");
  Plumbing plumbing{loop};
  Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  /// Tank, bed, sump.
  std::size_t places[3] = {place("tank.ring"), place("gravel_bed.bed"), place("sump.main")};

  std::size_t place(const char* path) const { return static_cast<std::size_t>(loop.vessel_index(path)); }
};

TEST_F(Case3Tracer, OneCycleMatrix) {
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic) << cycle.said;
  expect_time(cycle.period.si(), 638.24);
  EXPECT_NEAR(cycle.mean.pumps[0].in(units::litre_per_hour), 900.0, 0.1);
  const Transport t = transport_over(plumbing, cycle);
  const double wanted[3][3] = {
      {0.861981, 0.001482, 0.136537}, {0.845365, 0.058725, 0.095909}, {0.319822, 0.043567, 0.636612}};
  for (std::size_t i = 0; i < 3; ++i) {
    double row = 0.0;
    for (std::size_t j = 0; j < 3; ++j) {
      EXPECT_NEAR(t(places[i], places[j]), wanted[i][j], 2e-4) << i << j;
      row += t(places[i], places[j]);
    }
    EXPECT_NEAR(row, 1.0, 1e-12);
  }
  for (std::size_t j = 0; j < 3; ++j) {
    double mass = 0.0;
    for (std::size_t i = 0; i < 3; ++i) mass += t.volumes[i].si() * t(i, j);
    EXPECT_NEAR(mass, t.volumes[j].si(), 2e-6);
  }
}

TEST_F(Case3Tracer, AveragedFlowsAreWrongAtFirstAndRightInTheEnd) {
  const Transport t = transport_over(plumbing, cycle);
  std::vector<double> c(3, 0.0);
  c[places[0]] = 1.0;
  const std::vector<double> start = c;
  const double exact[][4] = {{1, 0.86198, 0.84537, 0.31982},
                             {3, 0.75085, 0.76310, 0.61581},
                             {6, 0.71875, 0.72028, 0.70225},
                             {12, 0.71435, 0.71437, 0.71411}};
  const double averaged[][4] = {{1, 0.86691, 0.80691, 0.22846},
                                {3, 0.75285, 0.76887, 0.58467},
                                {6, 0.71905, 0.72124, 0.69822},
                                {12, 0.71436, 0.71439, 0.71404}};
  int cycles = 0;
  for (int row = 0; row < 4; ++row) {
    for (; cycles < exact[row][0]; ++cycles) {
      std::vector<double> next(3, 0.0);
      for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) next[i] += t(i, j) * c[j];
      c = next;
    }
    const auto mean = averaged_concentrations(cycle, start, exact[row][0] * cycle.period);
    for (std::size_t i = 0; i < 3; ++i) {
      EXPECT_NEAR(c[places[i]], exact[row][i + 1], 0.003) << row << i;
      EXPECT_NEAR(mean[places[i]], averaged[row][i + 1], 0.003) << row << i;
    }
  }
}

/// The tank's mean over the second day and those after it, from the resolved cycles and from the averaged water.
TEST_F(Case3Tracer, ResolvedAndAveragedAgreeOnDailyMeans) {
  const Transport t = transport_over(plumbing, cycle);
  std::vector<double> c(3, 0.0);
  c[places[0]] = 1.0;
  const std::vector<double> start = c;
  const double period = cycle.period.si(), day = 86400.0;
  std::vector<double> resolved(3, 0.0), averaged(3, 0.0);
  int cycles = 0;
  for (double now = 0.0; now < day; now += period, ++cycles) {
    const auto mean = averaged_concentrations(cycle, start, Duration<>(now));
    for (std::size_t i = 0; i < 3; ++i) {
      resolved[i] += c[i];
      averaged[i] += mean[i];
    }
    std::vector<double> next(3, 0.0);
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j) next[i] += t(i, j) * c[j];
    c = next;
  }
  // The sump alone is off by more in the first cycles (-29 % in the first); over the day that is a tenth of a percent.
  for (std::size_t i = 0; i < 3; ++i)
    EXPECT_NEAR(resolved[i] / cycles, averaged[i] / cycles, 0.005 * resolved[i] / cycles) << i;
}

TEST_F(Case3Tracer, AveragingIsRefusedWhereItDoesNotHold) {
  EXPECT_EQ(why_not_averaged(loop, plumbing, cycle), "");
  Loop slow = tests::read_loop("tests/cases/case-3-tracer.toml");
  slow.pumps[0].curve = science::PumpCurve::parabola(Length<>(100.0), litres_an_hour(640.0));
  const Plumbing edge(slow);
  const Cycle near_edge = find_cycle(edge, water_at_rest(slow));
  EXPECT_NE(why_not_averaged(slow, edge, near_edge).find("edge of its window"), std::string::npos);
}

// ---- case 4

struct HoleRow {
  double hole_mm, at_start, rim_after, at_stop, over_l, through_l, wet_share;
};

void PrintTo(const HoleRow& row, std::ostream* out) {
  *out << row.hole_mm << " mm";
}

class Case4 : public ::testing::TestWithParam<HoleRow> {
 protected:
  Loop loop = tests::read_loop("tests/cases/case-4.toml");
};

TEST_P(Case4, TheSettledHour) {
  const HoleRow& row = GetParam();
  loop.drain_holes[0].diameter = Length<>(1e-3 * row.hole_mm);
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic) << cycle.said;
  EXPECT_NEAR(cycle.period.si(), 3600.0, 1e-6);
  EXPECT_NEAR(cycle.start.levels[0].si() - 1.0, row.at_start, 0.001);
  double rim_after = 0.0, wet = 0.0;
  run_water(plumbing, cycle.start, {Duration<>(3600.0)}, [&](const WaterStep& s) {
    const double from = s.levels(s.from)[0].si(), to = s.levels(s.to)[0].si();
    if (from < 1.22 && to >= 1.22) rim_after = s.from.si() + (s.to - s.from).si() * (1.22 - from) / (to - from);
    for (int k = 0; k < 40; ++k)
      if (s.levels(s.from + ((k + 0.5) / 40) * (s.to - s.from))[0].si() > 1.10) wet += (s.to - s.from).si() / 40;
    return Then::go_on;
  });
  expect_time(rim_after, row.rim_after);
  EXPECT_NEAR(cycle.vessels[0].high.si() - 1.0, row.at_stop, 0.001);
  EXPECT_NEAR(cycle.mean.overflows[0].si() * 3.6e6, row.over_l, std::max(1.0, 0.003 * row.over_l));
  EXPECT_NEAR(cycle.mean.drain_holes[0].si() * 3.6e6, row.through_l, std::max(1.0, 0.003 * row.through_l));
  EXPECT_NEAR(wet / 3600.0, row.wet_share, 0.002);
  EXPECT_NEAR((cycle.mean.overflows[0] + cycle.mean.drain_holes[0]).in(units::litre_per_hour), 375.0, 1.2);
}

INSTANTIATE_TEST_SUITE_P(Holes, Case4,
                         ::testing::Values(HoleRow{16, 0.0, 594.2, 0.2275, 44.40, 330.60, 0.2937},
                                           HoleRow{8, 0.0338, 317.8, 0.2328, 201.02, 173.98, 0.6284}),
                         [](const auto& row) { return std::to_string(static_cast<int>(row.param.hole_mm)) + "mm"; });

TEST(Case4Hole, EmptiesAfter1103Seconds) {
  const Loop loop = tests::read_loop("tests/cases/case-4.toml");
  const Plumbing plumbing(loop);
  EXPECT_NEAR(plumbing.flows(std::vector{Length<>(1.22), Length<>(0.3)}, {}).drain_holes[0].in(units::litre_per_hour),
              917.3, 2.8);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  double empty = 0.0;
  run_water(plumbing, cycle.start, {Duration<>(3600.0)}, [&](const WaterStep& s) {
    if (s.from.si() < 900.0 || s.levels(s.to)[0].si() - 1.0 > 1e-6 || empty > 0.0) return Then::go_on;
    empty = s.to.si() - 900.0;
    return Then::go_on;
  });
  EXPECT_NEAR(empty, 1102.9, 5.5);  // 0.5 %; the last seconds are the tail of the square root
}

// ---- case 5

class Case5 : public ::testing::Test {
 protected:
  Loop loop = tests::read_loop("tests/cases/case-5.toml");
};

TEST_F(Case5, FlowOfEachOutletAtTwoLevelsOfTheSump) {
  const Plumbing plumbing(loop);
  const double at_half[] = {3425.63, 3282.70, 3026.50, 2448.42}, at_third[] = {3335.01, 3195.19, 2938.38, 2351.81};
  const double heads[] = {2.2824, 2.5018, 2.8721, 3.5994};
  for (int k = 0; k < 4; ++k) {
    WaterState state = water_at_rest(loop);
    state.setting.turn = {k};
    for (const auto& [sump, wanted] : {std::pair{0.5, at_half[k]}, std::pair{0.3, at_third[k]}}) {
      state.levels[static_cast<std::size_t>(loop.vessel_index("sump.main"))] = Length<>(sump);
      const Flows f = plumbing.flows(state.levels, state.setting);
      EXPECT_NEAR(f.pumps[0].in(units::litre_per_hour), wanted, 0.003 * wanted);
      if (sump == 0.5) {
        EXPECT_NEAR(f.valve_outlet_heads[0].si(), heads[k], 0.001);
      }
    }
  }
}

TEST_F(Case5, TheSettledRoundOfFourTurns) {
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic) << cycle.said;
  EXPECT_NEAR(cycle.period.si(), 48.0 * 60.0, 1e-6);
  const double visit[] = {457.90, 438.85, 404.84, 328.18}, highest[] = {0.2305, 0.2275, 0.2225, 0.2160};
  const double mean[] = {572.4, 548.6, 506.0, 410.2};
  for (std::size_t k = 0; k < 4; ++k) {
    const auto bed = static_cast<std::size_t>(loop.vessel_index("gravel_bed.b" + std::to_string(k + 1)));
    const Flow<> q = cycle.mean.pipes[1 + k];
    EXPECT_NEAR(q.in(units::litre_per_hour), mean[k], 0.003 * mean[k]);
    EXPECT_NEAR((q * cycle.period).in(units::litre), visit[k], std::max(1.0, 0.003 * visit[k]));
    EXPECT_NEAR((cycle.vessels[bed].high - loop.vessels[bed].floor).si(), highest[k], 0.001);
  }
  const auto sump = static_cast<std::size_t>(loop.vessel_index("sump.main"));
  EXPECT_NEAR(cycle.vessels[sump].low.si(), 0.5024, 0.001);
  EXPECT_NEAR(cycle.vessels[sump].high.si(), 0.5758, 0.001);
}

TEST_F(Case5, SumpAtEachPumpStopAndWhatIsLeftInBedFour) {
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  const double at_stop[] = {0.5250, 0.5260, 0.5281, 0.5307};
  const auto sump = static_cast<std::size_t>(loop.vessel_index("sump.main"));
  const auto four = static_cast<std::size_t>(loop.vessel_index("gravel_bed.b4"));
  WaterState state = cycle.start;
  int seen = 0;
  for (int stop = 0; stop < 4; ++stop) {
    WaterPlan to_stop{Duration<>(3600.0)};
    to_stop.until = [](const WaterEvent& e) { return e.what == WaterChange::pump_stops; };
    state = run_water(plumbing, state, to_stop).end;
    EXPECT_NEAR(state.levels[sump].si(), at_stop[state.setting.turn[0]], 0.001);
    seen += state.setting.turn[0];
    if (state.setting.turn[0] != 3) continue;
    const WaterState later = run_water(plumbing, state, {Duration<>(240.0)}).end;
    EXPECT_NEAR((later.levels[four] - loop.vessels[four].floor).si(), 0.1106, 0.001);
  }
  EXPECT_EQ(seen, 0 + 1 + 2 + 3);
}

TEST_F(Case5, StuckOnOutletFourEveryMeanLevelLooksHealthy) {
  loop.valves[0].stuck = true;
  loop.valves[0].first = 3;
  const Plumbing plumbing(loop);
  const Cycle cycle = find_cycle(plumbing, water_at_rest(loop));
  ASSERT_EQ(cycle.kind, Cycle::Kind::periodic) << cycle.said;
  EXPECT_NEAR((cycle.mean.pipes[4] * Duration<>(2880.0)).in(units::litre), 1315.2, 4.0);
  for (std::size_t k = 1; k < 4; ++k) EXPECT_NEAR(cycle.mean.pipes[k].si(), 0.0, 1e-12);
  const auto sump = static_cast<std::size_t>(loop.vessel_index("sump.main"));
  const auto four = static_cast<std::size_t>(loop.vessel_index("gravel_bed.b4"));
  EXPECT_NEAR((cycle.vessels[four].high - loop.vessels[four].floor).si(), 0.2160, 0.001);
  EXPECT_NEAR(cycle.vessels[sump].low.si(), 0.5336, 0.001);
  EXPECT_NEAR(cycle.vessels[sump].high.si(), 0.5758, 0.001);
}

TEST_F(Case5, BelowTheLiftFlowTheValveStays) {
  // The limit of outlet 4 is met with the sump at 0.1325 m; a centimetre lower it does not lift its disc any more.
  for (const auto& [level, turns] : {std::pair{0.1425, true}, std::pair{0.1225, false}}) {
    loop.vessels[static_cast<std::size_t>(loop.vessel_index("sump.main"))].held_level = Length<>(level);
    loop.valves[0].first = 3;
    const Plumbing plumbing(loop);
    const WaterRun run = run_water(plumbing, water_at_rest(loop), {Duration<>(13.0 * 60.0)});
    EXPECT_EQ(run.end.setting.turn[0], turns ? 0 : 3) << level;
  }
}

}  // namespace
}  // namespace leat::model
