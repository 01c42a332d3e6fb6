#include "science/statistics/counted_permutation.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace leat::science {
namespace {

/// Values as whole steps above the smallest; empty if no step fits.
std::vector<std::size_t> in_steps(const std::vector<double>& values, double& step) {
  const double least = *std::min_element(values.begin(), values.end());
  for (const double per_unit : {1.0, 10.0, 100.0}) {
    std::vector<std::size_t> steps;
    for (const double v : values) {
      const double exact = (v - least) * per_unit;
      if (std::fabs(exact - std::round(exact)) > 1e-6 || exact > 1e7) break;
      steps.push_back(static_cast<std::size_t>(std::llround(exact)));
    }
    step = 1.0 / per_unit;
    if (steps.size() == values.size()) return steps;
  }
  return {};
}

/// Shares of all choices of `chosen` values by their sum. Kept as shares, since the ways themselves overflow.
std::vector<double> shares_by_sum(const std::vector<std::size_t>& steps, std::size_t chosen, std::size_t most) {
  const std::size_t width = most + 1;
  std::vector<double> share((chosen + 1) * width, 0.0);
  share[0] = 1.0;
  const double n = static_cast<double>(steps.size());
  for (std::size_t i = 0; i < steps.size(); ++i) {
    // The i-th value is among the chosen with the chance that so many of what is left must be.
    const double left = n - static_cast<double>(i);
    for (std::size_t k = std::min(chosen, i + 1) + 1; k-- > 0;) {
      double* row = &share[k * width];
      const double stay = std::max(0.0, left - static_cast<double>(chosen - k)) / left;
      for (std::size_t s = 0; s < width; ++s) row[s] *= stay;
      if (k == 0) continue;
      const double take = static_cast<double>(chosen - k + 1) / left;
      const double* before = &share[(k - 1) * width];
      for (std::size_t s = steps[i]; s < width; ++s) row[s] += take * before[s - steps[i]];
    }
  }
  return {share.end() - static_cast<std::ptrdiff_t>(width), share.end()};
}

}  // namespace

std::optional<Rearranged> permutation_test_counted(std::span<const double> first, std::span<const double> second) {
  if (first.empty() || second.empty()) return std::nullopt;
  std::vector<double> all(first.begin(), first.end());
  all.insert(all.end(), second.begin(), second.end());
  double step = 1.0;
  const auto steps = in_steps(all, step);
  if (steps.empty()) return std::nullopt;
  std::size_t total = 0, seen = 0;
  for (const std::size_t s : steps) total += s;
  for (std::size_t i = 0; i < first.size(); ++i) seen += steps[i];
  const double a = static_cast<double>(first.size()), b = static_cast<double>(second.size());
  if (static_cast<double>(total) * a * (a + b) > 2e9) return std::nullopt;
  const auto shares = shares_by_sum(steps, first.size(), total);
  // Differences of means grow with n sum_a - a total: whole numbers, so that ties are ties.
  const auto apart = [&](std::size_t sum) {
    return std::fabs((a + b) * static_cast<double>(sum) - a * static_cast<double>(total));
  };
  double p = 0.0;
  for (std::size_t s = 0; s < shares.size(); ++s)
    if (apart(s) >= apart(seen)) p += shares[s];
  const double difference = step * (static_cast<double>(seen) / a - static_cast<double>(total - seen) / b);
  const double ways = std::round(std::exp(std::lgamma(a + b + 1) - std::lgamma(a + 1) - std::lgamma(b + 1)));
  return Rearranged{difference, std::min(1.0, p), std::min(1.0, 2.0 / ways), ways};
}

std::optional<Rearranged> permutation_test_exact(std::span<const double> first, std::span<const double> second) {
  if (first.size() + second.size() <= 20) return permutation_test(first, second);
  return permutation_test_counted(first, second);
}

}  // namespace leat::science
