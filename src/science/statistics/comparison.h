// Comparing few beds, tanks or cycles honestly: by rearranging the labels, and by redrawing blocks of days.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "science/statistics/intervals.h"

namespace leat::science {

/// A comparison by all rearrangements.
struct Rearranged {
  double difference;  ///< mean of the first less mean of the second
  double p;           ///< share of arrangements at least as far apart, two-sided
  double smallest_p;  ///< the smallest that so few units can ever give
  double arrangements;
};

/// Smallest two-sided p of an exact permutation test with a and b units: 2 / C(a + b, a), at most 1. 2 and 2 beds can
/// never do better than 0.333, 3 and 3 than 0.10, 4 and 4 than 0.029.
double permutation_smallest_p(int a, int b);

/// Exact permutation test of two groups of units (beds, not plants).
///
///   over all C(a + b, a) ways to choose which units were the first group
///
/// first, second   at least one value each; up to 24 units in all
/// returns         p = 1 where nothing can be told (one unit each); nothing if there are too few or too many
/// source          exact permutation test
std::optional<Rearranged> permutation_test(std::span<const double> first, std::span<const double> second);

/// Exact sign-flip test of paired differences (cycles of a cross-over).
///
///   over all 2^n ways to swap the two treatments within pairs; up to 24 pairs
std::optional<Rearranged> sign_flip_test(std::span<const double> differences);

/// The same where there are too many pairs for all ways: so many drawn, and the one that was seen counted with them.
///
///   p = (1 + ways drawn that are at least as far) / (1 + draws)
///
/// returns  `arrangements` is the number of draws
/// source   Phipson and Smyth 2010 for the 1 on both sides, from memory
Rearranged sign_flip_test_drawn(std::span<const double> differences, int draws = 20000, std::uint64_t seed = 1);

/// Interval of the mean of a daily series whose neighbours are alike: percentile interval of means of redrawn blocks.
///
/// series   daily values, paired differences or ratios, in order
/// block    days kept together                 5 to 10, at least n^(1/3), no more than the series
/// level    0.95
/// draws    2000
/// seed     the same seed gives the same interval on every machine
/// source   moving-block bootstrap (Kunsch 1989)
std::optional<Interval> mean_interval_blocks(std::span<const double> series, int block, double level, int draws = 2000,
                                             std::uint64_t seed = 1);

/// Straight line through points by least squares.
struct LineFit {
  double slope, intercept, slope_error, residual, n;  ///< standard error of the slope; residual standard deviation

  Interval slope_interval(double level) const;
};

/// Least squares; nothing from fewer than three points, or from points all at one x. Growth: x degree-days, y
/// mass^(1/3), slope the thermal growth coefficient.
std::optional<LineFit> line_fit(std::span<const double> x, std::span<const double> y);

}  // namespace leat::science
