// Shapes, walls and films of the vessels.
#include <cmath>

#include "model/loop/make.h"

namespace leat::model {
namespace {

using namespace units;

struct KindDefaults {
  std::string_view word;
  VesselKind kind;
  double depth_m, area_m2, floor_m;
};
constexpr KindDefaults kDefaults[] = {{"tank", VesselKind::tank, 1.0, 1.1, 0.40},
                                      {"sump", VesselKind::sump, 0.6, 0.6, 0.0},
                                      {"raft_bed", VesselKind::raft_bed, 0.3, 2.4, 0.45},
                                      {"gravel_bed", VesselKind::gravel_bed, 0.3, 1.2, 0.90}};

const KindDefaults* defaults_of(std::string_view word) {
  for (const KindDefaults& d : kDefaults)
    if (d.word == word) return &d;
  return nullptr;
}

/// Depth, floor and rim, from whichever of them were said.
void shape_heights(Filling& fill, const Component& c, const KindDefaults& d, Vessel& v) {
  const auto depth = fill.said<dim::length>(c, "depth"), floor = fill.said<dim::length>(c, "floor"),
             rim = fill.said<dim::length>(c, "rim");
  const auto volume = fill.said<dim::volume>(c, "volume");
  const auto area = fill.said<dim::area>(c, "area");
  std::optional<Length<>> height = depth;
  if (!height && floor && rim) height = *rim - *floor;
  if (!height && volume && area) height = Length<>(volume->si() / (area->si() * v.porosity));
  if (!height) {
    height = d.depth_m * metre;
    fill.assume(c, "depth", fmt::format("{:g} m", d.depth_m), fmt::format("usual for a {}", c.kind));
  }
  if (floor) {
    v.floor = *floor;
  } else if (rim) {
    v.floor = *rim - *height;
  } else {
    v.floor = d.floor_m * metre;
    fill.assume(c, "floor", fmt::format("{:g} m", d.floor_m),
                fmt::format("a {} often stands so; heights decide the plumbing, so measure it", c.kind));
  }
  v.rim = rim ? *rim : v.floor + *height;
  if (v.rim <= v.floor) fill.complain(c, rim ? "rim" : "depth", "leaves no depth: the rim must be above the floor");
  if (depth && floor && rim && std::abs((*rim - *floor - *depth).si()) > 0.005)
    fill.complain(
        c, "depth",
        fmt::format("does not fit: rim less floor is {:.3f} m; leave one of the three out", (*rim - *floor).si()));
}

void shape_area(Filling& fill, const Component& c, const KindDefaults& d, Vessel& v) {
  const auto area = fill.said<dim::area>(c, "area");
  const auto length = fill.said<dim::length>(c, "length"), width = fill.said<dim::length>(c, "width"),
             diameter = fill.said<dim::length>(c, "diameter");
  const auto volume = fill.said<dim::volume>(c, "volume");
  std::optional<Area<>> found = area;
  if (!found && length && width) found = *length * *width;
  if (!found && diameter) found = Area<>(M_PI / 4.0 * diameter->si() * diameter->si());
  if (!found && volume && v.depth().si() > 0.0) found = Area<>(volume->si() / (v.depth().si() * v.porosity));
  if (!found) {
    found = Area<>(d.area_m2);
    fill.assume(c, "area", fmt::format("{:g} m2", d.area_m2),
                fmt::format("usual for a {}; write its volume, or length and width", c.kind));
  }
  v.area = *found;
  if (volume && std::abs((v.capacity() / *volume).si() - 1.0) > 0.25)
    fill.complain(c, "volume",
                  fmt::format("does not fit its shape: area and depth hold {:.0f} L", v.capacity().in(litre)));
}

Wall wall_of(const std::string& word) {
  static constexpr std::pair<std::string_view, Wall> words[] = {
      {"polyethylene", Wall::polyethylene}, {"clear_polyethylene", Wall::clear_polyethylene},
      {"fibreglass", Wall::fibreglass},     {"steel", Wall::steel},
      {"concrete", Wall::concrete},         {"timber", Wall::timber}};
  for (const auto& [text, wall] : words)
    if (text == word) return wall;
  return Wall::polyethylene;
}

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

void cover_vessel(Filling& fill, const Component& c, Vessel& v) {
  if (v.kind == VesselKind::raft_bed) {
    v.cover = fill.number(c, "cover", 0.9, "a raft leaves about a tenth of the water open");
    v.raft_thickness = fill.take<dim::length>(c, "raft_thickness", 30.0 * millimetre, "30 mm", "usual foam board");
    return;
  }
  const std::string lid = fill.word(c, "lid", "none", "not said");
  v.lid = lid == "clear"    ? Lid::clear
          : lid == "board"  ? Lid::board
          : lid == "timber" ? Lid::timber
          : lid == "foam"   ? Lid::foam
                            : Lid::none;
  if (v.lid != Lid::none) v.cover = fill.number(c, "cover", 1.0, "a lid covers it all");
}

void wall_vessel(Filling& fill, const Component& c, Vessel& v) {
  v.wall = wall_of(fill.word(c, "wall", "polyethylene", "most tanks and beds are; opaque"));
  const Length<> usual = usual_thickness(v.wall);
  v.wall_thickness = fill.take<dim::length>(c, "wall_thickness", usual, fmt::format("{:g} mm", usual.in(millimetre)),
                                            "usual for that wall");
  const Said* cladding = c.find("cladding");
  if (cladding && cladding->text != "none") {
    v.cladding = cladding->text == "timber" ? Cladding::timber : Cladding::foam;
    v.cladding_thickness = fill.take<dim::length>(c, "cladding_thickness", 50.0 * millimetre, "50 mm", "usual board");
    v.cladding_share = fill.number(c, "cladding_share", 1.0, "clad to the rim");
  }
  v.buried = fill.said<dim::length>(c, "buried").value_or(Length<>(0.0));
  if (v.buried > v.depth()) fill.complain(c, "buried", "is deeper than the vessel itself");
  if (const Said* shade = c.find("shade")) v.shade = shade->number;
  if (v.wall == Wall::clear_polyethylene)
    v.sun_through_wall =
        fill.number(c, "sun_through_wall", 0.6, "no measurement exists; 0.4 to 0.8 is possible, and it matters");
}

/// Wetted surfaces on which nitrifiers live.
void film_vessel(Filling& fill, const Component& c, Vessel& v) {
  if (v.kind == VesselKind::gravel_bed) {
    v.porosity = fill.number(c, "porosity", 0.40, "usual for 10 to 20 mm stones; a bucket test measures it");
    v.grain = fill.take<dim::length>(c, "grain", 14.0 * millimetre, "14 mm", "usual stones");
  }
}

void film_area(Filling& fill, const Component& c, Vessel& v) {
  if (const auto area = fill.said<dim::area>(c, "film_area")) {
    v.film_area = *area;
    return;
  }
  const Area<> wall = v.perimeter() * v.depth() * 0.8 + v.area;
  if (v.kind == VesselKind::gravel_bed) {
    // Spheres: 6 (1 - porosity) / d per bed volume; 0.6 of it wetted and reached by the flow (water-chemistry, common
    // practice).
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

Vessel make_vessel(Filling& fill, const Component& c, const KindDefaults& d) {
  Vessel v;
  v.path = c.path();
  v.kind = d.kind;
  film_vessel(fill, c, v);
  shape_heights(fill, c, d, v);
  shape_area(fill, c, d, v);
  v.level_at_rest = fill.said<dim::length>(c, "level");
  v.held_level = fill.said<dim::length>(c, "held_level");
  for (const char* key : {"level", "held_level"})
    if (const auto level = fill.said<dim::length>(c, key); level && (*level < v.floor || *level > v.rim))
      fill.complain(
          c, key,
          fmt::format("is not between the floor at {:.3f} m and the rim at {:.3f} m", v.floor.si(), v.rim.si()));
  cover_vessel(fill, c, v);
  wall_vessel(fill, c, v);
  film_area(fill, c, v);
  return v;
}

}  // namespace

Volume<> Vessel::volume_at(Length<> level) const {
  return water_area() * (level - floor);
}

Length<> Vessel::perimeter() const {
  return Length<>(4.0 * std::sqrt(area.si()));
}

void make_vessels(Filling& fill, Loop& loop) {
  for (const Component& c : fill.description().components)
    if (const KindDefaults* d = defaults_of(c.kind)) loop.vessels.push_back(make_vessel(fill, c, *d));
}

}  // namespace leat::model
