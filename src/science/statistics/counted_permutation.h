// The permutation test for more plants than can be rearranged one way after the other: weights come from a kitchen
// scale in whole steps, so the ways to reach each sum can be counted.
#pragma once

#include <optional>
#include <span>

#include "science/statistics/comparison.h"

namespace leat::science {

/// Exact permutation test of two groups whose values are whole multiples of a step.
///
///   ways(k, s) = ways to choose k of the values with sum s, one value after the other
///
/// first, second  any numbers of values
/// returns        as permutation_test; nothing if the values are no multiples of 1, 0.1 or 0.01, or span so many steps
///                that counting would take longer than some seconds
/// error          shares are rounded to 1e-13 of themselves
/// source         Pagano & Tritchler 1983, here by direct counting
std::optional<Rearranged> permutation_test_counted(std::span<const double> first, std::span<const double> second);

/// Whichever serves: every arrangement up to 20 values, then counted. Nothing when neither can.
std::optional<Rearranged> permutation_test_exact(std::span<const double> first, std::span<const double> second);

}  // namespace leat::science
