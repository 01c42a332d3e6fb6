#include "science/statistics/comparison.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include "science/statistics/special_functions.h"

namespace leat::science {
namespace {

double choose(int n, int k) {
  double ways = 1.0;
  for (int i = 1; i <= k; ++i) ways = ways * (n - k + i) / i;
  return std::round(ways);
}

double sum_of(std::span<const double> values) {
  double sum = 0.0;
  for (const double v : values) sum += v;
  return sum;
}

/// A whole number below `size` from 64 random bits, alike on every machine.
std::size_t below(std::mt19937_64& random, std::size_t size) {
  const double share = static_cast<double>(random() >> 11) * 0x1.0p-53;
  return static_cast<std::size_t>(share * static_cast<double>(size));
}

/// Value below which a share of a sorted list lies, straight between neighbours.
double percentile(const std::vector<double>& sorted, double share) {
  const double at = share * static_cast<double>(sorted.size() - 1);
  const auto i = static_cast<std::size_t>(at);
  if (i + 1 >= sorted.size()) return sorted.back();
  return sorted[i] + (at - static_cast<double>(i)) * (sorted[i + 1] - sorted[i]);
}

}  // namespace

double permutation_smallest_p(int a, int b) {
  return std::min(1.0, 2.0 / choose(a + b, a));
}

std::optional<Rearranged> permutation_test(std::span<const double> first, std::span<const double> second) {
  const std::size_t a = first.size(), n = a + second.size();
  if (a == 0 || second.empty() || n > 24) return std::nullopt;
  std::vector<double> all(first.begin(), first.end());
  all.insert(all.end(), second.begin(), second.end());
  const double total = sum_of(all), per_a = 1.0 / static_cast<double>(a), per_b = 1.0 / static_cast<double>(n - a);
  const auto apart = [&](double sum_a) { return sum_a * per_a - (total - sum_a) * per_b; };
  const double seen = apart(sum_of(first));
  const double slack = 1e-12 * (std::fabs(total) + std::fabs(seen) + 1e-300);
  double as_far = 0.0, ways = 0.0;
  for (std::uint32_t chosen = 0; chosen < (1u << n); ++chosen) {
    if (static_cast<std::size_t>(std::popcount(chosen)) != a) continue;
    double sum_a = 0.0;
    for (std::size_t i = 0; i < n; ++i)
      if (chosen >> i & 1u) sum_a += all[i];
    ways += 1.0;
    if (std::fabs(apart(sum_a)) >= std::fabs(seen) - slack) as_far += 1.0;
  }
  return Rearranged{seen, as_far / ways, permutation_smallest_p(static_cast<int>(a), static_cast<int>(n - a)), ways};
}

std::optional<Rearranged> sign_flip_test(std::span<const double> differences) {
  const std::size_t n = differences.size();
  if (n == 0 || n > 24) return std::nullopt;
  const double seen = sum_of(differences);
  double size = 0.0;
  for (const double d : differences) size += std::fabs(d);
  double as_far = 0.0;
  const double ways = std::ldexp(1.0, static_cast<int>(n));
  for (std::uint32_t flipped = 0; flipped < (1u << n); ++flipped) {
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i) sum += flipped >> i & 1u ? -differences[i] : differences[i];
    if (std::fabs(sum) >= std::fabs(seen) - 1e-12 * size) as_far += 1.0;
  }
  return Rearranged{seen / static_cast<double>(n), as_far / ways, std::min(1.0, 2.0 / ways), ways};
}

Rearranged sign_flip_test_drawn(std::span<const double> differences, int draws, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const double seen = std::fabs(sum_of(differences));
  double as_far = 1.0;
  for (int draw = 0; draw < draws; ++draw) {
    double sum = 0.0;
    std::uint64_t bits = 0;
    for (std::size_t i = 0; i < differences.size(); ++i, bits >>= 1) {
      if (i % 64 == 0) bits = random();
      sum += bits & 1u ? -differences[i] : differences[i];
    }
    if (std::fabs(sum) >= seen) as_far += 1.0;
  }
  const double ways = 1.0 + draws;
  return {sum_of(differences) / std::max(1.0, static_cast<double>(differences.size())), as_far / ways, 1.0 / ways,
          static_cast<double>(draws)};
}

std::optional<Interval> mean_interval_blocks(std::span<const double> series, int block, double level, int draws,
                                             std::uint64_t seed) {
  const std::size_t n = series.size(), length = static_cast<std::size_t>(block);
  if (block <= 0 || length > n || draws < 2) return std::nullopt;
  std::mt19937_64 random(seed);
  std::vector<double> means;
  for (int draw = 0; draw < draws; ++draw) {
    double sum = 0.0;
    for (std::size_t filled = 0; filled < n;) {
      const std::size_t start = below(random, n - length + 1);
      for (std::size_t i = 0; i < length && filled < n; ++i, ++filled) sum += series[start + i];
    }
    means.push_back(sum / static_cast<double>(n));
  }
  std::sort(means.begin(), means.end());
  return Interval{percentile(means, 0.5 - 0.5 * level), percentile(means, 0.5 + 0.5 * level)};
}

Interval LineFit::slope_interval(double level) const {
  const double half = student_t_quantile(0.5 + 0.5 * level, n - 2.0) * slope_error;
  return {slope - half, slope + half};
}

std::optional<LineFit> line_fit(std::span<const double> x, std::span<const double> y) {
  if (x.size() != y.size() || x.size() < 3) return std::nullopt;
  const Sample xs = sample_of(x), ys = sample_of(y);
  double xx = 0.0, xy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - xs.mean) * (x[i] - xs.mean);
    xy += (x[i] - xs.mean) * (y[i] - ys.mean);
  }
  if (!(xx > 0.0)) return std::nullopt;
  const double slope = xy / xx, intercept = ys.mean - slope * xs.mean;
  double squares = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double off = y[i] - intercept - slope * x[i];
    squares += off * off;
  }
  const double residual = std::sqrt(squares / (xs.n - 2.0));
  return LineFit{slope, intercept, residual / std::sqrt(xx), residual, xs.n};
}

}  // namespace leat::science
