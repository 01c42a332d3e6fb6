#include "science/hydraulics/pipe_law.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

namespace leat::science {
namespace {

constexpr double kLow = 2000.0, kHigh = 4000.0;
constexpr int kOctaves = 12, kPieces = 16;

/// ilogb of a positive number, and a power of two: exact, and without the library's care for special cases.
int octave_of(double x) {
  return static_cast<int>(std::bit_cast<std::uint64_t>(x) >> 52) - 1023;
}
double power_of_two(int exponent) {
  return std::bit_cast<double>(static_cast<std::uint64_t>(1023 + exponent) << 52);
}

}  // namespace

PipeLaw::PipeLaw(const PipeRun& pipe, KinematicViscosity<> viscosity, Acceleration<> gravity) {
  const double d = pipe.bore.si();
  area_ = 0.25 * std::numbers::pi * d * d;
  ratio_ = pipe.length.si() / d;
  losses_ = pipe.minor_losses.si();
  to_reynolds_ = d / viscosity.si();
  two_g_ = 2.0 * gravity.si();
  linear_ = 64.0 * viscosity.si() * ratio_ / d;
  rough_ = pipe.roughness.si() / d;
  if (ratio_ == 0.0) return;  // fittings alone
  const auto colebrook = [&](double re) {
    const auto f = friction_factor_colebrook_and_slope(Number<>(re), Number<>(rough_));
    return Factor{f.factor.si(), f.slope.si()};
  };
  const auto piece = [](Factor from, Factor to, double width) {
    const double d0 = width * from.slope, d1 = width * to.slope, rise = to.f - from.f;
    return Piece{from.f, d0, 3.0 * rise - 2.0 * d0 - d1, d0 + d1 - 2.0 * rise};
  };
  Factor from = colebrook(kHigh);
  const Piece bridge = piece({64.0 / kLow, -64.0 / (kLow * kLow)}, from, kHigh - kLow);
  bridge_[0] = bridge.value, bridge_[1] = bridge.first, bridge_[2] = bridge.square, bridge_[3] = bridge.cube;
  for (int octave = 0; octave < kOctaves; ++octave)
    for (int k = 0; k < kPieces; ++k) {
      const double start = std::ldexp(kHigh, octave), width = start / kPieces;
      const Factor to = colebrook(start + (k + 1) * width);
      pieces_.push_back(piece(from, to, width));
      from = to;
    }
}

PipeLaw::Factor PipeLaw::factor(double re) const {
  const auto cubic = [](const double* c, double s, double width) {
    return Factor{c[0] + s * (c[1] + s * (c[2] + s * c[3])), (c[1] + s * (2.0 * c[2] + s * 3.0 * c[3])) / width};
  };
  if (re < kHigh) return cubic(bridge_, (re - kLow) / (kHigh - kLow), kHigh - kLow);
  const int octave = octave_of(re / kHigh);
  if (octave >= kOctaves) {
    const auto f = friction_factor_colebrook_and_slope(Number<>(re), Number<>(rough_));
    return {f.factor.si(), f.slope.si()};
  }
  const double width = power_of_two(octave) * (kHigh / kPieces);
  const double place = re / width - kPieces;
  const int k = std::min(static_cast<int>(place), kPieces - 1);
  return cubic(&pieces_[static_cast<std::size_t>(octave * kPieces + k)].value, place - k, width);
}

PipeLaw::Loss PipeLaw::at(double flow) const {
  const double v = flow / area_, speed = std::abs(v), re = speed * to_reynolds_;
  if (re <= kLow || ratio_ == 0.0)
    return {(linear_ + losses_ * speed) * v / two_g_, (linear_ + 2.0 * losses_ * speed) / (two_g_ * area_)};
  const Factor f = factor(re);
  const double total = f.f * ratio_ + losses_;
  return {total * speed * v / two_g_, (2.0 * total + re * f.slope * ratio_) * speed / (two_g_ * area_)};
}

double PipeLaw::flow(double head) const {
  const double wanted = std::abs(head);
  if (wanted == 0.0) return 0.0;
  // From the flow that a factor of 0.02 would give, or the fittings alone; the loss is convex there, so that Newton
  // comes down from above after its first step.
  double q = area_ * std::sqrt(two_g_ * wanted / (0.02 * ratio_ + losses_ + 1e-12));
  double low = 0.0, high = 1e300;
  for (int i = 0; i < 60; ++i) {
    const Loss l = at(q);
    const double excess = l.loss - wanted;
    (excess > 0.0 ? high : low) = q;
    double next = q - excess / l.slope;
    if (!(next > low && next < high)) next = high < 1e300 ? 0.5 * (low + high) : 2.0 * q;
    const bool settled = std::abs(next - q) <= 1e-14 * q;
    q = next;
    if (settled) break;
  }
  return head < 0.0 ? -q : q;
}

}  // namespace leat::science
