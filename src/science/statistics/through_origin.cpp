#include "science/statistics/through_origin.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <random>
#include <vector>

#include "science/statistics/special_functions.h"

namespace leat::science {
namespace {

/// A whole number below `size` from 64 random bits, alike on every machine.
std::size_t below(std::mt19937_64& random, std::size_t size) {
  const double share = static_cast<double>(random() >> 11) * 0x1.0p-53;
  return static_cast<std::size_t>(share * static_cast<double>(size));
}

/// Slope of a series made of redrawn blocks; not finite when every x is 0.
double slope_of_blocks(std::span<const double> x, std::span<const double> y, std::size_t block,
                       std::mt19937_64& random) {
  double xx = 0.0, xy = 0.0;
  for (std::size_t filled = 0; filled < x.size();) {
    const std::size_t start = below(random, x.size() - block + 1);
    for (std::size_t i = start; i < start + block && filled < x.size(); ++i, ++filled) {
      xx += x[i] * x[i];
      xy += x[i] * y[i];
    }
  }
  return xy / xx;
}

}  // namespace

std::optional<Proportion> line_through_origin(std::span<const double> x, std::span<const double> y) {
  if (x.size() != y.size() || x.size() < 2) return std::nullopt;
  double xx = 0.0, xy = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += x[i] * x[i];
    xy += x[i] * y[i];
  }
  if (!(xx > 0.0)) return std::nullopt;
  const double slope = xy / xx;
  for (std::size_t i = 0; i < x.size(); ++i) squares += (y[i] - slope * x[i]) * (y[i] - slope * x[i]);
  const double n = static_cast<double>(x.size());
  return Proportion{slope, std::sqrt(squares / ((n - 1.0) * xx)), n, sample_of(x).mean, sample_of(y).mean};
}

Proportion as_independent(const Proportion& line, std::span<const double> x, std::span<const double> y) {
  std::vector<double> left;
  for (std::size_t i = 0; i < x.size(); ++i) left.push_back(y[i] - line.slope * x[i]);
  const double worth = std::max(2.0, effective_count_series(line.n, lag_one_correlation_of_few(left)));
  Proportion out = line;
  out.error = line.error * std::sqrt(line.n / worth);
  out.n = worth;
  return out;
}

SlopesApart slopes_apart(const Proportion& first, const Proportion& second, double level) {
  const double a = first.error * first.error, b = second.error * second.error;
  const double error = std::sqrt(a + b), difference = first.slope - second.slope;
  const double degrees =
      error > 0.0 ? (a + b) * (a + b) / (a * a / (first.n - 1.0) + b * b / (second.n - 1.0)) : first.n + second.n - 2.0;
  const double half = student_t_quantile(0.5 + 0.5 * level, degrees) * error;
  return {difference, error, degrees, {difference - half, difference + half}};
}

std::optional<Interval> slopes_apart_blocks(std::span<const double> x1, std::span<const double> y1,
                                            std::span<const double> x2, std::span<const double> y2, int block,
                                            double level, int draws, std::uint64_t seed) {
  const auto length = static_cast<std::size_t>(block);
  if (block <= 0 || length > x1.size() || length > x2.size() || draws < 2) return std::nullopt;
  std::mt19937_64 random(seed);
  std::vector<double> apart;
  for (int draw = 0; draw < draws; ++draw) {
    const double first = slope_of_blocks(x1, y1, length, random);
    const double difference = first - slope_of_blocks(x2, y2, length, random);
    if (std::isfinite(difference)) apart.push_back(difference);
  }
  if (apart.size() < 2) return std::nullopt;
  std::sort(apart.begin(), apart.end());
  const auto at = [&](double share) {
    return apart[static_cast<std::size_t>(std::lround(share * static_cast<double>(apart.size() - 1)))];
  };
  return Interval{at(0.5 - 0.5 * level), at(0.5 + 0.5 * level)};
}

Shares shares_of_drop(const Proportion& first, const Proportion& second) {
  return {first.mean_y - second.mean_y, first.slope * (first.mean_x - second.mean_x),
          (first.slope - second.slope) * first.mean_x};
}

double time_constant_hours(double ratio) {
  return std::sqrt(1.0 / (ratio * ratio) - 1.0) * 24.0 / (2.0 * std::numbers::pi);
}

}  // namespace leat::science
