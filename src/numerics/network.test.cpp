#include "numerics/network.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace leat::numerics {
namespace {

auto square_law(double r) {
  return [r](double q) { return LossAndSlope{r * q * std::abs(q) + 1e-3 * q, 2.0 * r * std::abs(q) + 1e-3}; };
}
auto pump_law(double shut_off, double r) {
  return [=](double q) { return LossAndSlope{-(shut_off - r * q * std::abs(q)), 2.0 * r * std::abs(q) + 1e-9}; };
}

TEST(SolveNetwork, OnePipeBetweenTwoLevels) {
  Network n{0, {{0, 1, square_law(1e6), false, false}}};
  const double heads[] = {2.0, 1.0};
  const NetworkSolution s = solve_network(n, heads);
  ASSERT_TRUE(s.solved);
  EXPECT_NEAR(s.flows[0], 1e-3, 1e-6);
}

TEST(SolveNetwork, OneWayOutletsCloseInsteadOfSucking) {
  // A pump feeds a junction with a wide low outlet and a narrow high one: the high one would suck air.
  Network n{1,
            {{1, 0, pump_law(3.0, 1e6), true, false},
             {0, 2, square_law(1e4), true, false},
             {0, 3, square_law(1e6), true, false}}};
  const double heads[] = {0.0, 0.2, 2.0};
  const NetworkSolution s = solve_network(n, heads);
  ASSERT_TRUE(s.solved);
  EXPECT_EQ(s.flows[2], 0.0);
  EXPECT_NEAR(s.flows[0], s.flows[1], 1e-12);
  EXPECT_LT(s.heads[0], 2.0);
}

TEST(SolveNetwork, RandomNetworksBalanceAtEveryNodeWithoutBackflow) {
  std::mt19937_64 random(11);
  std::uniform_real_distribution<double> u(0.0, 1.0);
  for (int trial = 0; trial < 300; ++trial) {
    const int unknown = 2 + static_cast<int>(u(random) * 6), given = 2 + static_cast<int>(u(random) * 4);
    Network n{unknown, {}};
    for (int i = 0; i < unknown; ++i)
      n.links.push_back({i, (i + 1) % unknown, square_law(std::pow(10.0, 4 + 3 * u(random))), false, false});
    for (int g = 0; g < given; ++g)
      n.links.push_back({static_cast<int>(u(random) * unknown), unknown + g,
                         square_law(std::pow(10.0, 4 + 3 * u(random))), u(random) < 0.7, false});
    n.links.push_back(
        {unknown, static_cast<int>(u(random) * unknown), pump_law(1.0 + 4.0 * u(random), 1e6), true, false});
    std::vector<double> heads;
    for (int g = 0; g < given; ++g) heads.push_back(3.0 * u(random));
    const NetworkSolution s = solve_network(n, heads);
    ASSERT_TRUE(s.solved) << "trial " << trial;
    std::vector<double> sum(static_cast<std::size_t>(unknown), 0.0);
    for (std::size_t l = 0; l < n.links.size(); ++l) {
      if (n.links[l].one_way) {
        EXPECT_GE(s.flows[l], -1e-12);
      }
      if (n.links[l].from < unknown) sum[static_cast<std::size_t>(n.links[l].from)] -= s.flows[l];
      if (n.links[l].to < unknown) sum[static_cast<std::size_t>(n.links[l].to)] += s.flows[l];
    }
    for (const double residual : sum) EXPECT_NEAR(residual, 0.0, 1e-12);
  }
}

}  // namespace
}  // namespace leat::numerics
