// Runs a loop through time: the only place that changes a state, and only its own copy.
#pragma once

#include <optional>

#include "model/equations/equations.h"
#include "model/simulate/trajectory.h"

namespace leat::model {

/// Feed that was given, as the record has it.
struct Given {
  Instant when;
  std::size_t group = 0;
  Mass<> feed;
};

struct RunOptions {
  double relative_tolerance = 1e-5;
  bool dense = false;  ///< solve with a dense matrix: slower, a check on the sparse one
  /// At midnight as much base is dosed into the sump as brings the loop's mean alkalinity up to this, at most
  /// `base_a_day`: potassium bicarbonate in one week, calcium hydroxide in the next. Nothing: nobody doses.
  std::optional<Concentration<>> hold_alkalinity{};
  /// Up to this moment nothing is fed but what was given; from then on the rule feeds.
  std::vector<Given> given{};
  std::optional<Instant> given_until{};
  /// A planting that is ready at midnight is harvested: whole, and seedlings stand in its place; or picked, where it is
  /// of that kind, and whole at the last time.
  bool resow = false;
  /// The cycle of pulsed water, for equations that were made of it; must outlive the run.
  const Pulses* pulses = nullptr;
};

/// Most alkalinity that is dosed in a day: 10 mg/L as CaCO3, so that pH moves by less than 0.3 (common practice).
inline constexpr Concentration<> base_a_day{0.2};

/// Of each slot: relative, and absolute by the size below which it is small. No error is counted in the outside
/// accounts.
numerics::Tolerance tolerance(const Layout& layout, double relative);

/// Runs from `from` to `to`; both on whole hours of the forcing. Stops exactly at meals, at the hours of the weather
/// and at local midnights. A run that cannot go on returns what it has, with when and why.
Trajectory simulate(const Loop& loop, const Equations& equations, Instant from, Instant to,
                    const RunOptions& options = {});

}  // namespace leat::model
