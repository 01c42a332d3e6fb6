// The example loop as a system: its books close, its rates have no memory, its slopes are exact.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "answers/ahead.h"
#include "model/processes/nitrification.h"
#include "model/simulate/simulate.h"
#include "tests/loop_file.h"

namespace leat {
namespace {

using namespace model;

/// The example under the real record of its place.
struct Example {
  Loop loop = tests::read_loop("examples/first-loop/loop.toml");
  Plumbing plumbing{loop};
  Settled running = settle(loop, plumbing, levels_at_rest(loop), Setting{});
  Weather weather = make_weather();
  Forcing forcing{loop.site, weather};
  Equations equations{loop, plumbing, running, forcing};
  Instant start = loop.site.place.clock.instant({{2015, 3, 10}, 0.0});

  Weather make_weather() const {
    Problems problems;
    WeatherSources sources;
    sources.daily =
        read_daily_record(tests::slurp(std::string(LEAT_ROOT) + "/examples/weather/seattle-daily-2012-2015.csv"),
                          "seattle", "", problems);
    EXPECT_TRUE(problems.empty()) << problems.text();
    return assemble_weather(loop.site.place, sources, {2015, 3, 10}, 14);
  }
};

const Example& example() {
  static const Example e;
  return e;
}

TEST(Books, CloseToABillionthOverFourteenDaysOfTheExample) {
  const Trajectory run =
      simulate(example().loop, example().equations, example().start, {example().start.seconds + 14 * 86400.0});
  ASSERT_TRUE(run.finished) << run.said;
  for (const Ledger ledger : kLedgers)
    EXPECT_LT(std::abs(run.books.closure[static_cast<std::size_t>(ledger)]), 1e-9) << ledger_name(ledger);
}

/// What the flows carry of a ledger per time: rates are differences of these, so rounding is relative to them.
double carried(const Equations& eq, Ledger ledger, const std::vector<double>& y) {
  double sum = 0.0;
  for (const FlowPath& p : eq.paths()) {
    const BodySlots& b = eq.layout().bodies[static_cast<std::size_t>(p.from)];
    for (int slot = b.water; slot < b.carried + static_cast<int>(Contents<>::size); ++slot) {
      const auto i = static_cast<std::size_t>(slot);
      sum += p.flow.si() * std::abs(eq.layout().slots[i].contents[static_cast<std::size_t>(ledger)] * y[i] /
                                    y[static_cast<std::size_t>(b.water)]);
    }
  }
  return sum;
}

TEST(Books, EveryRateBalancesInEveryLedgerAtRandomStates) {
  const Equations& eq = example().equations;
  const Layout& layout = eq.layout();
  auto work = eq.scratch<double>();
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> factor(0.5, 1.5);
  std::vector<double> d(layout.size());
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<double> y = eq.initial_state();
    for (double& x : y) x = (x + 1e-3) * factor(random);
    const Instant t{example().start.seconds + 3600.0 * (trial % 300)};
    ASSERT_TRUE(eq.rates<double>(t, y, eq.neutral_guesses(), work, d));
    for (const Ledger ledger : kLedgers) {
      double sum = 0.0, size = 1e-30;
      for (std::size_t i = 0; i < d.size(); ++i) {
        const double share = layout.slots[i].contents[static_cast<std::size_t>(ledger)] * d[i];
        sum += share;
        size += std::abs(share);
      }
      EXPECT_LT(std::abs(sum) / (size + carried(eq, ledger, y)), 1e-13) << ledger_name(ledger);
    }
  }
}

TEST(Rates, HaveNoMemory) {
  const Equations& eq = example().equations;
  auto work = eq.scratch<double>();
  const std::vector<double> a = eq.initial_state();
  std::vector<double> b = a;
  for (double& x : b) x *= 1.07;
  std::vector<double> first(a.size()), between(a.size()), second(a.size());
  const Instant t{example().start.seconds + 40000.0};
  ASSERT_TRUE(eq.rates<double>(t, a, eq.neutral_guesses(), work, first));
  ASSERT_TRUE(eq.rates<double>({t.seconds + 9999.0}, b, eq.neutral_guesses(), work, between));
  ASSERT_TRUE(eq.rates<double>(t, a, eq.neutral_guesses(), work, second));
  EXPECT_EQ(first, second);
  EXPECT_NE(first, between);
}

TEST(Rates, JacobianMatchesDifferences) {
  const Equations& eq = example().equations;
  const std::size_t n = eq.layout().size();
  auto work = eq.scratch<double>();
  auto dual_work = eq.scratch<JacobianDual>();
  std::vector<JacobianDual> room;
  const numerics::Pattern& pattern = eq.pattern();
  std::vector<double> y = eq.initial_state(), entries(pattern.entries()), up(n), down(n);
  for (std::size_t g = 0; g < eq.layout().fish.size(); ++g)
    for (const int slot : eq.layout().fish[g].gut) y[static_cast<std::size_t>(slot)] = 0.02;
  const Instant t{example().start.seconds + 50000.0};
  ASSERT_TRUE(eq.jacobian(t, y, eq.neutral_guesses(), dual_work, room, entries));
  for (std::size_t j = 0; j < n; ++j) {
    const double step = 1e-6 * (std::abs(y[j]) + eq.layout().slots[j].nominal * 1e-3);
    std::vector<double> moved = y;
    moved[j] = y[j] + step;
    ASSERT_TRUE(eq.rates<double>(t, moved, eq.neutral_guesses(), work, up));
    moved[j] = y[j] - step;
    ASSERT_TRUE(eq.rates<double>(t, moved, eq.neutral_guesses(), work, down));
    std::vector<double> column(n, 0.0);
    for (auto k = static_cast<std::size_t>(pattern.starts[j]); k < static_cast<std::size_t>(pattern.starts[j + 1]); ++k)
      column[static_cast<std::size_t>(pattern.rows[k])] = entries[k];
    for (std::size_t i = 0; i < n; ++i) {
      const double difference = (up[i] - down[i]) / (2.0 * step);
      const double noise = 1e-9 * (std::abs(up[i]) + std::abs(down[i])) / step;
      EXPECT_NEAR(column[i], difference, 2e-5 * std::abs(difference) + noise + 1e-15)
          << "d " << eq.layout().slots[i].path << " / d " << eq.layout().slots[j].path;
    }
  }
}

TEST(Stoichiometry, EveryRowBalancesChargeNitrogenOxygenAndHydrogen) {
  for (const Stoichiometry& s : {ammonia_oxidation, nitrite_oxidation}) {
    EXPECT_DOUBLE_EQ(s.ammonium - s.nitrite - s.nitrate + s.protons, 0.0) << s.name;                // charge
    EXPECT_DOUBLE_EQ(s.ammonium + s.nitrite + s.nitrate, 0.0) << s.name;                            // nitrogen
    EXPECT_DOUBLE_EQ(2.0 * s.nitrite + 3.0 * s.nitrate + 2.0 * s.oxygen + s.water, 0.0) << s.name;  // oxygen
    EXPECT_DOUBLE_EQ(4.0 * s.ammonium + s.protons + 2.0 * s.water, 0.0) << s.name;                  // hydrogen
  }
}

/// Alkalinity follows from charge: what a process does to the slots must be what its written reaction does to acid.
TEST(Stoichiometry, AlkalinityOfTheSlotsFollowsTheProtonsOfTheReaction) {
  for (const Stoichiometry& s : {ammonia_oxidation, nitrite_oxidation}) {
    // alkalinity = strong ions - nitrate + ammonia - nitrite
    EXPECT_DOUBLE_EQ(-s.nitrate + s.ammonium - s.nitrite, -s.protons) << s.name;
  }
}

TEST(Run, StopsExactlyAtMealsAndSaysSo) {
  const Trajectory run =
      simulate(example().loop, example().equations, example().start, {example().start.seconds + 2 * 86400.0});
  ASSERT_EQ(run.happenings.size(), 4u);
  const double hours[] = {8.5, 16.5, 32.5, 40.5};
  for (std::size_t i = 0; i < 4; ++i)
    EXPECT_EQ(run.happenings[i].when.seconds, example().start.seconds + hours[i] * 3600.0);
}

TEST(Run, TighterToleranceChangesTheAnswerByLessThanItsRounding) {
  const Instant end{example().start.seconds + 5 * 86400.0};
  const Trajectory usual = simulate(example().loop, example().equations, example().start, end);
  const Trajectory tight = simulate(example().loop, example().equations, example().start, end, {1e-8});
  for (std::size_t d = 0; d < 5; ++d)
    for (std::size_t b = 0; b < example().loop.vessels.size(); ++b) {
      EXPECT_NEAR(usual.days[d].bodies[b].temperature.low, tight.days[d].bodies[b].temperature.low, 0.01);
      EXPECT_NEAR(usual.days[d].bodies[b].temperature.high, tight.days[d].bodies[b].temperature.high, 0.01);
      EXPECT_NEAR(usual.days[d].bodies[b].oxygen.low * 31.998, tight.days[d].bodies[b].oxygen.low * 31.998, 0.01);
    }
}

TEST(Run, SparseAndDenseMatricesAgree) {
  const Instant end{example().start.seconds + 3 * 86400.0};
  const Trajectory sparse = simulate(example().loop, example().equations, example().start, end, {1e-7, false});
  const Trajectory dense = simulate(example().loop, example().equations, example().start, end, {1e-7, true});
  const Layout& layout = example().equations.layout();
  for (std::size_t i = 0; i < layout.size(); ++i) {
    if (layout.slots[i].outside) continue;
    EXPECT_NEAR(sparse.states.back()[i], dense.states.back()[i],
                2e-6 * layout.slots[i].nominal + 2e-6 * std::abs(dense.states.back()[i]))
        << layout.slots[i].path;
  }
}

TEST(Run, SameInputsGiveTheSameBits) {
  const Instant end{example().start.seconds + 2 * 86400.0};
  const Trajectory a = simulate(example().loop, example().equations, example().start, end);
  const Trajectory b = simulate(example().loop, example().equations, example().start, end);
  EXPECT_EQ(a.states, b.states);
}

/// Growth is the smaller of what energy and warmth allow: over a fortnight within a tenth of the thermal-unit law.
TEST(Fish, GrowByTheThermalUnitLawWhenFedByRule) {
  const answers::AheadAnswer a = answers::ahead(example().loop, example().weather, {{2015, 3, 10}, 14});
  double degree_days = 0.0;
  for (const auto& d : a.vessels[0].days)
    degree_days += 0.5 * (d.temperature_low.value + d.temperature_high.value) - 273.15;
  const double law = std::pow(std::cbrt(75.0) + 1.74e-3 * degree_days, 3.0);
  EXPECT_NEAR(a.fish[0].mean_mass.back() * 1e3, law, 0.1 * (law - 75.0));
}

}  // namespace
}  // namespace leat
