#include "science/fish/grading.h"

#include <algorithm>
#include <cmath>

#include "science/statistics/special_functions.h"

namespace leat::science {
namespace {

double normal_share(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

/// Share of the normal distribution below the rank's quantile less `shift`.
double shifted(double rank, double shift) {
  return rank <= 0.0 ? 0.0 : rank >= 1.0 ? 1.0 : normal_share(normal_quantile(rank) - shift);
}

double log_spread(double spread) {
  return std::sqrt(std::log1p(spread * spread));
}

}  // namespace

double share_below(const SizeSpread& fish, Mass<> mass) {
  const double s = log_spread(fish.spread);
  if (mass.si() <= 0.0) return 0.0;
  if (s < 1e-9) return mass > fish.mean ? 1.0 : 0.0;
  return normal_share((std::log(mass.si() / fish.mean.si()) + 0.5 * s * s) / s);
}

SizeSpread between_ranks(const SizeSpread& fish, double from, double to) {
  const double s = log_spread(fish.spread), number = to - from;
  if (s < 1e-9 || number <= 0.0) return {fish.mean, fish.spread};
  const double first = (shifted(to, s) - shifted(from, s)) / number;
  const double second = (1.0 + fish.spread * fish.spread) * (shifted(to, 2.0 * s) - shifted(from, 2.0 * s)) / number;
  return {fish.mean * first, std::sqrt(std::max(0.0, second / (first * first) - 1.0))};
}

SizeSpread together(double count_a, const SizeSpread& a, double count_b, const SizeSpread& b) {
  const double all = count_a + count_b;
  if (all <= 0.0) return a;
  const auto square = [](const SizeSpread& x) { return x.mean.si() * x.mean.si() * (1.0 + x.spread * x.spread); };
  const double mean = (count_a * a.mean.si() + count_b * b.mean.si()) / all;
  const double second = (count_a * square(a) + count_b * square(b)) / all;
  return {Mass<>(mean), std::sqrt(std::max(0.0, second / (mean * mean) - 1.0))};
}

}  // namespace leat::science
