#include "science/statistics/two_groups.h"

#include <algorithm>
#include <cmath>

#include "science/statistics/special_functions.h"

namespace leat::science {
namespace {

double log_choose(double n, double k) {
  return std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
}

}  // namespace

MeanDifference mean_difference_welch(const Sample& first, const Sample& second, double level) {
  const double a = first.deviation * first.deviation / first.n, b = second.deviation * second.deviation / second.n;
  const double error = std::sqrt(a + b);
  const double degrees = (a + b) * (a + b) / (a * a / (first.n - 1.0) + b * b / (second.n - 1.0));
  const double difference = first.mean - second.mean;
  const double half = student_t_quantile(0.5 + 0.5 * level, degrees) * error;
  const double p = 2.0 * student_t_share(-std::fabs(difference) / error, degrees);
  return {difference, error, degrees, {difference - half, difference + half}, p};
}

double shares_alike_fisher(double k1, double n1, double k2, double n2) {
  const double k = k1 + k2, n = n1 + n2;
  const auto likelihood = [&](double x) {
    return std::exp(log_choose(n1, x) + log_choose(n2, k - x) - log_choose(n, k));
  };
  const double seen = likelihood(k1) * (1.0 + 1e-7);
  double p = 0.0;
  for (double x = std::max(0.0, k - n2); x <= std::min(n1, k); x += 1.0)
    if (const double one = likelihood(x); one <= seen) p += one;
  return std::min(1.0, p);
}

double plants_needed_normal(double variation, double difference, double level, double power) {
  const double z = normal_quantile(0.5 + 0.5 * level) + normal_quantile(power);
  return 2.0 * z * z * variation * variation / (difference * difference);
}

double plants_needed(double variation, double difference, double level, double power) {
  const double scale = 2.0 * variation * variation / (difference * difference);
  const auto wanted = [&](double n) {
    const double df = 2.0 * n - 2.0;
    const double t = student_t_quantile(0.5 + 0.5 * level, df) + student_t_quantile(power, df);
    return scale * t * t;
  };
  // What is wanted falls as n grows, so the two meet once; below two plants nothing can be told.
  double low = 2.0, high = std::max(4.0, plants_needed_normal(variation, difference, level, power) + 10.0);
  if (wanted(low) <= low) return low;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (wanted(middle) > middle ? low : high) = middle;
  }
  return high;
}

}  // namespace leat::science
