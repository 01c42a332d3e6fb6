// One thing in proportion to another, before and after a change: the swing of the water over that of the air.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "science/statistics/intervals.h"

namespace leat::science {

/// y = slope x by least squares.
struct Proportion {
  double slope, error, n;  ///< standard error of the slope, with n - 1 degrees
  double mean_x, mean_y;
};

/// Least squares through the origin; nothing from fewer than two points, or when all x are 0.
///
///   slope = sum(x y) / sum(x^2), error^2 = sum((y - slope x)^2) / ((n - 1) sum(x^2))
///
/// source   Snedecor & Cochran 1967, section 6.18
std::optional<Proportion> line_through_origin(std::span<const double> x, std::span<const double> y);

/// The same line with the error that it has when its days are worth fewer independent ones.
///
///   error / sqrt(worth / n), with worth - 1 degrees; worth n (1 - r)/(1 + r) by what the line leaves, r as of few
///
/// error    at no change, with days that correlate by 0, 0.3, 0.6, an interval of 95 % leaves out 0 in 3 to 7 % of
///          series of 9 to 40 days (simulated; tests/helped.test.cpp)
Proportion as_independent(const Proportion& line, std::span<const double> x, std::span<const double> y);

/// First slope less second, with its interval; pairs taken as independent.
///
///   t with Satterthwaite's degrees over the two standard errors
struct SlopesApart {
  double difference, error, degrees;
  Interval interval;
};
SlopesApart slopes_apart(const Proportion& first, const Proportion& second, double level);

/// The same interval when neighbouring days are alike: percentiles of the difference of slopes over redrawn blocks.
///
/// block    days kept together, no more than either series
/// error    too narrow for few days: at no change it leaves out 0 in 26 % of series of 9 days, 8 % of 40 (simulated)
/// source   moving-block bootstrap (Kunsch 1989)
std::optional<Interval> slopes_apart_blocks(std::span<const double> x1, std::span<const double> y1,
                                            std::span<const double> x2, std::span<const double> y2, int block,
                                            double level, int draws = 2000, std::uint64_t seed = 1);

/// How a series falls into two parts when means and slopes both changed: what the other x would have done by the first
/// slope, or the other slope at the first x; the rest is the other part.
///
///   drop = mean_y1 - mean_y2; by x first: slope1 (mean_x1 - mean_x2); by slope first: (slope1 - slope2) mean_x1
struct Shares {
  double drop, by_x_first, by_slope_first;
};
Shares shares_of_drop(const Proportion& first, const Proportion& second);

/// Hours after which a store has followed a step of the air by 63 %, from the share of the air's daily swing that it
/// shows.
///
///   r = 1 / sqrt(1 + (2 pi tau / 24 h)^2)
///
/// ratio    swing of the store over that of the air   above 0, below 1
/// error    takes the weather as one sine of air, the sun folded in
/// source   first-order lag under a sine
double time_constant_hours(double ratio);

}  // namespace leat::science
