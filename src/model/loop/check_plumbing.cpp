// What only the whole plumbing shows to be wrong.
#include <algorithm>
#include <cmath>
#include <utility>

#include "model/loop/make.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using namespace units;

const Vessel& vessel_at(const Loop& loop, int v) {
  return loop.vessels[static_cast<std::size_t>(v)];
}

/// Points so close together, or so near to nothing, that no curve can be drawn through them are no curve.
bool is_usable(const science::PumpCurve& curve) {
  const double largest = curve.largest().si();
  if (!std::isfinite(largest) || largest < 0.99e-6) return false;
  const auto good = [&](double share) {
    const Flow<> q(share * largest);
    return std::isfinite(curve.head(q).si()) && std::isfinite(curve.slope(q).si());
  };
  return good(0.0) && good(0.5) && good(1.0) && good(1.5);
}

void check_pumps(Filling& fill, const Loop& loop) {
  for (const Pump& pump : loop.pumps)
    if (const Component* c = fill.description().find(pump.path); c && !is_usable(pump.curve))
      fill.complain(*c, Filling::has(*c, "curve") ? "curve" : "largest_flow",
                    "has points too close to each other, or too near to nothing, to draw a curve through; read it "
                    "again, or give shut_off_head and largest_flow");
}

void check_run(Filling& fill, const Component& c, const PipeRun& run) {
  if (!Filling::sound(c, {"bore", "length", "losses", "fittings", "roughness"})) return;
  if (run.roughness > 0.1 * run.bore)
    fill.complain(c, "roughness",
                  fmt::format("{} is more than a tenth of the bore; smooth plastic pipe has \"0.0015 mm\"",
                              quoted(Filling::written(c, "roughness"))));
  if (run.length < 1.0 * millimetre && run.minor_losses.si() < 0.01)
    fill.complain(
        c, "length",
        "leaves nothing that holds the flow back; give the pipe its length, or its entry and exit as fittings");
}

/// The open end of a pipe lies in or above the vessel that it fills.
void check_end(Filling& fill, const Component& c, const Loop& loop, const Pipe& pipe) {
  if (!Filling::has(c, "outlet_level")) return;
  const std::string said = quoted(Filling::written(c, "outlet_level"));
  if (pipe.to.what == End::What::junction)
    return fill.complain(c, "outlet_level", "belongs to an open end, but this pipe ends in a junction; leave it out");
  const Vessel& v = vessel_at(loop, pipe.to.index);
  if (sound_heights(fill, v) && *pipe.outlet_level < v.floor - 1.0 * millimetre)
    fill.complain(c, "outlet_level",
                  fmt::format("{} lies under the floor of {} at {}; heights are above the common mark", said, v.path,
                              metres(v.floor)));
}

/// The mouth of a pipe lies in the wall or floor of the vessel that it leaves.
void check_mouth(Filling& fill, const Component& c, const Loop& loop, const Pipe& pipe) {
  if (!pipe.inlet_level) return;
  const std::string said = quoted(Filling::written(c, "inlet_level"));
  if (pipe.from.what != End::What::vessel)
    return fill.complain(c, "inlet_level",
                         "belongs to a mouth in a vessel, but this pipe starts elsewhere; leave it out");
  const Vessel& v = vessel_at(loop, pipe.from.index);
  if (sound_heights(fill, v) && (*pipe.inlet_level < v.floor - 1.0 * millimetre || *pipe.inlet_level > v.rim))
    fill.complain(c, "inlet_level",
                  fmt::format("{} is not between the floor at {} and the rim at {} of {}", said, metres(v.floor),
                              metres(v.rim), v.path));
}

void check_pipes(Filling& fill, const Loop& loop) {
  for (const Pipe& pipe : loop.pipes) {
    const Component* c = fill.description().find(pipe.path);
    if (!c || !Filling::sound(*c, {"from", "to"}) || !Filling::has(*c, "from") || !Filling::has(*c, "to")) continue;
    check_run(fill, *c, pipe.run);
    check_end(fill, *c, loop, pipe);
    check_mouth(fill, *c, loop, pipe);
  }
}

void check_overflows(Filling& fill, const Loop& loop) {
  for (const Overflow& o : loop.overflows) {
    const Component* c = fill.description().find(o.path);
    if (!c) continue;
    if (o.back) check_run(fill, *c, *o.back);
    if (o.outlet_level && *o.outlet_level >= o.rim && Filling::sound(*c, {"rim", "from"}))
      fill.complain(*c, "outlet_level",
                    fmt::format("{} is not under the standpipe's rim at {}, so no water would leave; heights are above "
                                "the common mark",
                                quoted(Filling::written(*c, "outlet_level")), metres(o.rim)));
  }
}

/// Junctions that water can reach from a vessel or a pump.
std::vector<bool> joined_junctions(const Loop& loop) {
  std::vector<bool> joined(loop.junctions.size(), false);
  const auto is_joined = [&](const End& e) {
    return e.what != End::What::junction || joined[static_cast<std::size_t>(e.index)];
  };
  for (bool changed = true; changed;) {
    changed = false;
    for (const Pipe& pipe : loop.pipes)
      for (const auto& [end, other] : {std::pair{pipe.from, pipe.to}, std::pair{pipe.to, pipe.from}})
        if (!is_joined(end) && is_joined(other)) joined[static_cast<std::size_t>(end.index)] = changed = true;
  }
  return joined;
}

/// A ring of junctions that nothing feeds has no level at all.
void check_rings(Filling& fill, const Loop& loop) {
  const std::vector<bool> joined = joined_junctions(loop);
  for (std::size_t j = 0; j < loop.junctions.size(); ++j) {
    const auto touches = [&](const End& e) { return e.what == End::What::junction && e.index == static_cast<int>(j); };
    const auto ends = std::count_if(loop.pipes.begin(), loop.pipes.end(),
                                    [&](const Pipe& p) { return touches(p.from) || touches(p.to); });
    if (!joined[j] && ends >= 2)
      fill.complain(*fill.description().find(loop.junctions[j].path), "",
                    "is joined to other junctions only; lead a pipe from it to a vessel or a pump");
  }
}

std::optional<Length<>> lowest_rim(const Loop& loop, int v) {
  std::optional<Length<>> lowest;
  for (const Overflow& o : loop.overflows)
    if (o.from == v && !o.blocked && (!lowest || o.rim < *lowest)) lowest = o.rim;
  return lowest;
}

/// Water cannot rest above a rim over which it runs away.
void check_levels(Filling& fill, const Loop& loop) {
  for (int v = 0; v < static_cast<int>(loop.vessels.size()); ++v) {
    const Vessel& vessel = vessel_at(loop, v);
    const auto rim = lowest_rim(loop, v);
    const Component* c = fill.description().find(vessel.path);
    if (c && rim && vessel.level_at_rest && *vessel.level_at_rest > *rim + 5.0 * millimetre &&
        sound_heights(fill, vessel))
      fill.complain(*c, "level",
                    fmt::format("{} is above the rim of its overflow at {}, where no water rests with the pumps off",
                                quoted(Filling::written(*c, "level")), metres(*rim)));
  }
}

/// The loop's water is no less than stands in the vessels above the lowest.
void check_least_water(Filling& fill, const Loop& loop) {
  if (!loop.total_water || loop.vessels.empty()) return;
  int lowest = 0;
  Volume<> held{};
  for (int v = 0; v < static_cast<int>(loop.vessels.size()); ++v) {
    if (!sound_heights(fill, vessel_at(loop, v))) return;
    if (vessel_at(loop, v).floor < vessel_at(loop, lowest).floor) lowest = v;
  }
  for (int v = 0; v < static_cast<int>(loop.vessels.size()); ++v) {
    const Vessel& vessel = vessel_at(loop, v);
    const Length<> resting = vessel.held_level.value_or(
        vessel.level_at_rest.value_or(lowest_rim(loop, v).value_or(vessel.floor + 0.6 * vessel.depth())));
    if (v != lowest) held += vessel.volume_at(resting);
  }
  const Component& c = part_or_empty(fill, "loop");
  const std::string said = quoted(Filling::written(c, "water"));
  if (*loop.total_water < held * 0.999)
    fill.complain(c, "water",
                  fmt::format("{} is less than the {:.0f} L that stand above {} with the pumps off; say the levels, or "
                              "leave water out",
                              said, held.in(litre), vessel_at(loop, lowest).path));
}

}  // namespace

void check_plumbing(Filling& fill, const Loop& loop) {
  check_pumps(fill, loop);
  check_pipes(fill, loop);
  check_overflows(fill, loop);
  check_rings(fill, loop);
  check_levels(fill, loop);
  check_least_water(fill, loop);
}

}  // namespace leat::model
