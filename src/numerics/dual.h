// A number with its slopes along W directions: exact derivatives without a tape.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>

namespace leat {

/// -1 below zero, 1 from zero on.
constexpr double sign_of(double x) {
  return x < 0.0 ? -1.0 : 1.0;
}

/// value + sum slope[i] e_i, e_i e_j = 0. Comparisons look at the value only. T is a plain number or a pack of them.
template <std::size_t W, class T = double>
struct Dual {
  T value = 0.0;
  std::array<T, W> slope{};

  constexpr Dual() = default;
  constexpr Dual(double v) : value(v) {}  // NOLINT: constants enter formulas as they are
  template <class U>
  requires(std::same_as<U, T> && !std::same_as<U, double>) constexpr Dual(const U& v) : value(v) {}  // NOLINT: as above
  static constexpr Dual seed(const T& v, std::size_t direction) {
    Dual d(v);
    d.slope[direction] = 1.0;
    return d;
  }

  constexpr Dual& operator+=(const Dual& b) { return *this = *this + b; }
  constexpr Dual& operator-=(const Dual& b) { return *this = *this - b; }
  constexpr Dual& operator*=(const Dual& b) { return *this = *this * b; }
  constexpr Dual& operator/=(const Dual& b) { return *this = *this / b; }

  /// f(x) given f(x.value) and f'(x.value).
  friend constexpr Dual chain(const Dual& x, const T& f, const T& df) {
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
    const T per = 1.0 / b.value, q = a.value / b.value;
    Dual r(q);
    for (std::size_t i = 0; i < W; ++i) r.slope[i] = (a.slope[i] - q * b.slope[i]) * per;
    return r;
  }
  friend constexpr bool operator<(const Dual& a, const Dual& b) { return a.value < b.value; }
  friend constexpr bool operator>(const Dual& a, const Dual& b) { return a.value > b.value; }
  friend constexpr bool operator<=(const Dual& a, const Dual& b) { return a.value <= b.value; }
  friend constexpr bool operator>=(const Dual& a, const Dual& b) { return a.value >= b.value; }
  friend constexpr bool operator==(const Dual& a, const Dual& b) { return a.value == b.value; }

  friend Dual exp(const Dual& x) {
    using std::exp;
    const T e = exp(x.value);
    return chain(x, e, e);
  }
  friend Dual log(const Dual& x) {
    using std::log;
    return chain(x, log(x.value), 1.0 / x.value);
  }
  friend Dual log10(const Dual& x) {
    using std::log10;
    return chain(x, log10(x.value), 0.43429448190325182765 / x.value);
  }
  friend Dual sqrt(const Dual& x) {
    using std::sqrt;
    const T s = sqrt(x.value);
    return chain(x, s, 0.5 / s);
  }
  friend Dual cbrt(const Dual& x) {
    using std::cbrt;
    const T c = cbrt(x.value);
    return chain(x, c, 1.0 / (3.0 * c * c));
  }
  friend Dual pow(const Dual& x, double p) {
    using std::pow;
    return chain(x, pow(x.value, p), p * pow(x.value, p - 1.0));
  }
  friend Dual pow(const Dual& x, const Dual& p) { return exp(p * log(x)); }
  friend Dual pow(double x, const Dual& p) { return exp(p * Dual(std::log(x))); }
  friend Dual sin(const Dual& x) {
    using std::cos, std::sin;
    return chain(x, sin(x.value), cos(x.value));
  }
  friend Dual cos(const Dual& x) {
    using std::cos, std::sin;
    return chain(x, cos(x.value), -sin(x.value));
  }
  friend Dual tanh(const Dual& x) {
    using std::tanh;
    const T t = tanh(x.value);
    return chain(x, t, 1.0 - t * t);
  }
  friend Dual fabs(const Dual& x) {
    using std::fabs;
    return chain(x, fabs(x.value), sign_of(x.value));
  }
  friend Dual abs(const Dual& x) { return fabs(x); }
};

/// The same number with one slope, by itself; a number without slopes as it is. What follows from nothing else that has
/// slopes is worked out in such narrow numbers, and widened at the end by the chain rule.
template <class N>
constexpr N narrow(const N& x) {
  return x;
}
template <std::size_t W, class T>
requires(W > 1) constexpr Dual<1, T> narrow(const Dual<W, T>& x) {
  return Dual<1, T>::seed(x.value, 0);
}
template <class N>
constexpr N widened_to(const N&, const N& y) {
  return y;
}
template <std::size_t W, class T>
requires(W > 1) constexpr Dual<W, T> widened_to(const Dual<W, T>& x, const Dual<1, T>& y) {
  return chain(x, y.value, y.slope[0]);
}

/// f(x), where f depends on nothing else that has slopes. f takes numbers of any kind.
template <class N, class F>
constexpr N of_one(const N& x, F&& f) {
  return widened_to(x, f(narrow(x)));
}

/// f(x, y), likewise.
template <class N, class F>
constexpr N of_two(const N& x, const N& y, F&& f) {
  return f(x, y);
}
template <std::size_t W, class T, class F>
requires(W > 2) constexpr Dual<W, T> of_two(const Dual<W, T>& x, const Dual<W, T>& y, F&& f) {
  const Dual<2, T> z = f(Dual<2, T>::seed(x.value, 0), Dual<2, T>::seed(y.value, 1));
  Dual<W, T> r(z.value);
  for (std::size_t i = 0; i < W; ++i) r.slope[i] = z.slope[0] * x.slope[i] + z.slope[1] * y.slope[i];
  return r;
}

/// The plain value of a number of any kind.
constexpr double plain(double x) {
  return x;
}
template <std::size_t W, class T>
constexpr const T& plain(const Dual<W, T>& x) {
  return x.value;
}

/// What `plain` gives: the type of the numbers that carry no slopes, and of the constants that meet N.
template <class N>
struct PlainOf {
  using type = double;
};
template <std::size_t W, class T>
struct PlainOf<Dual<W, T>> {
  using type = T;
};
template <class N>
using Plain = typename PlainOf<N>::type;

/// The largest and the smallest of the plain numbers that stand side by side: of one number, itself.
constexpr double largest(double x) {
  return x;
}
constexpr double smallest(double x) {
  return x;
}
constexpr bool all_finite(double x) {
  return x - x == 0.0;
}
constexpr double choose(bool first, double a, double b) {
  return first ? a : b;
}

}  // namespace leat
