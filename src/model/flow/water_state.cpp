// Where a run may start from.
#include "model/flow/water_run.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

Volume<> water_in(const Loop& loop, const std::vector<Length<>>& levels) {
  Volume<> sum{};
  for (std::size_t v = 0; v < levels.size(); ++v)
    if (!loop.vessels[v].held_level) sum += loop.vessels[v].water_area() * (levels[v] - loop.vessels[v].floor);
  return sum;
}

WaterState water_at(const Loop& loop, std::vector<Length<>> levels) {
  WaterState state;
  state.levels = std::move(levels);
  const std::size_t pumps = loop.pumps.size();
  state.timer_off.assign(pumps, false);
  state.float_off.assign(pumps, false);
  Setting& s = state.setting;
  s.tripped.assign(pumps, false);
  s.stopped.assign(pumps, false);
  s.primed.assign(loop.siphons.size(), false);
  s.share.assign(loop.siphons.size(), -1.0);
  s.running.assign(pumps, -1.0);
  s.siphoning.assign(loop.overflows.size(), false);
  s.drowned.assign(loop.pipes.size(), false);
  s.slurping.assign(loop.pipes.size(), false);
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
    const Pipe& pipe = loop.pipes[i];
    if (pipe.to.what == End::What::vessel)
      s.drowned[i] = !pipe.outlet_level || state.levels[at(pipe.to.index)] > *pipe.outlet_level;
  }
  for (const SequencingValve& valve : loop.valves) s.turn.push_back(valve.first);
  state.valves.resize(loop.valves.size());
  for (std::size_t p = 0; p < pumps; ++p)
    if (const auto& on = loop.pumps[p].float_on)
      state.setting.stopped[p] = state.float_off[p] = state.levels[at(loop.pumps[p].vessel)] < *on;
  return state;
}

WaterState water_at_rest(const Loop& loop) {
  return water_at(loop, levels_at_rest(loop));
}

}  // namespace leat::model
