#include "answers/mobile_water.h"

#include <algorithm>
#include <numbers>

namespace leat::answers {
namespace {

using namespace model;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// The lowest vessel that holds a pump and is not held.
int pumped_sump(const Loop& loop) {
  int lowest = -1;
  for (const Pump& pump : loop.pumps)
    if (!loop.vessels[at(pump.vessel)].held_level &&
        (lowest < 0 || loop.vessels[at(pump.vessel)].floor < loop.vessels[at(lowest)].floor))
      lowest = pump.vessel;
  return lowest;
}

/// Water of pipes that empty when the pumps stop: those above the sump whose pump has no check valve, and the open
/// returns.
void hold_up_of_pipes(const Loop& loop, MobileWater& m) {
  Volume<> water{};
  const auto add = [&](const PipeRun& run) {
    water += Area<>(0.25 * std::numbers::pi * run.bore.si() * run.bore.si()) * run.length;
  };
  const bool held = std::all_of(loop.pumps.begin(), loop.pumps.end(), [](const Pump& p) { return p.check_valve; });
  for (const Pipe& pipe : loop.pipes)
    if (!held || pipe.from.what == End::What::vessel) add(pipe.run);
  for (const Overflow& o : loop.overflows)
    if (o.back) add(*o.back);
  if (water.si() > 1e-4) m.held_up.push_back({held ? "returns" : "pipes", water});
}

}  // namespace

std::optional<MobileWater> mobile_water(const Loop& loop, const Cycle& cycle) {
  MobileWater m;
  m.sump = pumped_sump(loop);
  if (m.sump < 0 || cycle.kind == Cycle::Kind::none) return std::nullopt;
  const Vessel& sump = loop.vessels[at(m.sump)];
  Length<> cut_out = sump.floor;
  for (const Pump& pump : loop.pumps)
    if (pump.vessel == m.sump) cut_out = std::max(cut_out, pump.dry_run_level);
  m.at_cut_out = sump.volume_at(cut_out);
  m.at_brim = sump.volume_at(sump.rim);
  m.margin = sump.water_area() * loop.limits.freeboard;
  const std::vector<Length<>> drained = levels_at_rest(loop);
  Volume<> all{}, above{};
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const Vessel& vessel = loop.vessels[v];
    if (vessel.held_level) continue;
    all += vessel.volume_at(cycle.start.levels[v]);
    if (at(m.sump) == v) continue;
    const Volume<> rests = vessel.volume_at(drained[v]);
    above += rests;
    const Volume<> held = vessel.volume_at(cycle.vessels[v].high) - rests;
    if (held.si() > 1e-6) m.held_up.push_back({vessel.path, held});
  }
  hold_up_of_pipes(loop, m);
  for (const HeldUp& h : m.held_up) m.hold_up += h.water;
  m.now = all - above;
  m.level_now = sump.floor + m.now / sump.water_area();
  return m;
}

}  // namespace leat::answers
