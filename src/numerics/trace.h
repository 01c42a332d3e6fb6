// A number that remembers which inputs it depends on: run once through the rates, it finds the pattern of the Jacobian
// whatever the values are.
#pragma once

#include <bitset>
#include <cmath>
#include <cstddef>

namespace leat {

/// Value and the set of inputs, at most `limit` of them. Dependence is kept even where the slope happens to be zero.
struct Trace {
  static constexpr std::size_t limit = 2048;
  using Inputs = std::bitset<limit>;

  double value = 0.0;
  Inputs inputs;

  Trace() = default;
  Trace(double v) : value(v) {}  // NOLINT: constants enter formulas as they are
  Trace(double v, const Inputs& i) : value(v), inputs(i) {}
  static Trace input(double v, std::size_t index) {
    Trace t(v);
    t.inputs.set(index);
    return t;
  }

  friend Trace operator-(const Trace& a) { return {-a.value, a.inputs}; }
  friend Trace operator+(const Trace& a, const Trace& b) { return {a.value + b.value, a.inputs | b.inputs}; }
  friend Trace operator-(const Trace& a, const Trace& b) { return {a.value - b.value, a.inputs | b.inputs}; }
  friend Trace operator*(const Trace& a, const Trace& b) { return {a.value * b.value, a.inputs | b.inputs}; }
  friend Trace operator/(const Trace& a, const Trace& b) { return {a.value / b.value, a.inputs | b.inputs}; }
  friend bool operator<(const Trace& a, const Trace& b) { return a.value < b.value; }
  friend bool operator>(const Trace& a, const Trace& b) { return a.value > b.value; }
  friend bool operator<=(const Trace& a, const Trace& b) { return a.value <= b.value; }
  friend bool operator>=(const Trace& a, const Trace& b) { return a.value >= b.value; }
  friend bool operator==(const Trace& a, const Trace& b) { return a.value == b.value; }

  friend Trace exp(const Trace& x) { return {std::exp(x.value), x.inputs}; }
  friend Trace log(const Trace& x) { return {std::log(x.value), x.inputs}; }
  friend Trace log10(const Trace& x) { return {std::log10(x.value), x.inputs}; }
  friend Trace sqrt(const Trace& x) { return {std::sqrt(x.value), x.inputs}; }
  friend Trace cbrt(const Trace& x) { return {std::cbrt(x.value), x.inputs}; }
  friend Trace sin(const Trace& x) { return {std::sin(x.value), x.inputs}; }
  friend Trace cos(const Trace& x) { return {std::cos(x.value), x.inputs}; }
  friend Trace tanh(const Trace& x) { return {std::tanh(x.value), x.inputs}; }
  friend Trace abs(const Trace& x) { return {std::abs(x.value), x.inputs}; }
  friend Trace fabs(const Trace& x) { return abs(x); }
  friend Trace pow(const Trace& x, double p) { return {std::pow(x.value, p), x.inputs}; }
  friend Trace pow(const Trace& x, const Trace& p) { return {std::pow(x.value, p.value), x.inputs | p.inputs}; }
  friend Trace pow(double x, const Trace& p) { return {std::pow(x, p.value), p.inputs}; }
};

inline double plain(const Trace& x) {
  return x.value;
}

}  // namespace leat
