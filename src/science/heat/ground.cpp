#include "science/heat/ground.h"

#include <cmath>
#include <numbers>

namespace leat::science {
namespace {

double circular_frequency(Duration<> period) {
  return 2.0 * std::numbers::pi / period.si();
}

}  // namespace

Diffusivity diffusivity(const Soil& soil) {
  return soil.conductivity / soil.heat;
}

Length<> damping_depth(const Soil& soil, Duration<> period) {
  return Length<>(std::sqrt(2.0 * diffusivity(soil).si() / circular_frequency(period)));
}

Conductance<> soil_admittance(const Soil& soil, Duration<> period) {
  return Conductance<>(std::sqrt(soil.conductivity.si() * soil.heat.si() * circular_frequency(period)));
}

Temperature<> ground_temperature_kusuda(const GroundYear& year, Length<> depth, Duration<> since_new_year,
                                        const Soil& soil) {
  const double z = depth.si() / damping_depth(soil, a_year).si();
  const double phase = circular_frequency(a_year) * (since_new_year - year.coldest).si() - z;
  return year.mean - std::exp(-z) * std::cos(phase) * year.amplitude;
}

Conductance<> slab_on_ground_u(Area<> area, Length<> perimeter, Length<> wall, Conductivity<> soil,
                               ThermalResistance<> floor, ThermalResistance<> inside, ThermalResistance<> outside) {
  const double b = 2.0 * area.si() / perimeter.si(), k = soil.si();
  const double dt = wall.si() + k * (inside + floor + outside).si();
  const double pi_b = std::numbers::pi * b;
  return Conductance<>(dt < b ? 2.0 * k / (pi_b + dt) * std::log(pi_b / dt + 1.0) : k / (0.457 * b + dt));
}

std::vector<Length<>> soil_layers(int count, double growth, Length<> depth) {
  std::vector<Length<>> layers;
  double sum = 0.0, next = 1.0;
  for (int i = 0; i < count; ++i, next *= growth) {
    layers.emplace_back(next);
    sum += next;
  }
  for (Length<>& layer : layers) layer = Length<>(layer.si() / sum * depth.si());
  return layers;
}

}  // namespace leat::science
