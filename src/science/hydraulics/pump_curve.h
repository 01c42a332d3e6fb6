// What head a pump gives against what flow, from as much as its maker says.
#pragma once

#include <cmath>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "base/units/quantity.h"
#include "numerics/dual.h"
#include "science/hydraulics/gravity.h"

namespace leat::science {

/// One point of a pump's curve.
struct PumpPoint {
  Flow<> flow;
  Length<> head;
};

/// Why points make no curve, in one clause that fits after a name.
struct NoCurve {
  std::string wrong;
};

/// Head against flow, falling everywhere. Either H = H0 - B |Q|^c with the sign of Q, or a monotone cubic through the
/// points. Past the points, and at reversed flow, the cubic goes on straight.
class PumpCurve {
  double shutoff_ = 0.0, fall_ = 0.0, exponent_ = 2.0;
  std::vector<double> flows_, heads_, slopes_;  // empty for the power law

  std::size_t segment(double flow) const;

 public:
  /// H = H0 (1 - (Q/Qm)^2)
  static PumpCurve parabola(Length<> shutoff, Flow<> largest);
  /// H = H0 - B Q^c, SI
  static PumpCurve power(Length<> shutoff, double fall, double exponent);
  /// Fritsch-Butland slopes; flows rising, heads falling, at least two points.
  static PumpCurve cubic(std::span<const PumpPoint> points);

  bool is_power() const { return flows_.empty(); }
  Length<> shutoff() const { return Length<>(shutoff_); }
  double fall() const { return fall_; }
  double exponent() const { return exponent_; }
  /// Flow at which the head is 0.
  Flow<> largest() const;

  template <class N>
  Length<N> head(Flow<N> flow) const;
  /// dH/dQ, never above 0.
  HeadPerFlow<> slope(Flow<> flow) const;
  /// Flow at a head; negative above the shut-off head.
  Flow<> flow_at(Length<> head) const;
};

/// One point is taken for the best point: H0 = 4/3 H, Qm = 2 Q. Two points are shut-off head and any other, through a
/// parabola (or, if the second has no head, the largest flow). Three are shut-off and two others, through
/// H = H0 - B Q^c; more go through a monotone cubic.
///
/// source   EPANET 2.2 User Manual, section 3.2 and chapter 12; four and more: Fritsch and Butland 1984
std::variant<PumpCurve, NoCurve> pump_curve_from_points(std::span<const PumpPoint> points);

/// Head of a pump at a flow; see PumpCurve.
template <class N>
Length<N> pump_head(const PumpCurve& curve, Flow<N> flow) {
  return curve.head(flow);
}

/// Head of a pump known by two numbers.
///
///   H = H0 (1 - Q|Q|/Qm^2)
///
/// shutoff  head at no flow
/// largest  flow at no head
/// error    10 to 20 % against a maker's curve
template <class N>
Length<N> pump_head_parabola(Flow<N> flow, Length<> shutoff, Flow<> largest) {
  using std::abs;
  const N x = flow.si() / largest.si();
  return Length<N>(shutoff.si() * (1.0 - x * abs(x)));
}

/// Power that a pump draws.
///
///   P = rho g Q H / eta
///
/// efficiency  wire to water for watts at the plug: small submersibles 0.1 to 0.35
template <class N>
Power<N> pump_power(Flow<N> flow, Length<AsGiven<N>> head, Density<> density, Number<> efficiency,
                    Acceleration<> gravity = standard_gravity) {
  return Power<N>(density.si() * gravity.si() / efficiency.si() * flow.si() * head.si());
}

template <class N>
Length<N> PumpCurve::head(Flow<N> flow) const {
  using std::abs;
  using std::pow;
  const N q = flow.si();
  if (is_power()) {
    if (exponent_ == 2.0) return Length<N>(shutoff_ - fall_ * q * abs(q));
    if (q == 0.0) return Length<N>(N(shutoff_));
    const N part = fall_ * pow(N(abs(q)), exponent_);
    return Length<N>(q < 0.0 ? shutoff_ + part : shutoff_ - part);
  }
  if (q <= flows_.front()) return Length<N>(heads_.front() + slopes_.front() * (q - flows_.front()));
  if (q >= flows_.back()) return Length<N>(heads_.back() + slopes_.back() * (q - flows_.back()));
  const std::size_t i = segment(plain(q));
  const double wide = flows_[i + 1] - flows_[i], rise = heads_[i + 1] - heads_[i];
  const double d0 = slopes_[i] * wide, d1 = slopes_[i + 1] * wide;
  const N s = (q - flows_[i]) / wide;
  return Length<N>(heads_[i] + s * (d0 + s * (3.0 * rise - 2.0 * d0 - d1 + s * (d0 + d1 - 2.0 * rise))));
}

}  // namespace leat::science
