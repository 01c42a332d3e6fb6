#include "numerics/network.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace leat::numerics {
namespace {

/// Links and their laws together.
struct Lawful {
  Network network;
  std::vector<std::function<LossAndSlope(double)>> laws;

  void add(int from, int to, std::function<LossAndSlope(double)> law, bool one_way = false) {
    network.links.push_back({from, to, one_way, false});
    laws.push_back(std::move(law));
  }
  LinkLaw law() const {
    return [this](std::size_t link, double q) { return laws[link](q); };
  }
  NetworkSolution solve(std::span<const double> heads) const { return solve_network(network, law(), heads); }
};

auto square_law(double r) {
  return [r](double q) { return LossAndSlope{r * q * std::abs(q) + q, 2.0 * r * std::abs(q) + 1.0}; };
}
auto pump_law(double shut_off, double r) {
  return [=](double q) { return LossAndSlope{-(shut_off - r * q * std::abs(q)) + q, 2.0 * r * std::abs(q) + 1.0}; };
}

TEST(SolveNetwork, OnePipeBetweenTwoLevels) {
  Lawful n;
  n.add(0, 1, square_law(1e6));
  const double heads[] = {2.0, 1.0};
  const NetworkSolution s = n.solve(heads);
  ASSERT_TRUE(s.solved);
  EXPECT_NEAR(s.flows[0], 1e-3, 1e-6);
}

TEST(SolveNetwork, OneWayOutletsCloseInsteadOfSucking) {
  // A pump feeds a junction with a wide low outlet and a narrow high one: the high one would suck air.
  Lawful n{{1, {}}, {}};
  n.add(1, 0, pump_law(3.0, 1e6), true);
  n.add(0, 2, square_law(1e4), true);
  n.add(0, 3, square_law(1e6), true);
  const double heads[] = {0.0, 0.2, 2.0};
  const NetworkSolution s = n.solve(heads);
  ASSERT_TRUE(s.solved);
  EXPECT_EQ(s.flows[2], 0.0);
  EXPECT_NEAR(s.flows[0], s.flows[1], 1e-12);
  EXPECT_LT(s.heads[0], 2.0);
}

TEST(SolveNetwork, WhatIsCutOffStandsStillAtItsLowestOutlet) {
  // A main of three nodes in a ring behind a shut pump, with two open ends above it.
  Lawful n{{3, {}}, {}};
  for (int i = 0; i < 3; ++i) n.add(i, (i + 1) % 3, square_law(1e5));
  n.add(3, 0, pump_law(5.0, 1e6), true);
  n.add(1, 4, square_law(1e5), true);
  n.add(2, 5, square_law(1e5), true);
  n.network.links[3].shut = true;
  const double heads[] = {0.0, 2.0, 1.2};
  const NetworkSolution s = n.solve(heads);
  ASSERT_TRUE(s.solved);
  for (const double q : s.flows) EXPECT_NEAR(q, 0.0, 1e-12);
  for (const double h : s.heads) EXPECT_NEAR(h, 1.2, 1e-12);
}

TEST(SolveNetwork, BackOnlyLinksLetNothingForward) {
  for (const auto& [left, flow] : {std::pair{2.0, 0.0}, {0.0, -1e-3}}) {
    Lawful n;
    n.add(0, 1, square_law(1e6));
    n.network.links[0].back_only = true;
    const double heads[] = {left, 1.0};
    const NetworkSolution s = n.solve(heads);
    ASSERT_TRUE(s.solved);
    EXPECT_NEAR(s.flows[0], flow, 1e-6);
  }
}

TEST(SolveNetwork, SumsAreZeroToRoundingBesideALawThatIsFlat) {
  // A loss of q |q| alone is flat at no flow, and its conductance is as large as may be.
  Lawful n{{2, {}}, {}};
  n.add(2, 0, [](double q) { return LossAndSlope{50.0 * q * std::abs(q), 100.0 * std::abs(q)}; });
  n.add(0, 1, [](double q) { return LossAndSlope{30.0 * q * std::abs(q), 60.0 * std::abs(q)}; });
  n.add(1, 3, square_law(1e9));
  const double heads[] = {1.0, 1.0 - 1e-9};
  const NetworkSolution s = n.solve(heads);
  ASSERT_TRUE(s.solved);
  EXPECT_GT(s.flows[2], 0.0);
  EXPECT_NEAR(s.flows[0], s.flows[2], 1e-15 * s.flows[2]);
  EXPECT_NEAR(s.flows[1], s.flows[2], 1e-15 * s.flows[2]);
}

/// A ring of junctions, outlets of given heads on it, one pump.
Lawful random_network(std::mt19937_64& random, std::vector<double>& heads) {
  std::uniform_real_distribution<double> u(0.0, 1.0);
  const int unknown = 2 + static_cast<int>(u(random) * 6), given = 2 + static_cast<int>(u(random) * 4);
  Lawful n{{unknown, {}}, {}};
  const auto any = [&] { return square_law(std::pow(10.0, 4 + 3 * u(random))); };
  for (int i = 0; i < unknown; ++i) n.add(i, (i + 1) % unknown, any());
  for (int g = 0; g < given; ++g) {
    const int at = static_cast<int>(u(random) * unknown);
    n.add(at, unknown + g, any(), u(random) < 0.7);
  }
  n.add(unknown, static_cast<int>(u(random) * unknown), pump_law(1.0 + 4.0 * u(random), 1e6), true);
  heads.clear();
  for (int g = 0; g < given; ++g) heads.push_back(3.0 * u(random));
  return n;
}

void expect_balance(const Lawful& n, const NetworkSolution& s) {
  std::vector<double> sum(static_cast<std::size_t>(n.network.unknown), 0.0);
  for (std::size_t l = 0; l < n.network.links.size(); ++l) {
    const NetworkLink& link = n.network.links[l];
    if (link.one_way) {
      EXPECT_GE(s.flows[l], -1e-12);
    }
    if (link.from < n.network.unknown) sum[static_cast<std::size_t>(link.from)] -= s.flows[l];
    if (link.to < n.network.unknown) sum[static_cast<std::size_t>(link.to)] += s.flows[l];
  }
  for (const double residual : sum) EXPECT_NEAR(residual, 0.0, 1e-12);
}

TEST(SolveNetwork, RandomNetworksBalanceAtEveryNodeWithoutBackflow) {
  std::mt19937_64 random(11);
  std::vector<double> heads;
  for (int trial = 0; trial < 300; ++trial) {
    const Lawful n = random_network(random, heads);
    const NetworkSolution s = n.solve(heads);
    ASSERT_TRUE(s.solved) << "trial " << trial;
    expect_balance(n, s);
  }
}

TEST(SolveNetwork, AWarmStartFindsTheSameFlowsAndItsSlopesAreTheirDifferences) {
  std::mt19937_64 random(12);
  std::vector<double> heads;
  for (int trial = 0; trial < 100; ++trial) {
    const Lawful n = random_network(random, heads);
    const LinkLaw law = n.law();
    NetworkSolver solver(n.network);
    solver.solve(law, heads);
    heads[0] += 0.01;
    const NetworkSolution warm = solver.solve(law, heads), cold = n.solve(heads);
    ASSERT_TRUE(warm.solved);
    std::vector<double> slopes(n.network.links.size());
    solver.slopes(n.network.unknown, slopes);
    heads[0] += 1e-6;
    const NetworkSolution moved = solver.solve(law, heads);
    for (std::size_t l = 0; l < warm.flows.size(); ++l) {
      EXPECT_NEAR(warm.flows[l], cold.flows[l], 1e-10);
      if (moved.closed == warm.closed) {
        EXPECT_NEAR((moved.flows[l] - warm.flows[l]) / 1e-6, slopes[l], 1e-3 * std::abs(slopes[l]) + 2e-5);
      }
    }
  }
}

}  // namespace
}  // namespace leat::numerics
