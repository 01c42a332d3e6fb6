#include "science/hydraulics/pump_curve.h"

#include <fmt/core.h>

#include <algorithm>

namespace leat::science {
namespace {

constexpr double kLitrePerHour = 1e-3 / 3600.0;

/// Slope at an inner point: harmonic mean of the two chords, weighted by their lengths.
double inner_slope(double before, double after, double wide_before, double wide_after) {
  if (before * after <= 0.0) return 0.0;
  const double w1 = 2.0 * wide_after + wide_before, w2 = wide_after + 2.0 * wide_before;
  return (w1 + w2) / (w1 / before + w2 / after);
}

/// Slope at an end: the parabola through three points, held between 0 and three times the chord.
double end_slope(double near, double far, double wide_near, double wide_far) {
  const double s = ((2.0 * wide_near + wide_far) * near - wide_near * far) / (wide_near + wide_far);
  return std::clamp(s, 3.0 * near, 0.0);
}

std::string say(const PumpPoint& p) {
  return fmt::format("{:g} L/h at {:g} m", p.flow.si() / kLitrePerHour, p.head.si());
}

std::variant<PumpCurve, NoCurve> one_point(const PumpPoint& best) {
  if (best.flow.si() <= 0.0 || best.head.si() <= 0.0)
    return NoCurve{fmt::format("has the one point {}; a single point needs flow and head above 0", say(best))};
  return PumpCurve::parabola(4.0 / 3.0 * best.head, 2.0 * best.flow);
}

std::variant<PumpCurve, NoCurve> two_points(const PumpPoint& shutoff, const PumpPoint& other) {
  const double left = 1.0 - other.head.si() / shutoff.head.si();
  return PumpCurve::parabola(shutoff.head, other.flow / std::sqrt(left));
}

std::variant<PumpCurve, NoCurve> three_points(const PumpPoint& p0, const PumpPoint& p1, const PumpPoint& p2) {
  const double h0 = p0.head.si(), d1 = h0 - p1.head.si(), d2 = h0 - p2.head.si();
  const double c = std::log(d2 / d1) / std::log(p2.flow.si() / p1.flow.si());
  if (c < 0.5)
    return NoCurve{fmt::format("falls too steeply at first ({}, {}, {}); give more points", say(p0), say(p1), say(p2))};
  return PumpCurve::power(p0.head, d1 / std::pow(p1.flow.si(), c), c);
}

}  // namespace

PumpCurve PumpCurve::parabola(Length<> shutoff, Flow<> largest) {
  return power(shutoff, shutoff.si() / (largest.si() * largest.si()), 2.0);
}

PumpCurve PumpCurve::power(Length<> shutoff, double fall, double exponent) {
  PumpCurve curve;
  curve.shutoff_ = shutoff.si();
  curve.fall_ = fall;
  curve.exponent_ = exponent;
  return curve;
}

PumpCurve PumpCurve::cubic(std::span<const PumpPoint> points) {
  PumpCurve curve;
  for (const PumpPoint& p : points) {
    curve.flows_.push_back(p.flow.si());
    curve.heads_.push_back(p.head.si());
  }
  const std::size_t n = points.size();
  std::vector<double> wide(n - 1), chord(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    wide[i] = curve.flows_[i + 1] - curve.flows_[i];
    chord[i] = (curve.heads_[i + 1] - curve.heads_[i]) / wide[i];
  }
  curve.slopes_.assign(n, chord.front());
  for (std::size_t i = 1; i + 1 < n; ++i) curve.slopes_[i] = inner_slope(chord[i - 1], chord[i], wide[i - 1], wide[i]);
  if (n > 2) {
    curve.slopes_.front() = end_slope(chord[0], chord[1], wide[0], wide[1]);
    // Past the last point the curve goes on falling, so its end may not be level.
    curve.slopes_.back() = std::min(end_slope(chord[n - 2], chord[n - 3], wide[n - 2], wide[n - 3]), chord[n - 2]);
  }
  curve.shutoff_ = curve.head(Flow<>(0.0)).si();
  return curve;
}

std::size_t PumpCurve::segment(double flow) const {
  const auto above = std::upper_bound(flows_.begin() + 1, flows_.end() - 1, flow);
  return static_cast<std::size_t>(above - flows_.begin()) - 1;
}

HeadPerFlow<> PumpCurve::slope(Flow<> flow) const {
  return HeadPerFlow<>(head(Flow<Dual<1>>(Dual<1>::seed(flow.si(), 0))).si().slope[0]);
}

Flow<> PumpCurve::largest() const {
  return flow_at(Length<>(0.0));
}

Flow<> PumpCurve::flow_at(Length<> wanted) const {
  const double drop = shutoff_ - wanted.si();
  if (is_power()) {
    const double q = std::pow(std::abs(drop) / fall_, 1.0 / exponent_);
    return Flow<>(drop < 0.0 ? -q : q);
  }
  if (wanted.si() <= heads_.back()) return Flow<>(flows_.back() + (wanted.si() - heads_.back()) / slopes_.back());
  double low = flows_.front(), high = flows_.back();
  if (wanted.si() >= heads_.front()) {
    if (slopes_.front() == 0.0) return Flow<>(low);
    return Flow<>(low + (wanted.si() - heads_.front()) / slopes_.front());
  }
  while (high - low > 1e-15 * high) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (head(Flow<>(middle)) > wanted ? low : high) = middle;
  }
  return Flow<>(0.5 * (low + high));
}

std::variant<PumpCurve, NoCurve> pump_curve_from_points(std::span<const PumpPoint> points) {
  if (points.empty()) return NoCurve{"has no point"};
  if (points.size() == 1) return one_point(points[0]);
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].flow <= points[i - 1].flow || points[i].head >= points[i - 1].head)
      return NoCurve{fmt::format("goes from {} to {}; flow must rise and head must fall from point to point",
                                 say(points[i - 1]), say(points[i]))};
  }
  if (points.size() <= 3 && points[0].flow.si() != 0.0)
    return NoCurve{fmt::format("starts at {}; two or three points need the first at no flow", say(points[0]))};
  if (points.back().head.si() < 0.0) return NoCurve{fmt::format("ends at {}, below no head", say(points.back()))};
  if (points.size() == 2) return two_points(points[0], points[1]);
  if (points.size() == 3) return three_points(points[0], points[1], points[2]);
  return PumpCurve::cubic(points);
}

}  // namespace leat::science
