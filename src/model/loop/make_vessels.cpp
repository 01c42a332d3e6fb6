// Shapes of the vessels: heights, area, levels.
#include <cmath>

#include "model/loop/make.h"
#include "model/loop/wording.h"

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

/// What was said of a vessel's shape.
struct Shape {
  std::optional<Length<>> depth, floor, rim, length, width, diameter;
  std::optional<Area<>> area;
  std::optional<Volume<>> volume;
  bool sound;  ///< none of it was refused
};

Shape shape_of(const Filling& fill, const Component& c) {
  const auto length = [&](std::string_view key) { return fill.said<dim::length>(c, key); };
  return {length("depth"),
          length("floor"),
          length("rim"),
          length("length"),
          length("width"),
          length("diameter"),
          fill.said<dim::area>(c, "area"),
          fill.said<dim::volume>(c, "volume"),
          Filling::sound(c, {"depth", "floor", "rim", "length", "width", "diameter", "area", "volume", "porosity"})};
}

/// The area seen from above, as far as it was said without the volume.
std::optional<Area<>> said_area(const Shape& s) {
  if (s.area) return s.area;
  if (s.length && s.width) return *s.length * *s.width;
  if (s.diameter) return Area<>(M_PI / 4.0 * s.diameter->si() * s.diameter->si());
  return std::nullopt;
}

void check_plan(Filling& fill, const Component& c, const Shape& s) {
  if (s.length && s.width && s.diameter)
    fill.complain(c, "diameter", "stands beside length and width; a vessel is round or rectangular, so keep one");
  if (!s.area && s.length.has_value() != s.width.has_value())
    fill.complain(
        c, s.length ? "length" : "width",
        fmt::format("stands without its {}; write both, or diameter if it is round", s.length ? "width" : "length"));
  Shape outline = s;
  outline.area.reset();
  if (const auto drawn = said_area(outline); s.area && drawn && std::abs((*s.area / *drawn).si() - 1.0) > 0.05)
    fill.complain(
        c, "area",
        fmt::format("{} does not fit {} of {:.3g} m2; leave one of them out", quoted(Filling::written(c, "area")),
                    s.diameter ? "a circle" : "a rectangle", drawn->si()));
}

void check_heights(Filling& fill, const Component& c, const Shape& s) {
  if (!s.floor || !s.rim) return;
  const Length<> between = *s.rim - *s.floor;
  if (between.si() <= 0.0)
    fill.complain(c, "rim",
                  fmt::format("{} is not above the floor at {}; the rim must be the higher one",
                              quoted(Filling::written(c, "rim")), metres(*s.floor)));
  else if (s.depth && std::abs((between - *s.depth).si()) > 0.005)
    fill.complain(c, "depth",
                  fmt::format("{} does not fit: from floor to rim it is {}; leave one of the three out",
                              quoted(Filling::written(c, "depth")), metres(between)));
}

/// Depth, floor and rim, from whichever of them were said.
void shape_heights(Filling& fill, const Component& c, const KindDefaults& d, const Shape& s, Vessel& v) {
  std::optional<Length<>> height = s.depth;
  if (!height && s.floor && s.rim) height = *s.rim - *s.floor;
  if (const auto area = said_area(s); !height && s.volume && area)
    height = Length<>(s.volume->si() / (area->si() * v.porosity));
  if (!height) {
    height = d.depth_m * metre;
    fill.assume(c, "depth", fmt::format("{:g} m", d.depth_m), fmt::format("usual for a {}", c.kind));
  }
  if (s.floor) {
    v.floor = *s.floor;
  } else if (s.rim) {
    v.floor = *s.rim - *height;
  } else {
    v.floor = d.floor_m * metre;
    fill.assume(c, "floor", fmt::format("{:g} m", d.floor_m),
                fmt::format("a {} often stands so; heights decide the plumbing, so measure it", c.kind));
  }
  v.rim = s.rim ? *s.rim : v.floor + *height;
}

void shape_area(Filling& fill, const Component& c, const KindDefaults& d, const Shape& s, Vessel& v) {
  std::optional<Area<>> found = said_area(s);
  if (!found && s.volume && v.depth().si() > 0.0) found = Area<>(s.volume->si() / (v.depth().si() * v.porosity));
  if (!found) {
    found = Area<>(d.area_m2);
    fill.assume(c, "area", fmt::format("{:g} m2", d.area_m2),
                fmt::format("usual for a {}; write its volume, or length and width", c.kind));
  }
  v.area = *found;
}

/// Area and depth, when all is put together, must be those of a vessel that somebody could own.
void check_size(Filling& fill, const Component& c, const Shape& s, const Vessel& v) {
  const double depth = v.depth().si(), area = v.area.si();
  if (depth > 0.0 && !(depth >= 0.0199 && depth <= 10.01))
    return fill.complain(c, s.rim ? "rim" : "volume",
                         fmt::format("makes a depth of {:.3g} m; between 0.02 and 10 m is plausible", depth));
  if (!(area >= 0.999e-3 && area <= 1001.0))
    return fill.complain(c,
                         s.volume     ? "volume"
                         : s.diameter ? "diameter"
                                      : "width",
                         fmt::format("makes an area of {:.3g} m2; between 0.001 and 1000 m2 is plausible", area));
  if (!s.volume || depth <= 0.0) return;
  const double misfit = std::abs((v.capacity() / *s.volume).si() - 1.0);
  const std::string said = quoted(Filling::written(c, "volume"));
  if (misfit > 0.25)
    fill.complain(c, "volume",
                  fmt::format("{} does not fit: area and depth hold {:.0f} L; leave one of the three out", said,
                              v.capacity().in(litre)));
  else if (misfit > 0.01)
    fill.assume(c, "volume", fmt::format("{:.0f} L", v.capacity().in(litre)),
                fmt::format("area and depth make it so; {} was said", said));
}

void shape_vessel(Filling& fill, const Component& c, const KindDefaults& d, Vessel& v) {
  const Shape s = shape_of(fill, c);
  shape_heights(fill, c, d, s, v);
  shape_area(fill, c, d, s, v);
  if (!s.sound) return;
  check_plan(fill, c, s);
  check_heights(fill, c, s);
  check_size(fill, c, s, v);
}

void set_levels(Filling& fill, const Component& c, Vessel& v) {
  v.level_at_rest = fill.said<dim::length>(c, "level");
  v.held_level = fill.said<dim::length>(c, "held_level");
  if (!Filling::sound(c, {"floor", "rim", "depth", "volume", "level", "held_level"}) || v.depth().si() <= 0.0) return;
  for (const char* key : {"level", "held_level"})
    if (const auto level = fill.said<dim::length>(c, key); level && (*level < v.floor || *level > v.rim))
      fill.complain(
          c, key,
          fmt::format(
              "{} is not between the floor at {} and the rim at {}{}", quoted(Filling::written(c, key)),
              metres(v.floor), metres(v.rim),
              Filling::has(c, "floor") || Filling::has(c, "rim") ? "" : ", which were assumed; say floor and rim"));
  if (v.level_at_rest && v.held_level && std::abs((*v.level_at_rest - *v.held_level).si()) > 0.001)
    fill.complain(c, "level",
                  fmt::format("{} is not the held_level, {}; keep one of the two", quoted(Filling::written(c, "level")),
                              metres(*v.held_level)));
}

/// Stones leave only a part of a bed to the water.
void fill_with_stones(Filling& fill, const Component& c, Vessel& v) {
  if (v.kind != VesselKind::gravel_bed) return;
  v.porosity = fill.number(c, "porosity", 0.40, "usual for 10 to 20 mm stones; a bucket test measures it");
  v.grain = fill.take<dim::length>(c, "grain", 14.0 * millimetre, "14 mm", "usual stones");
  v.hydraulic_conductivity = fill.said<dim::velocity>(c, "hydraulic_conductivity");
}

Vessel make_vessel(Filling& fill, const Component& c, const KindDefaults& d) {
  Vessel v;
  v.path = c.path();
  v.kind = d.kind;
  fill_with_stones(fill, c, v);
  shape_vessel(fill, c, d, v);
  set_levels(fill, c, v);
  wall_vessel(fill, c, v);
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
