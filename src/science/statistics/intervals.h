// Intervals for counts, shares and means.
#pragma once

#include <span>

namespace leat::science {

struct Interval {
  double low, high;
};

/// Exact interval of a share, k of n.
///
///   low = B(a/2; k, n - k + 1), high = B(1 - a/2; k + 1, n - k), beta quantiles, a = 1 - level
///
/// returns  0 to 1; low is 0 for k = 0, high is 1 for k = n
/// source   Clopper & Pearson 1934
Interval share_clopper_pearson(double k, double n, double level);

/// Its one-sided limits: each alone holds with the level.
double share_upper_limit(double k, double n, double level);
double share_lower_limit(double k, double n, double level);

/// Upper limit of a share when nothing happened in n: 3 / n. One-sided 95 %, good from n = 30 on.
///
/// source   the rule of three
double share_rule_of_three(double n);

/// Exact interval of the expected count when so many were counted.
///
///   low = G(a/2; k), high = G(1 - a/2; k + 1), gamma quantiles
///
/// source   Garwood 1936
Interval count_poisson_exact(double count, double level);

/// Mean and spread of a sample.
struct Sample {
  double n, mean, deviation;  ///< deviation with n - 1
};
Sample sample_of(std::span<const double> values);

/// Half of the width of the t interval of a mean: t s / sqrt(n).
double mean_half_width(const Sample& sample, double level);
Interval mean_interval(const Sample& sample, double level);

/// Geometric mean with its interval, for masses: the t interval of the logarithms taken back. All values above 0.
struct GeometricMean {
  double mean;
  Interval interval;
};
GeometricMean geometric_mean(std::span<const double> values, double level);

/// Independent units that n members of groups are worth.
///
///   n / (1 + (m - 1) icc)
///
/// members    n in all
/// per_group  m in each bed or tank
/// within     intraclass correlation          0 to 1
/// source     design effect; Hurlbert 1984 on pseudoreplication
double effective_count(double members, double per_group, double within);

/// Independent readings that a daily series is worth: n (1 - r) / (1 + r), r from one day to the next.
///
/// source   first-order autocorrelation, long series
double effective_count_series(double n, double correlation);

/// Correlation of a series with itself one step on.
double lag_one_correlation(std::span<const double> series);

/// The same for a short series, which shows too little of it.
///
///   (r + 1/n) / (1 - 3/n), within 0 and 0.9
///
/// series   five values at least; 0 for fewer
/// source   Kendall 1954, Marriott & Pope 1954: the expected r is rho - (1 + 3 rho)/n
double lag_one_correlation_of_few(std::span<const double> series);

}  // namespace leat::science
