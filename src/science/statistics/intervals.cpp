#include "science/statistics/intervals.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "science/statistics/special_functions.h"

namespace leat::science {

Interval share_clopper_pearson(double k, double n, double level) {
  const double each_side = 0.5 + 0.5 * level;
  return {share_lower_limit(k, n, each_side), share_upper_limit(k, n, each_side)};
}

double share_upper_limit(double k, double n, double level) {
  return k >= n ? 1.0 : inverse_incomplete_beta(k + 1.0, n - k, level);
}

double share_lower_limit(double k, double n, double level) {
  return k <= 0.0 ? 0.0 : inverse_incomplete_beta(k, n - k + 1.0, 1.0 - level);
}

double share_rule_of_three(double n) {
  return 3.0 / n;
}

Interval count_poisson_exact(double count, double level) {
  const double outside = 0.5 - 0.5 * level;
  return {count <= 0.0 ? 0.0 : inverse_incomplete_gamma(count, outside),
          inverse_incomplete_gamma(count + 1.0, 1.0 - outside)};
}

Sample sample_of(std::span<const double> values) {
  const double n = static_cast<double>(values.size());
  double sum = 0.0;
  for (const double v : values) sum += v;
  const double mean = sum / n;
  double squares = 0.0;
  for (const double v : values) squares += (v - mean) * (v - mean);
  return {n, mean, n > 1.0 ? std::sqrt(squares / (n - 1.0)) : 0.0};
}

double mean_half_width(const Sample& sample, double level) {
  return student_t_quantile(0.5 + 0.5 * level, sample.n - 1.0) * sample.deviation / std::sqrt(sample.n);
}

Interval mean_interval(const Sample& sample, double level) {
  const double half = mean_half_width(sample, level);
  return {sample.mean - half, sample.mean + half};
}

GeometricMean geometric_mean(std::span<const double> values, double level) {
  std::vector<double> logs;
  for (const double v : values) logs.push_back(std::log(v));
  const Sample sample = sample_of(logs);
  const Interval interval = mean_interval(sample, level);
  return {std::exp(sample.mean), {std::exp(interval.low), std::exp(interval.high)}};
}

double effective_count(double members, double per_group, double within) {
  return members / (1.0 + (per_group - 1.0) * within);
}

double effective_count_series(double n, double correlation) {
  return n * (1.0 - correlation) / (1.0 + correlation);
}

double lag_one_correlation(std::span<const double> series) {
  const Sample sample = sample_of(series);
  double along = 0.0, across = 0.0;
  for (std::size_t i = 0; i < series.size(); ++i) {
    const double off = series[i] - sample.mean;
    across += off * off;
    if (i > 0) along += off * (series[i - 1] - sample.mean);
  }
  return across > 0.0 ? along / across : 0.0;
}

double lag_one_correlation_of_few(std::span<const double> series) {
  const double n = static_cast<double>(series.size());
  if (n < 5.0) return 0.0;
  return std::clamp((lag_one_correlation(series) + 1.0 / n) / (1.0 - 3.0 / n), 0.0, 0.9);
}

}  // namespace leat::science
