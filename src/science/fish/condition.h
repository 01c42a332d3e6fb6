// Length, mass and how stout a fish is.
#pragma once

#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

inline constexpr Length<> inch{0.0254};
inline constexpr Mass<> pound{0.45359237};

/// Fulton's condition factor.
///
///   K = 100 W / L^3        W in g, L in cm
///
/// fish     mass
/// length   say which: total, or to the fork (5 to 8 % shorter, K 15 to 25 % larger)
/// returns  trout 1.0 to 1.2
/// source   Fulton; Piper et al. 1982
inline Number<> condition_factor_fulton(Mass<> fish, Length<> length) {
  const double cm = length.in(10.0 * units::millimetre);
  return Number<>(100.0 * fish.in(units::gram) / (cm * cm * cm));
}

/// Mass over length cubed as Fulton's number: 1 g/cm3 is 100. What hatchery manuals print as C in lb/in3 and as K in
/// g/mm3 is this one density in other units.
///
/// source   Piper et al. 1982, p 61
inline Number<> condition_factor_from_density(Density<> mass_per_length_cubed) {
  return Number<>(mass_per_length_cubed.si() / 10.0);
}

/// Mass of a fish of a condition and length: K L^3 / 100, in g and cm.
inline Mass<> fish_mass_from_length(Number<> fulton, Length<> length) {
  const double metres = length.si();
  return Mass<>(10.0 * fulton.si() * metres * metres * metres);
}

/// Mass of one fish when so many make a mass: hatcheries count fish per pound.
inline Mass<> fish_mass_from_count(double count, Mass<> together = pound) {
  return together / count;
}

}  // namespace leat::science
