// Published limits for ammonia and nitrite in fresh water.
#pragma once

#include "science/water/substances.h"

namespace leat::science {

/// One-hour limit of total ammonia nitrogen where salmonids live.
///
///   min(0.275/(1 + 10^(7.204 - pH)) + 39.0/(1 + 10^(pH - 7.204)),
///       0.7249 (0.0114/(1 + 10^(7.204 - pH)) + 1.6181/(1 + 10^(pH - 7.204))) 23.12 10^(0.036 (20 - t)))     mg/L N
///
/// acidity  pH                        6 to 9.5
/// error    mussels set it in warm water: stricter than fish need
/// source   EPA 822-R-13-001 (2013)
Density<> ammonia_limit_acute_salmonids(Number<> acidity, Temperature<> water);
/// The same without salmonids: the second term with at most 51.93 in place of 23.12 10^(...).
Density<> ammonia_limit_acute(Number<> acidity, Temperature<> water);
/// Thirty-day mean limit.
///
///   0.8876 (0.0278/(1 + 10^(7.688 - pH)) + 1.1994/(1 + 10^(pH - 7.688))) 2.126 10^(0.028 (20 - max(t, 7)))
///
/// source   EPA 822-R-13-001 (2013)
Density<> ammonia_limit_chronic(Number<> acidity, Temperature<> water);
/// One-hour limit of 1999 where salmonids live: the first term above alone.
/// source   EPA 822-R-99-014
Density<> ammonia_limit_acute_salmonids_1999(Number<> acidity);

/// Limits of nitrite nitrogen.
struct NitriteLimits {
  Density<> mean, maximum;
};
/// Nitrite that fish bear rises with the chloride in the water.
///
/// returns  mean 0.02 to 0.20, maximum 0.06 to 0.60 mg/L N, in steps of 2 mg/L chloride up to 10
/// source   British Columbia freshwater guideline (as N from memory)
NitriteLimits nitrite_limits(Density<> chloride);

}  // namespace leat::science
