// The questions beside "what is lost at this flow": which flow, which bore, which roughness.
#pragma once

#include <cmath>
#include <numbers>

#include "science/hydraulics/pipe_loss.h"

namespace leat::science {

/// s2/m5: head over the square of the flow.
inline constexpr Dimension head_per_flow_squared_dimension{.length = -5, .time = 2};
template <class N = double>
using HeadPerFlowSquared = Quantity<head_per_flow_squared_dimension, N>;

/// Loss at a known friction factor: h = f (L/D) V |V| / 2g.
template <class N>
Length<N> darcy_weisbach_head_loss(Velocity<N> velocity, Number<AsGiven<N>> friction_factor, Length<> length,
                                   Length<> bore, Acceleration<> gravity = standard_gravity) {
  using std::abs;
  const N v = velocity.si();
  return Length<N>(friction_factor.si() * length.si() / bore.si() * v * abs(v) / (2.0 * gravity.si()));
}

/// f = h (D/L) 2g / V^2
inline Number<> darcy_weisbach_friction_from_loss(Length<> head_loss, Velocity<> velocity, Length<> length,
                                                  Length<> bore, Acceleration<> gravity = standard_gravity) {
  return Number<>(head_loss.si() * bore.si() * 2.0 * gravity.si() / (length.si() * velocity.si() * velocity.si()));
}

/// Colebrook solved for the roughness: e = 3.7 D ( 10^(-1/(2 sqrt f)) - 2.51/(Re sqrt f) ).
///
/// returns  below 0 for a pipe smoother than smooth: the measured loss is then too small
inline Length<> colebrook_roughness(Number<> friction_factor, Number<> reynolds, Length<> bore) {
  const double x = 1.0 / std::sqrt(friction_factor.si());
  return 3.7 * (std::pow(10.0, -0.5 * x) - 2.51 * x / reynolds.si()) * bore;
}

/// Flow at a friction factor that does not change: Q = A sqrt( 2 g h / (f L/D + K) ).
inline Flow<> darcy_weisbach_discharge_fixed_f(Length<> head, Number<> friction_factor, Length<> length, Length<> bore,
                                               Number<> minor_losses = Number<>(0.0),
                                               Acceleration<> gravity = standard_gravity) {
  const double total = friction_factor.si() * length.si() / bore.si() + minor_losses.si();
  return Flow<>(0.25 * std::numbers::pi * bore.si() * bore.si() * std::sqrt(2.0 * gravity.si() * head.si() / total));
}

/// Explicit flow, close to Colebrook.
///
///   Q = -0.965 sqrt(g D^5 h/L) ln( (e/D)/3.7 + 1.78 nu / (D sqrt(g D h/L)) )
///
/// error    2 % of Colebrook, turbulent flow only
/// source   Swamee and Jain 1976, as in an open course (CE 3372)
inline Flow<> swamee_jain_discharge(Length<> head, Length<> length, Length<> bore, Length<> roughness,
                                    KinematicViscosity<> viscosity, Acceleration<> gravity = standard_gravity) {
  const double d = bore.si(), shear = std::sqrt(gravity.si() * d * head.si() / length.si());
  const double inside = roughness.si() / (3.7 * d) + 1.78 * viscosity.si() / (d * shear);
  return Flow<>(-0.965 * d * d * shear * std::log(inside));
}

/// Bore that loses just this head at this flow, by the bridged law.
///
/// flow, head_loss  above 0
/// returns          within 1e-12 of itself, between 0.1 mm and 100 m
Length<> darcy_weisbach_diameter(Flow<> flow, Length<> head_loss, Length<> length, Length<> roughness,
                                 Number<> minor_losses, KinematicViscosity<> viscosity,
                                 Acceleration<> gravity = standard_gravity);

/// Loss by Hazen and Williams, for comparison only: it errs by -30 % to +15 % in small plastic pipe, worst when slow
/// and cold.
///
///   h = 4.727 L q^1.852 / (C^1.852 d^4.871)      feet and cubic feet per second
///
/// source   EPANET 2.2 User Manual, table 3.1
template <class N>
Length<N> hazen_williams_head_loss(Flow<N> flow, Number<> coefficient, Length<> bore, Length<> length) {
  using std::abs;
  using std::pow;
  constexpr double foot = 0.3048;
  const N q = flow.si() / (foot * foot * foot);
  if (q == 0.0) return Length<N>(N(0.0));
  const double per_flow = 4.727 * length.si() * std::pow(coefficient.si(), -1.852) * std::pow(bore.si() / foot, -4.871);
  return Length<N>(per_flow * q * pow(N(abs(q)), 0.852));
}

/// Its inverse, with the sign of the head.
Flow<> hazen_williams_flow(Length<> head, Number<> coefficient, Length<> bore, Length<> length);

/// K as head over the square of the flow: m = 8 K / (pi^2 g d^4).
inline HeadPerFlowSquared<> minor_loss_flow_coefficient(Number<> k, Length<> bore,
                                                        Acceleration<> gravity = standard_gravity) {
  return HeadPerFlowSquared<>(8.0 * k.si() /
                              (std::numbers::pi * std::numbers::pi * gravity.si() * std::pow(bore.si(), 4)));
}

/// h/Q^2 of a pipe at one flow. Friction changes with the flow, so this holds only near it.
inline HeadPerFlowSquared<> system_curve_coefficient(Flow<> flow, const PipeRun& pipe, KinematicViscosity<> viscosity,
                                                     Acceleration<> gravity = standard_gravity) {
  return pipe_loss(flow, pipe, viscosity, gravity) / (flow * flow);
}

}  // namespace leat::science
