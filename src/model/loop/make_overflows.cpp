// Overflows, and those that nobody mentioned.
#include <algorithm>

#include "model/loop/make.h"
#include "model/loop/wording.h"

namespace leat::model {
namespace {

using namespace units;

/// Where the water at rest was said to stand; else 100 mm under the brim, but in a shallow vessel not under six tenths
/// of its depth.
Length<> usual_rim(const Vessel& v) {
  if (v.level_at_rest && !v.held_level && *v.level_at_rest > v.floor) return *v.level_at_rest;
  return std::max(v.rim - 0.10 * metre, v.floor + 0.6 * v.depth());
}

void check_standpipe(Filling& fill, const Component& c, const Overflow& o) {
  const auto outside = fill.said<dim::length>(c, "standpipe_outside");
  if (outside && *outside <= o.standpipe_bore && Filling::sound(c, {"standpipe_bore"}))
    fill.complain(c, "standpipe_outside",
                  fmt::format("{} leaves no wall around a bore of {:.4g} mm; the outside is the wider of the two",
                              quoted(Filling::written(c, "standpipe_outside")), o.standpipe_bore.in(millimetre)));
  if (!Filling::has(c, "sleeve_bore") && Filling::sound(c, {"sleeve_bore"}) && Filling::has(c, "sleeve_loss"))
    fill.complain(c, "sleeve_loss",
                  "tells of a sleeve, but there is none; add its bore, such as sleeve_bore = \"103.6 mm\"");
}

std::optional<Sleeve> sleeve_of(Filling& fill, const Component& c, const Overflow& overflow) {
  if (!Filling::has(c, "sleeve_bore")) return std::nullopt;
  Sleeve sleeve;
  sleeve.bore = *fill.said<dim::length>(c, "sleeve_bore");
  sleeve.standpipe_outside = fill.take<dim::length>(
      c, "standpipe_outside", overflow.standpipe_bore * 1.09,
      fmt::format("{:.1f} mm", overflow.standpipe_bore.in(millimetre)*1.09), "bore and a usual wall");
  sleeve.loss = fill.number(c, "sleeve_loss", 2.0, "entry under the sleeve and the turn at its top");
  if (sleeve.standpipe_outside >= sleeve.bore && Filling::sound(c, {"standpipe_outside", "standpipe_bore"}))
    fill.complain(
        c, "sleeve_bore",
        fmt::format(
            "{} leaves no gap around the standpipe, which is {:.4g} mm outside; the sleeve is the wider of the two",
            quoted(Filling::written(c, "sleeve_bore")), sleeve.standpipe_outside.in(millimetre)));
  return sleeve;
}

/// Where the water goes, and that it is another vessel.
void set_ends(Filling& fill, const Component& c, const Loop& loop, Overflow& o) {
  o.from = vessel_of(fill, c, "from", loop);
  if (!Filling::has(c, "from"))
    fill.complain(c, "from", "is missing; say which vessel's level it sets, such as from = \"tank.nursery\"");
  o.to = vessel_of(fill, c, "to", loop);
  const bool said = Filling::has(c, "to");
  if (!said) {
    o.to = sump_of(loop);
    fill.assume(c, "to", named(loop, o.to), "overflows run to the sump unless said");
  }
  if (o.from < 0 || o.from != o.to) return;
  fill.complain(c, "to",
                said ? fmt::format("{} is the vessel it comes from; name another one", quoted(c.find("to")->text))
                     : std::string("is missing, and the usual place is the vessel it comes from; say where its water "
                                   "goes, such as to = \"raft_bed.north\""));
}

/// The rim stands inside its vessel, and not under the floor of the vessel that its water is to reach.
void check_rim(Filling& fill, const Component& c, const Loop& loop, const Overflow& o) {
  if (o.from < 0 || !Filling::has(c, "rim")) return;
  const Vessel& v = loop.vessels[static_cast<std::size_t>(o.from)];
  const std::string said = quoted(Filling::written(c, "rim"));
  if (sound_heights(fill, v) && (o.rim <= v.floor || o.rim > v.rim))
    return fill.complain(
        c, "rim",
        fmt::format("{} is not between the floor at {} and the brim at {} of {}; a standpipe ends inside its vessel",
                    said, metres(v.floor), metres(v.rim), v.path));
  if (o.to < 0 || o.to == o.from) return;
  const Vessel& target = loop.vessels[static_cast<std::size_t>(o.to)];
  const Component* t = fill.description().find(target.path);
  if (t && Filling::has(*t, "floor") && o.rim < target.floor)
    fill.complain(
        c, "rim",
        fmt::format(
            "{} lies under the floor of {} at {}, and water does not run up; raise the rim, or name a lower vessel",
            said, target.path, metres(target.floor)));
}

/// The return pipe: one that is described at all has a bore.
void set_return(Filling& fill, const Component& c, const Loop& loop, Overflow& o) {
  for (const char* key : {"bore", "length", "losses", "fittings"})
    if (Filling::has(c, key)) {
      o.back = run_of(fill, c, loop, o.standpipe_bore, 2.0 * metre);
      return;
    }
}

Overflow make_overflow(Filling& fill, const Component& c, const Loop& loop) {
  Overflow o;
  o.path = c.path();
  set_ends(fill, c, loop, o);
  const Vessel* v = o.from < 0 ? nullptr : &loop.vessels[static_cast<std::size_t>(o.from)];
  const Length<> rim = v ? usual_rim(*v) : Length<>(0.0);
  o.rim = fill.take<dim::length>(
      c, "rim", rim, metres(rim),
      v ? fmt::format("{:.0f} mm under the vessel's brim", (v->rim - rim).in(millimetre)) : std::string("not said"));
  check_rim(fill, c, loop, o);
  o.standpipe_bore = fill.take<dim::length>(c, "standpipe_bore", 45.0 * millimetre, "45 mm", "a usual 50 mm standpipe");
  o.rim_coefficient = fill.number(c, "rim_coefficient", o.rim_coefficient,
                                  "weir law on its round rim, good to 15 %: millimetres of level");
  check_standpipe(fill, c, o);
  o.sleeve = sleeve_of(fill, c, o);
  set_return(fill, c, loop, o);
  o.outlet_level = fill.said<dim::length>(c, "outlet_level");
  o.vented = fill.flag(c, "vented", true);
  if (!Filling::has(c, "vented")) fill.assume(c, "vented", "true", "its top is open; closed it would be a siphon");
  o.blocked = fill.flag(c, "blocked", false);
  return o;
}

/// Whether a siphon, hole, weir or gravity return brings water to a vessel, or takes it away.
bool is_end_of_outlet(const Loop& loop, int v, bool brings) {
  const auto any = [&](const auto& list) {
    return std::any_of(list.begin(), list.end(), [&](const auto& o) { return (brings ? o.to : o.from) == v; });
  };
  return any(loop.siphons) || any(loop.drain_holes) || any(loop.weirs) || any(loop.returns);
}

}  // namespace

void make_overflows(Filling& fill, Loop& loop) {
  for (const Component* c : fill.description().of_kind("overflow"))
    loop.overflows.push_back(make_overflow(fill, *c, loop));
}

/// A vessel that is fed and has no way out would only rise; it gets a usual standpipe to the sump.
void assume_overflows(Filling& fill, Loop& loop) {
  const int sump = sump_of(loop);
  const auto fed = [&](int v) {
    return std::any_of(loop.pipes.begin(), loop.pipes.end(),
                       [&](const Pipe& p) { return p.to.what == End::What::vessel && p.to.index == v; }) ||
           std::any_of(loop.overflows.begin(), loop.overflows.end(), [&](const Overflow& o) { return o.to == v; }) ||
           is_end_of_outlet(loop, v, true);
  };
  const auto drained = [&](int v) {
    return std::any_of(loop.overflows.begin(), loop.overflows.end(), [&](const Overflow& o) { return o.from == v; }) ||
           std::any_of(loop.pumps.begin(), loop.pumps.end(), [&](const Pump& p) { return p.vessel == v; }) ||
           std::any_of(loop.pipes.begin(), loop.pipes.end(),
                       [&](const Pipe& p) { return p.from.what == End::What::vessel && p.from.index == v; }) ||
           is_end_of_outlet(loop, v, false);
  };
  for (int v = 0; v < static_cast<int>(loop.vessels.size()); ++v) {
    const Vessel& vessel = loop.vessels[static_cast<std::size_t>(v)];
    if (v == sump || vessel.held_level || !fed(v) || drained(v)) continue;
    const Length<> rim = usual_rim(vessel);
    Overflow o{unused_path(loop.overflows, "overflow.assumed"),
               v,
               sump,
               rim,
               68.0 * millimetre,
               1.70,
               {},
               {},
               {},
               true,
               false};
    fill.assume(
        *fill.description().find(vessel.path), "overflow",
        fmt::format("68 mm standpipe, {:.0f} mm under the brim, to the sump", (vessel.rim - rim).in(millimetre)),
        "no way out is described");
    loop.overflows.push_back(std::move(o));
  }
}

}  // namespace leat::model
