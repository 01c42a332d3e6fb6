#include "answers/emergency_table.h"

#include <algorithm>
#include <cmath>

#include "model/flow/plumbing.h"

namespace leat::answers {
namespace {

using namespace model;

/// Five whole degrees from a little under the low limit to a little over the high one.
std::vector<double> temperatures(const Limits& limits) {
  const double low = std::max(1.0, limits.temperature_low.celsius()), high = limits.temperature_high.celsius() + 2.0;
  std::vector<double> all;
  for (int i = 0; i < 5; ++i) all.push_back(std::round(low + i * (high - low) / 4.0));
  return all;
}

void add_rows(const Loop& loop, std::size_t v, DrawdownInput input, double stock, const Draws& draws,
              EmergencyTable& table) {
  Loop other = loop;
  Mass<> fish{};
  for (FishGroup& g : other.fish) {
    g.count *= stock;
    if (static_cast<std::size_t>(g.vessel) == v) fish += g.count * g.mass;
  }
  for (const double celsius : temperatures(loop.limits)) {
    input.temperature = Temperature<>::from_celsius(celsius);
    const Drawdown d = draw_down_surely(
        other, v, [&](const Loop&) { return input; }, draws);
    table.levels = d.levels;
    for (const TimeLeft& t : d.states) table.rows.push_back({celsius, stock, fish, t.state, t.to_low, t.to_danger});
  }
}

}  // namespace

std::vector<EmergencyTable> emergency_tables(const Loop& loop, const Draws& draws) {
  std::vector<EmergencyTable> tables;
  const auto levels = levels_at_rest(loop);
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (fish_demand(loop, v, loop.water.temperature).rate.si() <= 0.0) continue;
    const Vessel& vessel = loop.vessels[v];
    DrawdownInput input;
    input.water = vessel.volume_at(levels[v]);
    input.open_surface = vessel.area * (1.0 - vessel.cover);
    EmergencyTable table{vessel.path, {}, {}, {}};
    for (const double stock : {0.5, 1.0, 2.0}) add_rows(loop, v, input, stock, draws, table);
    table.assumed = {draws.asked == 0
                         ? "the soonest time has uptake and surface at their worst"
                         : "the soonest time is the cautious end of 5 to 95 %: one time in twenty it is sooner",
                     "oxygen at 90 % of saturation when it fails", "no air line runs on",
                     "nothing but fish takes oxygen; sludge, and algae at night, shorten all times"};
    if (!table.rows.empty()) tables.push_back(std::move(table));
  }
  return tables;
}

}  // namespace leat::answers
