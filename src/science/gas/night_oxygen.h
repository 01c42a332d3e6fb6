// Oxygen of a mixed water through a night: steady breath against what the surface gives.
#pragma once

#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

/// Oxygen towards which a night goes, from two readings and the reaeration.
///
///   Oe = (O2 - O1 e^(-k t)) / (1 - e^(-k t))
///
/// between     time from the first reading to the second, above 0
/// reaeration  K_L A / V and all else that brings air, above 0
/// returns     may lie below nothing: then the oxygen runs out before it gets there
/// error       that of the readings, 1/(1 - e^(-k t)) times larger: three hours at 0.3 1/h make it 1.7 times
/// source      mass balance of a mixed water in the dark
inline Density<> night_equilibrium_oxygen(Density<> first, Density<> second, Duration<> between,
                                          Frequency<> reaeration) {
  const double left = std::exp(-reaeration.si() * between.si());
  return Density<>((second.si() - first.si() * left) / (1.0 - left));
}

/// Oxygen after a time in the dark; not below nothing.
///
///   O = Oe + (O2 - Oe) e^(-k t)
inline Density<> night_oxygen(Density<> from, Density<> equilibrium, Duration<> after, Frequency<> reaeration) {
  const double e = equilibrium.si();
  return Density<>(std::max(0.0, e + (from.si() - e) * std::exp(-reaeration.si() * after.si())));
}

/// What all that lives in the water takes, per volume and second.
///
///   R = (S - Oe) k
inline double night_demand(Density<> saturation, Density<> equilibrium, Frequency<> reaeration) {
  return (saturation - equilibrium).si() * reaeration.si();
}

/// The straight line through the logarithms of two readings, to be used where the reaeration is not known.
///
///   O = O2 (O2/O1)^(t / between)
///
/// error   it has no floor: with air coming in it falls too low, with little air too slowly at first
/// source  Madenjian, Rogers and Fast 1987, Aquacultural Engineering 6 (from memory)
inline Density<> night_oxygen_log_line(Density<> first, Density<> second, Duration<> between, Duration<> after) {
  if (first.si() <= 0.0 || second.si() <= 0.0) return Density<>(0.0);
  return Density<>(second.si() * std::pow(second.si() / first.si(), after.si() / between.si()));
}

}  // namespace leat::science
