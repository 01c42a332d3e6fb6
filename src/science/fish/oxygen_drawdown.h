// Oxygen in a tank that has lost its flow: what the fish take, what the surface and other helpers give.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/units/quantity.h"
#include "science/fish/species.h"

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
  // As the logarithm of 1 and a little: exact for a surface that gives next to nothing.
  return Duration<>(std::log1p((start - end) * k / (r - k * (saturation.si() - end))) / k);
}

/// Oxygen of a still, well-mixed tank after a while.
///
///   O = S - R/k + (O0 - S + R/k) exp(-k t)        without a surface O0 - R t
///
/// returns  0 where it has run out
/// source   mass balance of a well-mixed tank
inline Density<> still_tank_oxygen_after(Density<> oxygen, Density<> saturation, Frequency<> exchange,
                                         Density<> demand_per_second, Duration<> time) {
  const double start = oxygen.si(), k = exchange.si(), r = demand_per_second.si(), t = time.si();
  // The gain over a time t of a rate that dies away with k: (1 - exp(-k t)) / k, which is t for small k.
  const double lasting = k * t > 0.0 ? -std::expm1(-k * t) / k : t;
  return Density<>(std::max(0.0, start + (k * (saturation.si() - start) - r) * lasting));
}

/// How many times the uptake of its law fish take in a state of theirs. Liao's fish were fed, moderately.
///
/// source  fed: half way in ratio between trough and peak of a day, 2.2 apart in sockeye of 29 g at 15 °C (seen);
///         frightened or handled: 30 to 100 % more for hours (common practice); fasted: see demand_factor_fasted
struct DemandFactors {
  double fed = 1.4, usual = 1.0, fasted = 0.5, frightened = 1.8;
};

/// Times the uptake of fed fish that fasted ones take: less is saved in the cold.
///
///   0.75 up to 5 °C, 0.5 from 12 °C, straight between
///
/// source   0.6 to 0.9 at 4 to 5 °C, 0.40 to 0.64 at 12 to 15 °C: Wieser 1985, Kieffer 1998, trout of 4 to 18 g
inline double demand_factor_fasted(Temperature<> water) {
  return 0.75 - 0.25 * std::clamp((water.celsius() - 5.0) / 7.0, 0.0, 1.0);
}

/// How long after a meal fish take more than on the mean of the day, and after how long they count as fasted.
struct DigestingTimes {
  Duration<> more, done;
};

/// Digesting, slower in the cold.
///
///   10 h and 24 h at 15 °C, times 2.3^((15 - T) / 10)
///
/// source   common practice for the times; the slope is that of gastric evacuation and of the ammonia pulse
inline DigestingTimes digesting_times(Temperature<> water) {
  const double slower = std::pow(2.3, (15.0 - water.celsius()) / 10.0);
  return {Duration<>(10.0 * 3600.0 * slower), Duration<>(24.0 * 3600.0 * slower)};
}

/// How far the true uptake may lie from its law, as a factor either way.
///
///   Liao's law 1.3, any other 1.5
///
/// source   Liao: 0.89 to 1.08 of an independent fit for juveniles at 5 to 18 °C, up to 1.28 over it at 20 °C; mass
///          exponents of -0.06 to -0.22 have been fitted, a factor of 1.2 at 1 kg. Others: the error of their level
inline double uptake_spread(OxygenLaw law) {
  return law == OxygenLaw::liao ? 1.3 : 1.5;
}

}  // namespace leat::science
