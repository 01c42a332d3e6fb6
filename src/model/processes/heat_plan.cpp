// The faces of a vessel, from what it is made of.
#include <algorithm>
#include <array>
#include <cmath>

#include "model/processes/heat.h"
#include "science/heat/ground.h"

namespace leat::model {
namespace {

using science::ThermalResistance;

/// Conductivities: EN ISO 10456 and 10077-2 (polyethylene 0.5, softwood 0.13); foam, fibreglass, concrete common
/// practice.
Conductivity<> conductivity_of(Wall wall) {
  switch (wall) {
    case Wall::polyethylene:
    case Wall::clear_polyethylene:
      return Conductivity<>(0.5);
    case Wall::fibreglass:
      return Conductivity<>(0.3);
    case Wall::steel:
      return Conductivity<>(50.0);
    case Wall::concrete:
      return Conductivity<>(1.6);
    case Wall::timber:
      return Conductivity<>(0.13);
  }
  return Conductivity<>(0.5);
}

Conductivity<> conductivity_of(Cladding cladding) {
  return Conductivity<>(cladding == Cladding::timber ? 0.13 : 0.035);
}

Conductivity<> conductivity_of(Lid lid) {
  if (lid == Lid::clear) return Conductivity<>(0.5);
  return Conductivity<>(lid == Lid::foam ? 0.035 : 0.13);
}

/// Share of the sun that weathered timber takes up, as a wall, a cladding or a lid: common practice.
constexpr double kTimberAbsorptance = 0.6;

/// Share of the sun that an opaque outside takes up: weathered middle tones, common practice.
double absorptance_of(Wall wall) {
  switch (wall) {
    case Wall::clear_polyethylene:
      return 0.1;
    case Wall::timber:
      return kTimberAbsorptance;
    case Wall::steel:
      return 0.5;
    default:
      return 0.5;
  }
}

Conductance<> to_skin(const Vessel& v, bool clad) {
  std::array<ThermalResistance<>, 2> layers{science::layer_resistance(v.wall_thickness, conductivity_of(v.wall)),
                                            ThermalResistance<>(0.0)};
  if (clad) layers[1] = science::layer_resistance(v.cladding_thickness, conductivity_of(v.cladding));
  return science::water_to_skin(layers);
}

/// Timber of 30 mm and more holds heat of its own: softwood 500 kg/m3, 1600 J/kg/K (EN ISO 10456).
constexpr double kThickTimber = 0.030, kTimberHeat = 500.0 * 1600.0;

Length<> timber_of(const Vessel& v, bool clad) {
  if (clad && v.cladding == Cladding::timber) return v.cladding_thickness;
  return v.wall == Wall::timber ? v.wall_thickness : Length<>(0.0);
}

/// A face whose timber, if thick, is one node in its middle: half of it towards the water, half towards the skin.
WallFace<> face_of(const Vessel& v, bool clad, Area<> area, double absorptance, double transmitted) {
  WallFace<> face{area, to_skin(v, clad), absorptance, transmitted, {}, {}};
  const Length<> timber = timber_of(v, clad);
  if (timber.si() < kThickTimber || area.si() <= 0.0) return face;
  const ThermalResistance<> half = science::layer_resistance(0.5 * timber, Conductivity<>(0.13));
  face.store = HeatCapacity<>(kTimberHeat * timber.si() * area.si());
  face.to_store = Conductance<>(1.0 / (1.0 / face.to_skin.si() - half.si()));
  face.to_skin = Conductance<>(1.0 / half.si());
  return face;
}

/// Ten layers growing by half to 1.5 m: a day's wave ends in the first few, the year's in the last.
SoilColumn soil_of(const Vessel& v) {
  SoilColumn soil;
  soil.area = v.area + v.perimeter() * v.buried;
  const science::Soil ground = science::soil_default;
  const ThermalResistance<> floor = science::layer_resistance(v.wall_thickness, conductivity_of(v.wall));
  double resistance = 1.0 / science::water_film.si() + floor.si();
  for (const Length<> thickness : science::soil_layers(10, 1.5)) {
    const double half = 0.5 * thickness.si() / ground.conductivity.si();
    soil.layers.push_back(HeatCapacity<>(ground.heat.si() * thickness.si() * soil.area.si()));
    soil.crossings.push_back(Conductance<>(1.0 / (resistance + half)));
    resistance = half;
  }
  soil.crossings.push_back(Conductance<>(1.0 / resistance));
  return soil;
}

void add_walls(const Vessel& v, HeatPlan<>& plan) {
  const Length<> above = v.depth() - v.buried;
  const double clad_above =
      v.cladding == Cladding::none
          ? 0.0
          : std::clamp((v.cladding_share * v.depth().si() - v.buried.si()) / std::max(above.si(), 1e-9), 0.0, 1.0);
  const Area<> side = v.perimeter() * above;
  if (clad_above > 0.0)
    plan.walls.push_back(
        face_of(v, true, side * clad_above, v.cladding == Cladding::timber ? kTimberAbsorptance : 0.3, 0.0));
  if (clad_above < 1.0)
    plan.walls.push_back(face_of(v, false, side * (1.0 - clad_above), absorptance_of(v.wall),
                                 v.wall == Wall::clear_polyethylene ? v.sun_through_wall : 0.0));
}

void add_cover(const Vessel& v, HeatPlan<>& plan) {
  Cover<>& c = plan.cover;
  c.area = v.area * v.cover;
  if (v.kind == VesselKind::raft_bed) {
    c.kind = CoverKind::slab;
    c.to_skin = science::raft_to_skin(v.raft_thickness);
    c.absorptance = 0.4;
  } else if (v.kind == VesselKind::gravel_bed) {
    // 40 mm of dry stones above the water, 0.4 W/m/K: dry gravel, common practice.
    const ThermalResistance<> stones = science::layer_resistance(Length<>(0.04), Conductivity<>(0.4));
    c.kind = CoverKind::slab;
    c.area = v.area;
    c.to_skin = science::water_to_skin(std::span(&stones, 1));
    c.absorptance = 0.6;
  } else if (v.lid != Lid::none) {
    c.kind = CoverKind::lid;
    c.board = science::layer_resistance(v.lid_thickness, conductivity_of(v.lid));
    c.absorptance = v.lid == Lid::clear ? 0.1 : v.lid == Lid::timber ? kTimberAbsorptance : 0.5;
    // A clear lid is mostly of the same sheet as a clear wall, and as little measured.
    c.transmitted = v.lid == Lid::clear ? v.sun_through_wall : 0.0;
  }
}

}  // namespace

HeatPlan<> heat_plan(const Vessel& v) {
  HeatPlan<> plan;
  plan.sun_share = 1.0 - v.shade;
  add_walls(v, plan);
  add_cover(v, plan);
  plan.surface = v.water_area();
  plan.open = v.area - plan.cover.area;
  plan.soil = soil_of(v);
  plan.gas_open_share = v.kind == VesselKind::gravel_bed ? 0.1 : 1.0 - v.cover;
  return plan;
}

HeatStores heat_stores(const HeatPlan<>& plan) {
  HeatStores stores;
  for (const HeatCapacity<>& layer : plan.soil.layers) stores.soil.push_back(layer.si());
  for (const WallFace<>& wall : plan.walls)
    if (wall.store.si() > 0.0) stores.timber.push_back(wall.store.si());
  return stores;
}

}  // namespace leat::model
