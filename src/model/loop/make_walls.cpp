// Lids, walls, cladding and wetted surfaces of the vessels.
#include <cmath>
#include <utility>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/heat/walls.h"

namespace leat::model {
namespace {

using namespace units;

/// The value that a word stands for; the first if the word is none of them.
template <class T, std::size_t N>
T value_of(const std::pair<std::string_view, T> (&words)[N], std::string_view word) {
  for (const auto& [text, value] : words)
    if (text == word) return value;
  return words[0].second;
}

constexpr std::pair<std::string_view, Wall> kWalls[] = {
    {"polyethylene", Wall::polyethylene}, {"clear_polyethylene", Wall::clear_polyethylene},
    {"fibreglass", Wall::fibreglass},     {"steel", Wall::steel},
    {"concrete", Wall::concrete},         {"timber", Wall::timber}};
constexpr std::pair<std::string_view, Lid> kLids[] = {
    {"none", Lid::none}, {"clear", Lid::clear}, {"board", Lid::board}, {"timber", Lid::timber}, {"foam", Lid::foam}};
constexpr std::pair<std::string_view, Cladding> kCladdings[] = {
    {"none", Cladding::none}, {"timber", Cladding::timber}, {"foam", Cladding::foam}};

Length<> usual_thickness(Wall wall) {
  switch (wall) {
    case Wall::polyethylene:
    case Wall::clear_polyethylene:
      return 2.0 * millimetre;
    case Wall::fibreglass:
      return 5.0 * millimetre;
    case Wall::steel:
      return 1.0 * millimetre;
    case Wall::concrete:
      return 100.0 * millimetre;
    case Wall::timber:
      return 25.0 * millimetre;
  }
  return 2.0 * millimetre;
}

Length<> usual_thickness(Lid lid) {
  switch (lid) {
    case Lid::none:
      return Length<>(0.0);
    case Lid::clear:
      return 2.0 * millimetre;
    case Lid::board:
      return 12.0 * millimetre;
    case Lid::timber:
      return 25.0 * millimetre;
    case Lid::foam:
      return 50.0 * millimetre;
  }
  return Length<>(0.0);
}

/// Keys that say more about something that is not there would be lost without a word.
void refuse_orphans(Filling& fill, const Component& c, std::string_view owner,
                    std::initializer_list<std::string_view> keys, std::string_view why) {
  if (!Filling::sound(c, {owner})) return;
  for (const std::string_view key : keys)
    if (Filling::has(c, key)) fill.complain(c, key, std::string(why));
}

void cover_vessel(Filling& fill, const Component& c, Vessel& v) {
  if (v.kind == VesselKind::raft_bed) {
    if (Filling::has(c, "lid") && c.find("lid")->text != "none")
      fill.complain(c, "lid", "lies on a raft bed, which its raft covers already; leave it out");
    if (Filling::has(c, "lid_thickness"))
      fill.complain(c, "lid_thickness", "tells of a lid, but a raft bed has a raft; write raft_thickness");
    v.cover = fill.number(c, "cover", 0.9, "a raft leaves about a tenth of the water open");
    v.raft_thickness = fill.take<dim::length>(c, "raft_thickness", 30.0 * millimetre, "30 mm", "usual foam board");
    return;
  }
  v.lid = value_of(kLids, fill.word(c, "lid", "none", "not said"));
  if (v.lid == Lid::none)
    return refuse_orphans(fill, c, "lid", {"cover", "lid_thickness"},
                          "tells of a lid, but there is none; add one, such as lid = \"board\"");
  v.cover = fill.number(c, "cover", 1.0, "a lid covers it all");
  const Length<> usual = usual_thickness(v.lid);
  v.lid_thickness = fill.take<dim::length>(c, "lid_thickness", usual, fmt::format("{:g} mm", usual.in(millimetre)),
                                           "usual for that lid");
}

void clad_vessel(Filling& fill, const Component& c, Vessel& v) {
  v.cladding = value_of(kCladdings, fill.word(c, "cladding", "none", "not said"));
  if (v.cladding == Cladding::none)
    return refuse_orphans(fill, c, "cladding", {"cladding_thickness", "cladding_share"},
                          "tells of a cladding, but there is none; add it, such as cladding = \"timber\"");
  v.cladding_thickness = fill.take<dim::length>(c, "cladding_thickness", 50.0 * millimetre, "50 mm", "usual board");
  v.cladding_share = fill.number(c, "cladding_share", 1.0, "clad to the rim");
}

void build_wall(Filling& fill, const Component& c, Vessel& v) {
  v.wall = value_of(kWalls, fill.word(c, "wall", "polyethylene", "most tanks and beds are; opaque"));
  const Length<> usual = usual_thickness(v.wall);
  v.wall_thickness = fill.take<dim::length>(c, "wall_thickness", usual, fmt::format("{:g} mm", usual.in(millimetre)),
                                            "usual for that wall");
  if (v.wall == Wall::clear_polyethylene || v.lid == Lid::clear)
    v.sun_through_wall = fill.number(c, "sun_through_wall", science::sun_share_clear_polyethylene,
                                     "no measurement exists; 0.4 to 0.8 is possible, and it matters");
  else
    refuse_orphans(fill, c, "wall", {"sun_through_wall"},
                   "is for walls and lids that let the sun in; write wall = \"clear_polyethylene\" or lid = \"clear\", "
                   "or leave it out");
}

void place_vessel(Filling& fill, const Component& c, Vessel& v) {
  v.buried = fill.take<dim::length>(c, "buried", Length<>(0.0), "0 m", "stands on the ground unless said");
  if (v.buried > v.depth() + Length<>(1e-6) && v.depth().si() > 0.0 &&
      Filling::sound(c, {"depth", "floor", "rim", "volume", "area"}))
    fill.complain(c, "buried",
                  fmt::format("{} is deeper than the vessel itself, which is {} from floor to rim",
                              quoted(Filling::written(c, "buried")), metres(v.depth())));
  v.shade = fill.number(c, "shade", 0.0, "nothing above it unless said");
}

/// Wetted surfaces on which nitrifiers live, or that dissolve.
void film_area(Filling& fill, const Component& c, Vessel& v) {
  v.limestone = fill.said<dim::area>(c, "limestone").value_or(Area<>(0.0));
  v.sludge = fill.said<dim::area>(c, "sludge").value_or(Area<>(0.0));
  if (const auto area = fill.said<dim::area>(c, "film_area")) {
    v.film_area = *area;
    return;
  }
  const Area<> wall = v.perimeter() * v.depth() * 0.8 + v.area;
  if (v.kind == VesselKind::gravel_bed) {
    // Spheres: 6 (1 - porosity) / d per bed volume; 0.6 of it wetted and reached by the flow (common practice).
    v.film_area = Area<>(0.6 * 6.0 * (1.0 - v.porosity) / v.grain.si() * (v.area * v.depth()).si());
    fill.assume(c, "film_area", fmt::format("{:.0f} m2", v.film_area.si()),
                "six tenths of the stones' surface is wetted and reached (common practice, no source)");
  } else if (v.kind == VesselKind::raft_bed) {
    v.film_area = wall + v.area * v.cover;
    fill.assume(c, "film_area", fmt::format("{:.1f} m2", v.film_area.si()),
                "floor, walls and the raft's underside; roots come on top");
  } else {
    v.film_area = wall;
    fill.assume(c, "film_area", fmt::format("{:.1f} m2", v.film_area.si()), "wetted floor and walls");
  }
}

}  // namespace

void wall_vessel(Filling& fill, const Component& c, Vessel& v) {
  cover_vessel(fill, c, v);
  build_wall(fill, c, v);
  clad_vessel(fill, c, v);
  place_vessel(fill, c, v);
  film_area(fill, c, v);
}

}  // namespace leat::model
