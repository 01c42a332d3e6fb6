// Oxygen in a tank that has lost its flow: what the fish take, what the surface and other helpers give.
#pragma once

#include <cmath>
#include <limits>

#include "base/units/quantity.h"

namespace leat::science {

/// Oxygen towards which a still tank goes: where the surface gives what is taken.
///
///   S - R/k
///
/// exchange  K_L A / V
/// demand    taken per volume and time
/// returns   may lie below nothing: then it runs out
inline double still_tank_oxygen(double saturation, double exchange, double demand) {
  return exchange > 0.0 ? saturation - demand / exchange : -std::numeric_limits<double>::infinity();
}

/// Time until the oxygen of a still, well-mixed tank has fallen to a level.
///
///   t = (1/k) ln( (O0 - Oe) / (O - Oe) ),  Oe = S - R/k        without a surface (O0 - O) / R
///
/// oxygen      at the start
/// level       not to be passed
/// saturation  of the water under its air
/// exchange    K_L A / V, 0 and more
/// demand      by the fish and all else, per volume
/// returns     0 at or below the level; infinity if it never gets there
/// error       that of the demand and of K_L; the demand is taken as steady
/// source      mass balance of a well-mixed tank
inline Duration<> time_to_oxygen_level(Density<> oxygen, Density<> level, Density<> saturation, Frequency<> exchange,
                                       Density<> demand_per_second) {
  const double start = oxygen.si(), end = level.si(), k = exchange.si(), r = demand_per_second.si();
  if (start <= end) return Duration<>(0.0);
  if (k <= 0.0) return Duration<>(r > 0.0 ? (start - end) / r : std::numeric_limits<double>::infinity());
  const double rest = still_tank_oxygen(saturation.si(), k, r);
  if (rest >= end) return Duration<>(std::numeric_limits<double>::infinity());
  return Duration<>(std::log((start - rest) / (end - rest)) / k);
}

/// How many times Liao's uptake fish take in a state of theirs. Liao's fish were fed, moderately.
///
/// source  fed and fasted: ratio of the daily peak to its trough 2.2 in sockeye, fasted about half of fed (common
///         practice); frightened or handled 30 to 100 % more (common practice)
struct DemandFactors {
  double fed = 1.4, usual = 1.0, fasted = 0.5, frightened = 1.8;
};

/// Share of a rated oxygen transfer that is left in this water.
///
///   alpha 1.024^(T - 20) (S - O) / 9.092 mg/L
///
/// alpha   0.8 for fish water (0.6 to 0.9)
/// source  ASCE/EWRI 2-06, as in oxygen_transfer_in_use
inline double transfer_left(Temperature<> water, Density<> saturation, Density<> oxygen, double alpha = 0.8) {
  const double driving = (saturation - oxygen).si() / 9.092e-3;
  return driving > 0.0 ? alpha * std::pow(1.024, water.celsius() - 20.0) * driving : 0.0;
}

}  // namespace leat::science
