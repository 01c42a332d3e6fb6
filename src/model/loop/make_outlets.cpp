// Ways out that need no pump: siphons, drain holes, weirs, gravity returns.
#include <algorithm>

#include "model/loop/make.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using namespace units;

const Vessel* vessel_or_none(const Loop& loop, int v) {
  return v < 0 ? nullptr : &loop.vessels[static_cast<std::size_t>(v)];
}

/// Path and ends, common to all of them.
void set_ends(Filling& fill, const Component& c, const Loop& loop, auto& o) {
  o.path = c.path();
  o.from = vessel_of(fill, c, "from", loop);
  if (!Filling::has(c, "from"))
    fill.complain(c, "from", "is missing; say which vessel it drains, such as from = \"gravel_bed.south\"");
  o.to = vessel_of(fill, c, "to", loop);
  if (!Filling::has(c, "to")) {
    o.to = sump_of(loop);
    fill.assume(c, "to", named(loop, o.to), "water runs to the sump unless said");
  }
  if (o.from >= 0 && o.from == o.to)
    fill.complain(c, "to", fmt::format("{} is the vessel it comes from; name another one", quoted(named(loop, o.to))));
  o.blocked = fill.flag(c, "blocked", false);
}

/// A height between floor and brim of the vessel it belongs to.
void check_inside(Filling& fill, const Component& c, const Loop& loop, int vessel, const char* key, Length<> height) {
  const Vessel* v = vessel_or_none(loop, vessel);
  if (!v || !Filling::has(c, key) || !sound_heights(fill, *v)) return;
  if (height >= v->floor - 0.5 * millimetre && height <= v->rim) return;
  fill.complain(c, key,
                fmt::format("{} is not between the floor at {} and the brim at {} of {}; heights are above the common "
                            "mark, not above the floor",
                            quoted(Filling::written(c, key)), metres(v->floor), metres(v->rim), v->path));
}

Siphon make_siphon(Filling& fill, const Component& c, const Loop& loop) {
  Siphon s;
  set_ends(fill, c, loop, s);
  const Vessel* v = vessel_or_none(loop, s.from);
  const Length<> rim = v ? v->rim - 0.05 * metre : Length<>(0.0);
  s.rim =
      fill.take<dim::length>(c, "rim", rim, metres(rim), "50 mm under the brim of the bed, so that its top stays dry");
  s.run = run_of(fill, c, loop, 27.0 * millimetre, 1.0 * metre);
  const Length<> broken = v ? v->floor + 0.03 * metre : Length<>(0.0);
  s.break_level = fill.take<dim::length>(c, "break_level", broken, metres(broken), "30 mm above the floor of the bed");
  s.outlet_level = fill.said<dim::length>(c, "outlet_level");
  s.priming = fill.number(c, "priming", 0.54, "bands from 0.35 to 0.8 with the shape of the tail; time one filling");
  s.rim_coefficient = fill.number(c, "rim_coefficient", 1.70, "weir law on its round rim, good to 15 %");
  check_inside(fill, c, loop, s.from, "rim", s.rim);
  check_inside(fill, c, loop, s.from, "break_level", s.break_level);
  if (s.break_level >= s.rim && Filling::sound(c, {"rim", "break_level"}))
    fill.complain(c, Filling::has(c, "break_level") ? "break_level" : "rim",
                  fmt::format("leaves nothing to drain: the siphon starts at {} and breaks at {}; it breaks lower than "
                              "it starts",
                              metres(s.rim), metres(s.break_level)));
  if (s.outlet_level && *s.outlet_level >= s.break_level && Filling::sound(c, {"break_level", "outlet_level"}))
    fill.complain(c, "outlet_level",
                  fmt::format("{} is not under the height at which the siphon breaks, {}, so that it could not drain "
                              "the bed; heights are above the common mark",
                              quoted(Filling::written(c, "outlet_level")), metres(s.break_level)));
  return s;
}

DrainHole make_drain_hole(Filling& fill, const Component& c, const Loop& loop) {
  DrainHole hole;
  set_ends(fill, c, loop, hole);
  const Vessel* v = vessel_or_none(loop, hole.from);
  hole.diameter = fill.take<dim::length>(c, "diameter", 10.0 * millimetre, "10 mm", "not said; measure the drill");
  hole.level = fill.said<dim::length>(c, "level").value_or(v ? v->floor : Length<>(0.0));
  if (const Said* count = c.find("count")) hole.count = count->number;
  if (const Said* coefficient = c.find("coefficient")) hole.coefficient = coefficient->number;
  check_inside(fill, c, loop, hole.from, "level", hole.level);
  return hole;
}

Weir make_weir(Filling& fill, const Component& c, const Loop& loop) {
  Weir weir;
  set_ends(fill, c, loop, weir);
  const Vessel* v = vessel_or_none(loop, weir.from);
  const Length<> crest = v ? v->rim - 0.05 * metre : Length<>(0.0);
  weir.crest = fill.take<dim::length>(c, "crest", crest, metres(crest), "50 mm under the brim");
  weir.width = fill.take<dim::length>(c, "width", 0.2 * metre, "0.2 m", "not said; measure the crest");
  if (const Said* coefficient = c.find("coefficient")) weir.coefficient = coefficient->number;
  check_inside(fill, c, loop, weir.from, "crest", weir.crest);
  return weir;
}

GravityReturn make_return(Filling& fill, const Component& c, const Loop& loop) {
  GravityReturn r;
  set_ends(fill, c, loop, r);
  const Vessel* v = vessel_or_none(loop, r.from);
  const Length<> mouth = v ? v->floor + 0.6 * v->depth() : Length<>(0.0);
  r.run = run_of(fill, c, loop, 68.5 * millimetre, 2.0 * metre);
  r.inlet_level = fill.take<dim::length>(c, "inlet_level", mouth, metres(mouth), "six tenths of the way up the wall");
  const Length<> end = r.inlet_level - 0.01 * r.run.length;
  r.outlet_level = fill.take<dim::length>(c, "outlet_level", end, metres(end), "a fall of one in a hundred");
  check_inside(fill, c, loop, r.from, "inlet_level", r.inlet_level);
  if (r.outlet_level > r.inlet_level && Filling::sound(c, {"inlet_level", "outlet_level"}))
    fill.complain(c, "outlet_level",
                  fmt::format("{} is higher than its mouth at {}, and water does not run up; swap them, or raise the "
                              "mouth",
                              quoted(Filling::written(c, "outlet_level")), metres(r.inlet_level)));
  if (r.run.length < 1.0 * millimetre && Filling::sound(c, {"length"}))
    fill.complain(c, "length", "is nothing; a gravity return has a length, such as length = \"3 m\"");
  return r;
}

}  // namespace

void make_outlets(Filling& fill, Loop& loop) {
  const Description& d = fill.description();
  for (const Component* c : d.of_kind("siphon")) loop.siphons.push_back(make_siphon(fill, *c, loop));
  for (const Component* c : d.of_kind("drain_hole")) loop.drain_holes.push_back(make_drain_hole(fill, *c, loop));
  for (const Component* c : d.of_kind("weir")) loop.weirs.push_back(make_weir(fill, *c, loop));
  for (const Component* c : d.of_kind("gravity_return")) loop.returns.push_back(make_return(fill, *c, loop));
}

}  // namespace leat::model
