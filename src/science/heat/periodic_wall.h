// Walls that hold heat, seen as a wave: how much of a daily swing passes, how late, and how much the wall itself takes.
#pragma once

#include <complex>
#include <span>

#include "base/units/quantity.h"
#include "science/heat/ground.h"
#include "science/heat/walls.h"

namespace leat::science {

/// The first harmonic of something that repeats: x(t) = mean + Re(X exp(2 pi i t/period)). |X| is half its swing, its
/// crest comes at -arg X.
template <Dimension D>
using Wave = Quantity<D, std::complex<double>>;

/// Time after t = 0, within a period, at which a wave crests.
template <Dimension D>
Duration<> crest_time(Wave<D> wave, Duration<> period = units::day) {
  constexpr double turn = 6.283185307179586;
  const double share = -std::arg(wave.si()) / turn;
  return (share < 0.0 ? share + 1.0 : share) * period;
}

/// One layer; a film or a board without mass has a resistance and no thickness.
struct WallLayer {
  ThermalResistance<> resistance;  ///< d/k
  Length<> thickness;
  Soil material{};  ///< conductivity and heat per volume, used where there is a thickness
};
WallLayer massless_layer(ThermalResistance<> resistance);
WallLayer massive_layer(Length<> thickness, Conductivity<> conductivity, VolumetricHeat<> heat);

/// A wall's answer to waves on its two sides, films included.
///
///   heat into the wall from the inside = self T_in - transfer T_out
struct PeriodicWall {
  Wave<dim::conductance> self;      ///< |.| admittance
  Wave<dim::conductance> transfer;  ///< |.| periodic transmittance; arg < 0 is a lag
  /// Transmittance over that of the steady wall.
  double decrement = 1.0;
  /// How late the outside's wave comes through.
  Duration<> lag;
};

/// Layers from the inside to the outside, the outside held at its wave's temperature.
///
///   [T1 q1] = [A B; C D] [T2 q2], the product over layers of [cosh x, sinh x/(k p); k p sinh x, cosh x]
///   x = p d,  p = sqrt(i omega/kappa)
///   self = D/B,   transfer = 1/B
///
/// source   matrix method of ISO 13786; Carslaw and Jaeger
PeriodicWall periodic_wall(std::span<const WallLayer> layers, Duration<> period = units::day);

/// A half space of soil behind the inside: self = sqrt(k C omega) exp(i pi/4), transfer 0.
PeriodicWall buried_face(const Soil& soil, Duration<> period = units::day);

}  // namespace leat::science
