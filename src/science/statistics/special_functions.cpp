#include "science/statistics/special_functions.h"

#include <cmath>
#include <initializer_list>
#include <limits>
#include <numbers>

namespace leat::science {
namespace {

constexpr double kSmall = std::numeric_limits<double>::epsilon();
constexpr double kTiny = 1e-300;

/// Logarithm of Stirling's correction, ln G(a) - (a - 1/2) ln a + a - ln(2 pi)/2, for a from 10 on: each term of a
/// large exponent is then taken as a difference that is small by itself.
double stirling_correction(double a) {
  const double q = 1.0 / (a * a);
  return (1.0 / 12.0 - q * (1.0 / 360.0 - q * (1.0 / 1260.0 - q * (1.0 / 1680.0 - q / 1188.0)))) / a;
}

/// ln(1 + u) - u without loss for small u.
double log1p_less(double u) {
  if (std::fabs(u) > 0.1) return std::log1p(u) - u;
  double term = -0.5 * u * u, sum = term;
  for (int k = 3; std::fabs(term) > kSmall * std::fabs(sum) * 0.1 && k < 60; ++k) {
    term *= -u * (k - 1.0) / k;
    sum += term;
  }
  return sum;
}

/// x^a e^-x / G(a + 1)
double gamma_front(double a, double x) {
  if (a < 10.0) return std::exp(a * std::log(x) - x - std::lgamma(a + 1.0));
  const double u = (x - a) / a;
  return std::exp(a * log1p_less(u) - stirling_correction(a)) / std::sqrt(2.0 * std::numbers::pi * a);
}

double gamma_series(double a, double x) {
  double term = 1.0, sum = 1.0;
  for (double n = 1.0; term > kSmall * sum && n < 1e6; n += 1.0) {
    term *= x / (a + n);
    sum += term;
  }
  return sum * gamma_front(a, x);
}

/// Q(a, x) by the continued fraction, modified Lentz.
double gamma_fraction(double a, double x) {
  double b = x + 1.0 - a, c = 1.0 / kTiny, d = 1.0 / b, h = d;
  for (double n = 1.0; n < 1e6; n += 1.0) {
    const double an = -n * (n - a);
    b += 2.0;
    d = an * d + b;
    if (std::fabs(d) < kTiny) d = kTiny;
    c = b + an / c;
    if (std::fabs(c) < kTiny) c = kTiny;
    d = 1.0 / d;
    h *= d * c;
    if (std::fabs(d * c - 1.0) < kSmall) break;
  }
  return h * a * gamma_front(a, x);
}

/// ln B(a, b)
double log_beta(double a, double b) {
  if (a < 10.0 || b < 10.0) return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
  const double s = a + b;
  return 0.5 * std::log(2.0 * std::numbers::pi * s / (a * b)) + a * std::log(a / s) + b * std::log(b / s) +
         stirling_correction(a) + stirling_correction(b) - stirling_correction(s);
}

/// x^a (1 - x)^b / (a B(a, b)), y = 1 - x handed over because it may be known better.
double beta_front(double a, double b, double x, double y) {
  if (a < 10.0 || b < 10.0) return std::exp(a * std::log(x) + b * std::log(y) - log_beta(a, b)) / a;
  // About the mean a/s both logarithms are small; their leading parts cancel exactly.
  const double s = a + b, ux = (x * s - a) / a, uy = (y * s - b) / b;
  const double exponent = a * log1p_less(ux) + b * log1p_less(uy) - stirling_correction(a) - stirling_correction(b) +
                          stirling_correction(s);
  return std::exp(exponent) * std::sqrt(a * b / (2.0 * std::numbers::pi * s)) / a;
}

/// Continued fraction of I_x(a, b) without its front factor, modified Lentz.
double beta_fraction(double a, double b, double x) {
  double c = 1.0, d = 1.0 - (a + b) * x / (a + 1.0);
  if (std::fabs(d) < kTiny) d = kTiny;
  d = 1.0 / d;
  double h = d;
  for (double m = 1.0; m < 1e6; m += 1.0) {
    const double even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
    for (const double numerator : {even, odd}) {
      d = 1.0 + numerator * d;
      if (std::fabs(d) < kTiny) d = kTiny;
      c = 1.0 + numerator / c;
      if (std::fabs(c) < kTiny) c = kTiny;
      d = 1.0 / d;
      h *= d * c;
    }
    if (std::fabs(d * c - 1.0) < kSmall) break;
  }
  return h;
}

/// I_x(a, b) with y = 1 - x given.
double beta_share(double a, double b, double x, double y) {
  if (x <= 0.0) return 0.0;
  if (y <= 0.0) return 1.0;
  if (x < (a + 1.0) / (a + b + 2.0)) return beta_front(a, b, x, y) * beta_fraction(a, b, x);
  return 1.0 - beta_front(b, a, y, x) * beta_fraction(b, a, y);
}

/// x with f(x) = p for a rising f, between two ends: bisection, in the logarithm while the ends are far apart, until
/// neighbouring numbers are left.
template <class F>
double rising_root(F&& f, double p, double low, double high) {
  for (int i = 0; i < 2200; ++i) {
    const double middle = low > 0.0 && high > 4.0 * low ? std::sqrt(low) * std::sqrt(high) : 0.5 * (low + high);
    if (!(middle > low && middle < high)) break;
    (f(middle) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

double incomplete_gamma(double a, double x) {
  if (x <= 0.0) return 0.0;
  return x < a + 1.0 ? gamma_series(a, x) : 1.0 - gamma_fraction(a, x);
}

double inverse_incomplete_gamma(double a, double p) {
  if (p <= 0.0) return 0.0;
  if (p >= 1.0) return std::numeric_limits<double>::infinity();
  double high = a + 1.0;
  while (incomplete_gamma(a, high) < p) high *= 2.0;
  if (p < 0.5) return rising_root([&](double x) { return incomplete_gamma(a, x); }, p, kTiny, high);
  // Near 1 the upper tail holds the digits.
  const auto upper = [&](double x) { return x < a + 1.0 ? 1.0 - gamma_series(a, x) : gamma_fraction(a, x); };
  return rising_root([&](double x) { return -upper(x); }, -(1.0 - p), kTiny, high);
}

double incomplete_beta(double a, double b, double x) {
  return beta_share(a, b, x, 1.0 - x);
}

double inverse_incomplete_beta(double a, double b, double p) {
  if (p <= 0.0) return 0.0;
  if (p >= 1.0) return 1.0;
  // The smaller of the two shares is compared, and the nearer end measured from, so that neither loses digits.
  const bool from_above = beta_share(a, b, 0.5, 0.5) < p;
  const auto lies_above = [&](double x, double y) {
    return p < 0.5 ? beta_share(a, b, x, y) < p : beta_share(b, a, y, x) > 1.0 - p;
  };
  const auto beyond = [&](double d) { return from_above ? lies_above(1.0 - d, d) : !lies_above(d, 1.0 - d); };
  const double d = rising_root([&](double at) { return beyond(at) ? 1.0 : 0.0; }, 0.5, kTiny, 0.5);
  return from_above ? 1.0 - d : d;
}

double normal_quantile(double p) {
  if (p > 0.5) return -normal_quantile(1.0 - p);
  // The lower half: the share below -x is erfc(x / sqrt 2) / 2.
  const auto falls = [](double x) { return -0.5 * std::erfc(x / std::sqrt(2.0)); };
  return -rising_root(falls, -p, 0.0, 40.0);
}

double student_t_share(double x, double degrees) {
  const double square = x * x, sum = degrees + square;
  const double tail = 0.5 * beta_share(0.5 * degrees, 0.5, degrees / sum, square / sum);
  return x > 0.0 ? 1.0 - tail : tail;
}

double student_t_quantile(double p, double degrees) {
  if (p == 0.5) return 0.0;
  if (p > 0.5) return -student_t_quantile(1.0 - p, degrees);
  const auto falls = [&](double x) { return -student_t_share(-x, degrees); };
  double high = 2.0;
  while (falls(high) < -p) high *= 2.0;
  return -rising_root(falls, -p, 0.0, high);
}

}  // namespace leat::science
