// Head lost in a full pipe, against the flow.
#pragma once

#include <cmath>
#include <numbers>

#include "science/hydraulics/friction_factor.h"

namespace leat::science {

/// A run of pipe of one bore with all its fittings.
struct PipeRun {
  Length<> bore;
  Length<> length;
  Length<> roughness;
  Number<> minor_losses;  ///< sum of K on the velocity in the bore, entry and exit included
};

/// A head loss and how fast it rises with the flow.
template <class N>
struct PipeLoss {
  Length<N> loss;
  HeadPerFlow<N> slope;
};

template <class N>
Velocity<N> pipe_velocity(Flow<N> flow, Length<> bore) {
  return Velocity<N>(flow.si() / (0.25 * std::numbers::pi * bore.si() * bore.si()));
}

/// Re = |V| D / nu
template <class N>
Number<N> pipe_reynolds(Flow<N> flow, Length<> bore, KinematicViscosity<> viscosity) {
  using std::abs;
  return Number<N>(abs(pipe_velocity(flow, bore).si()) * bore.si() / viscosity.si());
}

/// Head lost between the two ends, with the sign of the flow, and its slope.
///
///   h = (f L/D + K) V |V| / 2g        dh/dV = (2 (f L/D + K) + Re df/dRe L/D) |V| / 2g
///
/// Below Re 2000 the friction is written as 32 nu L V / (g D^2), so that nothing is divided by the flow and the slope
/// at rest is that of laminar flow. f is the bridged factor. A run without length has no slope at rest.
///
/// flow       any sign
/// viscosity  kinematic, of the water
/// gravity    9.80665 m/s2 unless another calculation is to be matched
/// error      K of fittings within 30 %, f within 5 %
/// source     Darcy-Weisbach, as in EPANET 2.2 User Manual, chapter 12
template <class N>
PipeLoss<N> pipe_loss_and_slope(Flow<N> flow, const PipeRun& pipe, KinematicViscosity<> viscosity,
                                Acceleration<> gravity = standard_gravity) {
  using std::abs;
  const double d = pipe.bore.si(), ratio = pipe.length.si() / d, k = pipe.minor_losses.si();
  const double area = 0.25 * std::numbers::pi * d * d, two_g = 2.0 * gravity.si();
  const N v = pipe_velocity(flow, pipe.bore).si();
  const N speed = abs(v);
  const Number<N> re(speed * d / viscosity.si());
  if (re.si() <= 2000.0) {
    const double linear = 64.0 * viscosity.si() * ratio / d;
    return {Length<N>((linear + k * speed) * v / two_g), HeadPerFlow<N>((linear + 2.0 * k * speed) / (two_g * area))};
  }
  const Number<> rough = pipe.roughness / pipe.bore;
  const FrictionFactor<N> f = friction_factor_bridged_and_slope(re, rough);
  const N total = f.factor.si() * ratio + k;
  const N bend = re.si() * f.slope.si() * ratio;
  return {Length<N>(total * speed * v / two_g), HeadPerFlow<N>((2.0 * total + bend) * speed / (two_g * area))};
}

/// The loss alone; see pipe_loss_and_slope.
template <class N>
Length<N> pipe_loss(Flow<N> flow, const PipeRun& pipe, KinematicViscosity<> viscosity,
                    Acceleration<> gravity = standard_gravity) {
  return pipe_loss_and_slope(flow, pipe, viscosity, gravity).loss;
}

/// dh/dQ alone; see pipe_loss_and_slope.
template <class N>
HeadPerFlow<N> pipe_loss_slope(Flow<N> flow, const PipeRun& pipe, KinematicViscosity<> viscosity,
                               Acceleration<> gravity = standard_gravity) {
  return pipe_loss_and_slope(flow, pipe, viscosity, gravity).slope;
}

namespace pipe_flow_detail {
/// A flow whose loss is at least the head.
inline double upper_bound(double head, const PipeRun& pipe, KinematicViscosity<> viscosity, Acceleration<> gravity) {
  double high = 1e-6;
  while (pipe_loss(Flow<>(high), pipe, viscosity, gravity).si() < head && high < 1e6) high *= 4.0;
  return high;
}
}  // namespace pipe_flow_detail

/// Flow that a difference of head drives through a full pipe: the inverse of pipe_loss, by safeguarded Newton on plain
/// numbers; slopes follow from one more step in the generic number.
///
/// head     difference of head between the ends, any sign
/// returns  flow with the sign of the head; 0 at 0
/// beyond   a run without length has an infinite slope at rest; 0 is said there
template <class N>
Flow<N> pipe_flow(Length<N> head, const PipeRun& pipe, KinematicViscosity<> viscosity,
                  Acceleration<> gravity = standard_gravity) {
  const double wanted = std::abs(plain(head.si()));
  double low = 0.0, high = pipe_flow_detail::upper_bound(wanted, pipe, viscosity, gravity);
  double q = 0.5 * high;
  for (int i = 0; i < 100 && wanted > 0.0; ++i) {
    const auto at = pipe_loss_and_slope(Flow<>(q), pipe, viscosity, gravity);
    const double excess = at.loss.si() - wanted;
    (excess > 0.0 ? high : low) = q;
    double next = q - excess / at.slope.si();
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    const bool settled = std::abs(next - q) <= 1e-14 * q;
    q = next;
    if (settled) break;
  }
  if (wanted == 0.0) q = 0.0;
  const double signed_q = plain(head.si()) < 0.0 ? -q : q;
  const auto there = pipe_loss_and_slope(Flow<>(signed_q), pipe, viscosity, gravity);
  if (there.slope.si() == 0.0) return Flow<N>(N(signed_q));
  return Flow<N>(signed_q + (head.si() - there.loss.si()) / there.slope.si());
}

}  // namespace leat::science
