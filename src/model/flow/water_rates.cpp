#include "model/flow/water_rates.h"

#include <algorithm>
#include <cmath>

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

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
    add_outside_slopes(j, y[j], entries.subspan(j * size, size));
  }
  return true;
}

/// Spills and floats of one vessel move with its own level only.
void WaterRates::add_outside_slopes(std::size_t v, double level, std::span<double> column) {
  if (!state_.setting.outside) return;
  const Vessel& vessel = loop_.vessels[v];
  const double area = vessel.water_area().si(), over = level - vessel.rim.si();
  if (over > 0.0) {
    const double slope = 1.5 * 1.70 * vessel.perimeter().si() * std::sqrt(over);
    column[v] -= slope / area;
    column[places_.spill(v)] += slope;
  }
  for (const Source& source : loop_.sources) {
    if (at(source.vessel) != v || source.stuck_open || !source.float_level || source.top_up == TopUp::none) continue;
    const double under = (source.float_level->si() - level) / 0.01;
    if (under <= 0.0 || under >= 1.0) continue;
    const double slope = -source.float_flow.si() / 0.01;
    column[v] += slope / area;
    column[places_.top_up()] += slope;
  }
}

}  // namespace leat::model
