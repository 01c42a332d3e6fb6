// Plane angles. They have no dimension, so the unit checks cannot keep degrees and radians apart; this type does.
#pragma once

#include <compare>
#include <numbers>

namespace leat::science {

class Angle {
  double radians_ = 0.0;
  explicit constexpr Angle(double radians) : radians_(radians) {}

 public:
  constexpr Angle() = default;
  static constexpr Angle from_radians(double radians) { return Angle(radians); }
  static constexpr Angle from_degrees(double degrees) { return Angle(degrees * std::numbers::pi / 180.0); }
  constexpr double radians() const { return radians_; }
  constexpr double degrees() const { return radians_ * 180.0 / std::numbers::pi; }

  constexpr Angle operator-() const { return Angle(-radians_); }
  friend constexpr Angle operator+(Angle a, Angle b) { return Angle(a.radians_ + b.radians_); }
  friend constexpr Angle operator-(Angle a, Angle b) { return Angle(a.radians_ - b.radians_); }
  friend constexpr Angle operator*(double x, Angle a) { return Angle(x * a.radians_); }
  friend constexpr bool operator==(Angle a, Angle b) { return a.radians_ == b.radians_; }
  friend constexpr auto operator<=>(Angle a, Angle b) { return a.radians_ <=> b.radians_; }
};

}  // namespace leat::science
