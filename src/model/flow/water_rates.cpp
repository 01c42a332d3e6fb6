#include "model/flow/water_rates.h"

#include <algorithm>
#include <cmath>

namespace leat::model {

void WaterRates::read_levels(std::span<const double> y) {
  for (std::size_t v = 0; v < levels_.size(); ++v) levels_[v] = Length<>(y[v]);
}

void WaterRates::flows(std::span<const Length<>> levels, Flows& out) {
  switches_.shares(levels, state_.setting);
  plumbing_.flows(levels, state_.setting, *work_, out);
}

bool WaterRates::rates(std::span<const double> y, std::span<double> d) {
  read_levels(y);
  flows(levels_, flows_);
  if (!flows_.solved) return false;
  plumbing_.net(flows_, net_);
  double top_up = 0.0, evaporated = 0.0;
  for (std::size_t v = 0; v < places_.vessels; ++v) {
    const bool held = loop_.vessels[v].held_level.has_value();
    d[v] = held ? 0.0 : net_[v] / loop_.vessels[v].water_area().si();
    d[places_.held(v)] = held ? net_[v] : 0.0;
    d[places_.spill(v)] = flows_.spills[v].si();
    evaporated += flows_.evaporation[v].si();
  }
  for (const Flow<> q : flows_.top_ups) top_up += q.si();
  d[places_.top_up()] = top_up;
  d[places_.evaporated()] = evaporated;
  return true;
}

/// Only the levels move anything.
bool WaterRates::slopes(std::span<const double> y, std::span<double> entries) {
  const std::size_t n = places_.vessels, size = places_.size();
  read_levels(y);
  plumbing_.slopes(levels_, state_.setting, *work_, vessel_slopes_);
  std::fill(entries.begin(), entries.end(), 0.0);
  for (std::size_t j = 0; j < n; ++j) {
    if (loop_.vessels[j].held_level) continue;
    for (std::size_t i = 0; i < n; ++i) {
      const bool held = loop_.vessels[i].held_level.has_value();
      const double q = vessel_slopes_[j * n + i];
      entries[j * size + (held ? places_.held(i) : i)] += held ? q : q / loop_.vessels[i].water_area().si();
    }
    const auto outside = plumbing_.outside_slopes(j, y[j], state_.setting);
    entries[j * size + j] += (outside.top_up - outside.spill) / loop_.vessels[j].water_area().si();
    entries[j * size + places_.spill(j)] += outside.spill;
    entries[j * size + places_.top_up()] += outside.top_up;
  }
  return true;
}

}  // namespace leat::model
