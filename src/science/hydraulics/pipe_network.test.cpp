#include "science/hydraulics/pipe_network.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

constexpr KinematicViscosity<> kViscosity{1.0e-6};
constexpr Length<> kRoughness{1.5e-6};

TEST(PipeNetwork, ReadsEndsSizesAndLosses) {
  const PipeNetwork network =
      read_network({{{1, Length<>(2.0)}}, {{2, Flow<>(1e-4)}}, {{1, "N1-N2 5 m 34 mm 1.8"}}}, kRoughness);
  const NetworkPipe& pipe = network.pipes.at(1);
  EXPECT_EQ(pipe.from, 1);
  EXPECT_EQ(pipe.to, 2);
  EXPECT_DOUBLE_EQ(pipe.run.bore.si(), 0.034);
  EXPECT_DOUBLE_EQ(pipe.run.minor_losses.si(), 1.8);
  EXPECT_THROW(read_network({{}, {}, {{1, "N1-N2 5 m 34"}}}, kRoughness), std::out_of_range);
  EXPECT_THROW(read_network({{}, {}, {{1, "N1-N2 5 m 34 kg"}}}, kRoughness), std::out_of_range);
}

TEST(PipeNetwork, OnePipeIsTheLossItself) {
  const PipeNetwork network =
      read_network({{{1, Length<>(2.0)}}, {{2, Flow<>(5e-4)}}, {{1, "N1-N2 5 m 34 mm 1.8"}}}, kRoughness);
  const PipeNetworkSolution solution = solve_pipe_network(network, kViscosity);
  EXPECT_NEAR(solution.flows.at(1).si(), 5e-4, 1e-12);
  EXPECT_NEAR(solution.heads.at(2).si(), 2.0 - pipe_loss(Flow<>(5e-4), network.pipes.at(1).run, kViscosity).si(),
              1e-10);
}

// The ring of the second hydraulic case without its bypass: what leaves the three nodes is given, the ring must split
// it.
TEST(PipeNetwork, RingOfTheSecondCase) {
  const double lh = 1e-3 / 3600.0;
  const PipeNetwork network =
      read_network({{{1, Length<>(2.1481)}},
                    {{2, Flow<>(2666.08 * lh)}, {3, Flow<>((2243.16 + 1585.13) * lh)}},
                    {{1, "J1-J2 5 m 34 mm 1.8"}, {2, "J2-J3 6 m 27 mm 1.8"}, {3, "J1-J3 9 m 34 mm 3.6"}}},
                   kRoughness);
  const PipeNetworkSolution solution = solve_pipe_network(network, kViscosity, Acceleration<>(9.81));
  EXPECT_NEAR(solution.flows.at(1).si() / lh, 3584.32, 0.1);
  EXPECT_NEAR(solution.flows.at(2).si() / lh, 918.24, 0.1);
  EXPECT_NEAR(solution.flows.at(3).si() / lh, 2910.05, 0.1);
  EXPECT_NEAR(solution.heads.at(2).si(), 1.8353, 1e-4);
  EXPECT_NEAR(solution.heads.at(3).si(), 1.7507, 1e-4);
}

TEST(Junction, FlowsAddToNothing) {
  const std::vector<Length<>> levels{Length<>(1.0), Length<>(1.6), Length<>(0.3)};
  const auto flow = [](std::size_t i, Length<> drop) {
    const PipeRun pipe{Length<>(0.02 + 0.01 * static_cast<double>(i)), Length<>(4.0), kRoughness, Number<>(3.0)};
    return pipe_flow(drop, pipe, kViscosity);
  };
  const Length<> head = junction_head(levels, flow);
  double sum = 0.0;
  for (std::size_t i = 0; i < levels.size(); ++i) sum += flow(i, levels[i] - head).si();
  EXPECT_NEAR(sum, 0.0, 1e-12);
  EXPECT_GT(head.si(), 0.3);
  EXPECT_LT(head.si(), 1.6);
}

const std::vector<HeadPerFlowSquared<>> kResistances{HeadPerFlowSquared<>(200.0), HeadPerFlowSquared<>(500.0),
                                                     HeadPerFlowSquared<>(300.0), HeadPerFlowSquared<>(800.0),
                                                     HeadPerFlowSquared<>(400.0)};

TEST(HardyCross, ReadsSharedPipesAsWalkedTheOtherWay) {
  const LoopText text{kResistances, {{"1 2 3", "300 100 -200 L/s"}, {"2 4 5", "-100 200 -100 L/s"}}};
  const LoopNetwork network = read_loops(text);
  EXPECT_EQ(network.loops[0][1].direction, 1);
  EXPECT_EQ(network.loops[1][0].direction, -1);
  EXPECT_THROW(read_loops({text.resistances, {{"1 2 3", "1 2 m3/s"}}}), std::out_of_range);
  EXPECT_THROW(read_loops({text.resistances, {{"1 2 9", "1 2 3"}}}), std::out_of_range);
}

TEST(HardyCross, SettlesWithNoLossLeftRoundAnyLoopWhateverTheOrder) {
  const LoopText text{kResistances, {{"1 2 3", "0.3 0.1 -0.2 m3/s"}, {"2 4 5", "-0.1 0.2 -0.1 m3/s"}}};
  const LoopNetwork together = hardy_cross(read_loops(text), 500);
  const LoopNetwork after_each_other = hardy_cross(read_loops(text), 500, LoopUpdate::successive);
  for (std::size_t p = 0; p < 5; ++p) EXPECT_NEAR(together.flows[p].si(), after_each_other.flows[p].si(), 1e-9);
  for (const auto& loop : together.loops) {
    double round = 0.0;
    for (const auto& m : loop) {
      const double q = m.direction * together.flows[m.pipe].si();
      round += together.resistances[m.pipe].si() * q * std::abs(q);
    }
    EXPECT_NEAR(round, 0.0, 1e-8);
  }
}

}  // namespace
}  // namespace leat::science
