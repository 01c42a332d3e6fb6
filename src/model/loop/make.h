// The parts of make_loop, one a file.
#pragma once

#include "model/loop/filling.h"

namespace leat::model {

void make_site(Filling& fill, Loop& loop);
void make_vessels(Filling& fill, Loop& loop);
/// Lid, wall, cladding, ground and film of one vessel whose shape is known.
void wall_vessel(Filling& fill, const Component& c, Vessel& v);
void make_plumbing(Filling& fill, Loop& loop);
void make_overflows(Filling& fill, Loop& loop);
/// A vessel that is fed and has no way out would only rise; it gets a usual standpipe to the sump.
void assume_overflows(Filling& fill, Loop& loop);
/// Timer and float switch of a pump.
void switch_pump(Filling& fill, const Component& c, const Loop& loop, Pump& pump);
/// Sequencing valves, before the pipes that touch them; then the order of their outlets.
void make_valves(Filling& fill, Loop& loop);
void order_outlets(Filling& fill, Loop& loop);
/// Adds the loss of a hand valve that is not all open; true if there is one.
bool open_valve(const Component& c, PipeRun& run);
/// Siphons, drain holes, weirs, gravity returns.
void make_outlets(Filling& fill, Loop& loop);
void make_living(Filling& fill, Loop& loop);
/// What is done within a run. Needs the fish and the plants.
void make_deeds(Filling& fill, Loop& loop);
void make_waters(Filling& fill, Loop& loop);
/// What the fish of the loop can bear, where nothing was said. Needs the fish.
void make_limits(Filling& fill, Loop& loop);
/// What only the whole shows to be wrong.
void check_plumbing(Filling& fill, const Loop& loop);
void check_living(Filling& fill, const Loop& loop);

/// A concentration of a component as amounts of its basis (equivalents for alkalinity), or the assumed one.
Concentration<> dissolved(Filling& fill, const Component& c, std::string_view key, double otherwise_mg_l,
                          std::string_view basis, std::string reason);

/// Phosphorus, ions, iron and algae of a water; `loop_water` is nullptr for the loop's own.
void make_minerals(Filling& fill, const Component& c, WaterQuality& water, const WaterQuality* loop_water);

/// The single part of that kind; one without any values when it is not described.
const Component& part_or_empty(const Filling& fill, std::string_view kind);

/// The vessel that a component names under `key`, or -1.
int vessel_of(const Filling& fill, const Component& c, std::string_view key, const Loop& loop);

/// The first sump, else the lowest vessel, or -1.
int sump_of(const Loop& loop);
/// The path of a vessel, or "none".
std::string named(const Loop& loop, int vessel);
/// Whether the heights of a vessel hold nothing that was refused.
bool sound_heights(const Filling& fill, const Vessel& v);
/// The same pipe with all its losses multiplied.
PipeRun fouled(PipeRun run, double times);
/// Bore, length, roughness and losses of a pipe.
PipeRun run_of(Filling& fill, const Component& c, const Loop& loop, Length<> bore, Length<> length);

/// "pipe.assumed", or the same with a number behind it when that is taken.
std::string unused_path(const auto& list, const std::string& path) {
  std::string free = path;
  for (int n = 2; std::any_of(list.begin(), list.end(), [&](const auto& part) { return part.path == free; }); ++n)
    free = fmt::format("{}_{}", path, n);
  return free;
}

}  // namespace leat::model
