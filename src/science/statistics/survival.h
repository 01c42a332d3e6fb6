// Survival of fish when some leave the record alive: sold, moved, or still there.
#pragma once

#include <vector>

#include "science/statistics/intervals.h"

namespace leat::science {

/// One fish: how long it was followed, and whether that ended in its death (or culling for illness). Harvest, sale, a
/// move to another tank and the end of the record are no deaths.
struct Followed {
  double time;
  bool died;
};

/// The estimate from one time of death to the next.
struct SurvivalStep {
  double time;       ///< from here on
  double at_risk;    ///< fish alive and followed just before
  double deaths;     ///< at this time
  double survival;   ///< share alive from here on
  double greenwood;  ///< sum of d / (n (n - d)) so far; infinite once none is left

  double standard_error() const;
};

/// Product-limit estimate of survival.
///
///   S(t) = product over times of death up to t of (1 - d / n); deaths at a time count before losses at that time
///
/// fish     in any order
/// returns  one step per time of death, earliest first; survival is 1 before the first
/// error    assumes that fish die independently: those of one tank share its accidents, so true intervals are wider
/// source   Kaplan & Meier 1958; variance Greenwood 1926
std::vector<SurvivalStep> survival_kaplan_meier(std::vector<Followed> fish);

/// What happened in one tank or bed at one time, by counts: individuals are not told apart.
struct CountedEvent {
  double time;
  double entered = 0.0, died = 0.0, left = 0.0;  ///< left: alive, sold or moved
};

/// The same estimate from counts, where some came later than others.
///
///   at one time deaths come first, then those that left, then those that entered
///
/// events   in any order; deaths beyond those that are there are left out
/// error    those that came later are taken to die as those that were there
/// source   Kaplan & Meier 1958, with late entries as of Cox & Oakes 1984
std::vector<SurvivalStep> survival_of_counts(std::vector<CountedEvent> events);

/// The step that holds at a time; survival 1 before the first death.
SurvivalStep survival_at(const std::vector<SurvivalStep>& steps, double time);

/// Interval S +- z SE. May leave 0 to 1: shown because published tables have it.
Interval survival_interval_linear(const SurvivalStep& step, double level);

/// Interval on log(-log S): stays within 0 and 1; preferred for few fish.
///
///   S^exp(+-z SE / (S |ln S|))
Interval survival_interval_loglog(const SurvivalStep& step, double level);

}  // namespace leat::science
