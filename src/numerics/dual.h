// A number with its slopes along W directions: exact derivatives without a tape.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

namespace leat {

/// value + sum slope[i] e_i, e_i e_j = 0. Comparisons look at the value only.
template <std::size_t W>
struct Dual {
  double value = 0.0;
  std::array<double, W> slope{};

  constexpr Dual() = default;
  constexpr Dual(double v) : value(v) {}  // NOLINT: constants enter formulas as they are
  static constexpr Dual seed(double v, std::size_t direction) {
    Dual d(v);
    d.slope[direction] = 1.0;
    return d;
  }

  constexpr Dual& operator+=(const Dual& b) { return *this = *this + b; }
  constexpr Dual& operator-=(const Dual& b) { return *this = *this - b; }
  constexpr Dual& operator*=(const Dual& b) { return *this = *this * b; }
  constexpr Dual& operator/=(const Dual& b) { return *this = *this / b; }

  /// f(x) given f(x.value) and f'(x.value).
  friend constexpr Dual chain(const Dual& x, double f, double df) {
    Dual r(f);
    for (std::size_t i = 0; i < W; ++i) r.slope[i] = df * x.slope[i];
    return r;
  }
  friend constexpr Dual operator-(const Dual& a) { return chain(a, -a.value, -1.0); }
  friend constexpr Dual operator+(const Dual& a, const Dual& b) {
    Dual r(a.value + b.value);
    for (std::size_t i = 0; i < W; ++i) r.slope[i] = a.slope[i] + b.slope[i];
    return r;
  }
  friend constexpr Dual operator-(const Dual& a, const Dual& b) {
    Dual r(a.value - b.value);
    for (std::size_t i = 0; i < W; ++i) r.slope[i] = a.slope[i] - b.slope[i];
    return r;
  }
  friend constexpr Dual operator*(const Dual& a, const Dual& b) {
    Dual r(a.value * b.value);
    for (std::size_t i = 0; i < W; ++i) r.slope[i] = a.value * b.slope[i] + b.value * a.slope[i];
    return r;
  }
  friend constexpr Dual operator/(const Dual& a, const Dual& b) {
    const double q = a.value / b.value;
    Dual r(q);
    for (std::size_t i = 0; i < W; ++i) r.slope[i] = (a.slope[i] - q * b.slope[i]) / b.value;
    return r;
  }
  friend constexpr bool operator<(const Dual& a, const Dual& b) { return a.value < b.value; }
  friend constexpr bool operator>(const Dual& a, const Dual& b) { return a.value > b.value; }
  friend constexpr bool operator<=(const Dual& a, const Dual& b) { return a.value <= b.value; }
  friend constexpr bool operator>=(const Dual& a, const Dual& b) { return a.value >= b.value; }
  friend constexpr bool operator==(const Dual& a, const Dual& b) { return a.value == b.value; }

  friend Dual exp(const Dual& x) {
    const double e = std::exp(x.value);
    return chain(x, e, e);
  }
  friend Dual log(const Dual& x) { return chain(x, std::log(x.value), 1.0 / x.value); }
  friend Dual log10(const Dual& x) { return chain(x, std::log10(x.value), 0.43429448190325182765 / x.value); }
  friend Dual sqrt(const Dual& x) {
    const double s = std::sqrt(x.value);
    return chain(x, s, 0.5 / s);
  }
  friend Dual cbrt(const Dual& x) {
    const double c = std::cbrt(x.value);
    return chain(x, c, 1.0 / (3.0 * c * c));
  }
  friend Dual pow(const Dual& x, double p) {
    const double r = std::pow(x.value, p);
    return chain(x, r, p * std::pow(x.value, p - 1.0));
  }
  friend Dual pow(const Dual& x, const Dual& p) { return exp(p * log(x)); }
  friend Dual pow(double x, const Dual& p) { return exp(p * Dual(std::log(x))); }
  friend Dual sin(const Dual& x) { return chain(x, std::sin(x.value), std::cos(x.value)); }
  friend Dual cos(const Dual& x) { return chain(x, std::cos(x.value), -std::sin(x.value)); }
  friend Dual tanh(const Dual& x) {
    const double t = std::tanh(x.value);
    return chain(x, t, 1.0 - t * t);
  }
  friend Dual abs(const Dual& x) { return x.value < 0.0 ? -x : x; }
  friend Dual fabs(const Dual& x) { return abs(x); }
};

/// The plain value of a number of any kind.
constexpr double plain(double x) {
  return x;
}
template <std::size_t W>
constexpr double plain(const Dual<W>& x) {
  return x.value;
}

}  // namespace leat
