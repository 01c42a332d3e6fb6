// Fish sorted by size: how many of a group lie above a mass, and what they weigh.
#pragma once

#include "base/units/quantity.h"

namespace leat::science {

/// The masses of single fish in a group: logarithms spread evenly about their mean, so that none is below zero and the
/// heavy ones lie farther out than the light ones.
struct SizeSpread {
  Mass<> mean;
  double spread = 0.25;  ///< standard deviation over the mean; 0: all alike
};

/// Share of the fish that weigh less than `mass`.
///
///   Phi((ln m - mu) / s),   s^2 = ln(1 + spread^2), mu = ln mean - s^2 / 2
///
/// returns  0 to 1
/// source   the log-normal distribution; that fish of one age follow it is common practice
double share_below(const SizeSpread& fish, Mass<> mass);

/// Of the fish between two ranks of size (0 the lightest, 1 the heaviest), what each weighs on average and how its kind
/// spreads: mean Phi(b - s) - Phi(a - s) over their number, and the same with 2 s for the squares.
///
/// from, to share of the fish that is lighter, 0 <= from < to <= 1
SizeSpread between_ranks(const SizeSpread& fish, double from, double to);

/// Two lots of fish together: how they spread about their common mean.
SizeSpread together(double count_a, const SizeSpread& a, double count_b, const SizeSpread& b);

}  // namespace leat::science
