#include "science/heat/periodic_wall.h"

#include <cmath>
#include <numbers>

namespace leat::science {
namespace {

using Complex = std::complex<double>;

/// [a b; c d], from (T, q) on the far side to (T, q) on the near side.
struct TwoPort {
  Complex a = 1.0, b = 0.0, c = 0.0, d = 1.0;

  TwoPort then(const TwoPort& next) const {
    return {a * next.a + b * next.c, a * next.b + b * next.d, c * next.a + d * next.c, c * next.b + d * next.d};
  }
};

TwoPort two_port_of(const WallLayer& layer, Duration<> period) {
  if (layer.thickness.si() == 0.0) return {1.0, layer.resistance.si(), 0.0, 1.0};
  const Complex p = Complex(1.0, 1.0) / damping_depth(layer.material, period).si();
  const Complex kp = layer.material.conductivity.si() * p, x = p * layer.thickness.si();
  return {std::cosh(x), std::sinh(x) / kp, kp * std::sinh(x), std::cosh(x)};
}

}  // namespace

WallLayer massless_layer(ThermalResistance<> resistance) {
  return {resistance, Length<>{}, {}};
}

WallLayer massive_layer(Length<> thickness, Conductivity<> conductivity, VolumetricHeat<> heat) {
  return {layer_resistance(thickness, conductivity), thickness, {conductivity, heat}};
}

PeriodicWall periodic_wall(std::span<const WallLayer> layers, Duration<> period) {
  TwoPort wall;
  double resistance = 0.0;
  for (const WallLayer& layer : layers) {
    wall = wall.then(two_port_of(layer, period));
    resistance += layer.resistance.si();
  }
  const Wave<dim::conductance> self(wall.d / wall.b), transfer(1.0 / wall.b);
  return {self, transfer, std::abs(transfer.si()) * resistance, crest_time(transfer, period)};
}

PeriodicWall buried_face(const Soil& soil, Duration<> period) {
  const Complex lead = std::polar(1.0, std::numbers::pi / 4.0);
  return {Wave<dim::conductance>(soil_admittance(soil, period).si() * lead), {}, 0.0, {}};
}

}  // namespace leat::science
