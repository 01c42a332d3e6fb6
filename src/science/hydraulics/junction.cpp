#include "science/hydraulics/junction.h"

#include <algorithm>
#include <cmath>

#include "numerics/root.h"

namespace leat::science {
namespace {

Flow<> correction_of(const LoopNetwork& network, const std::vector<LoopNetwork::Member>& loop) {
  std::vector<LoopPipe> pipes;
  for (const LoopNetwork::Member& m : loop)
    pipes.push_back({network.resistances[m.pipe], static_cast<double>(m.direction) * network.flows[m.pipe]});
  return hardy_cross_correction(pipes);
}

void correct(LoopNetwork& network, const std::vector<LoopNetwork::Member>& loop, Flow<> correction) {
  for (const LoopNetwork::Member& m : loop) network.flows[m.pipe] += static_cast<double>(m.direction) * correction;
}

/// One round; returns the largest correction.
double go_round(LoopNetwork& network, LoopUpdate update) {
  const LoopNetwork before = network;
  double largest = 0.0;
  for (const auto& loop : network.loops) {
    const Flow<> dq = correction_of(update == LoopUpdate::simultaneous ? before : network, loop);
    correct(network, loop, dq);
    largest = std::max(largest, std::abs(dq.si()));
  }
  return largest;
}

}  // namespace

Length<> junction_head(std::span<const Length<>> levels,
                       const std::function<Flow<>(std::size_t, Length<>)>& flow_of_drop) {
  const auto [low, high] = std::minmax_element(levels.begin(), levels.end());
  const auto surplus = [&](double head) {
    double sum = 0.0;
    for (std::size_t i = 0; i < levels.size(); ++i) sum += flow_of_drop(i, levels[i] - Length<>(head)).si();
    return sum;
  };
  const double width = 1e-14 * std::max(std::abs(low->si()), std::abs(high->si()));
  return Length<>(numerics::bracketed_root(surplus, low->si(), high->si(), width));
}

Flow<> hardy_cross_correction(std::span<const LoopPipe> loop) {
  double loss = 0.0, slope = 0.0;
  for (const LoopPipe& p : loop) {
    loss += p.resistance.si() * p.flow.si() * std::abs(p.flow.si());
    slope += 2.0 * p.resistance.si() * std::abs(p.flow.si());
  }
  return Flow<>(slope == 0.0 ? 0.0 : -loss / slope);
}

LoopNetwork hardy_cross(LoopNetwork network, int rounds, LoopUpdate update) {
  for (int round = 0; round < rounds; ++round) {
    const double moved = go_round(network, update);
    double largest = 0.0;
    for (const Flow<> q : network.flows) largest = std::max(largest, std::abs(q.si()));
    if (moved <= 1e-12 * largest) break;
  }
  return network;
}

}  // namespace leat::science
