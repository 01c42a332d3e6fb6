// Pumps at other speeds, their operating point, their cost.
#pragma once

#include <cmath>
#include <span>

#include "science/hydraulics/pipe_sizing.h"
#include "science/hydraulics/pump_curve.h"

namespace leat::science {

/// Q2 = Q1 n2/n1. Along one curve of equal efficiency: where a lift dominates, solve the operating point again.
inline Flow<> affinity_flow(Flow<> flow, Frequency<> from, Frequency<> to) {
  return to.si() / from.si() * flow;
}
/// H2 = H1 (n2/n1)^2
inline Length<> affinity_head(Length<> head, Frequency<> from, Frequency<> to) {
  return std::pow(to.si() / from.si(), 2) * head;
}
/// P2 = P1 (n2/n1)^3
inline Power<> affinity_power(Power<> power, Frequency<> from, Frequency<> to) {
  return std::pow(to.si() / from.si(), 3) * power;
}

/// n sqrt(Q) / H^0.75 with n in turns a minute, Q in m3/s, H in m.
inline Number<> pump_specific_speed(Flow<> flow, Length<> head, Frequency<> speed) {
  return Number<>(60.0 * speed.si() * std::sqrt(flow.si()) / std::pow(head.si(), 0.75));
}

/// H = a + c Q^2
struct QuadraticCurve {
  Length<> at_rest;
  HeadPerFlowSquared<> bend;  ///< below 0 for a pump
};

/// The same through points by least squares.
QuadraticCurve pump_curve_fit_quadratic(std::span<const PumpPoint> points);

/// Where the curve meets a system of fixed resistance: a + c Q^2 = lift + K Q^2.
///
/// returns  0 if the lift is above the pump's head at rest
inline Flow<> pump_operating_flow_quadratic(QuadraticCurve pump, Length<> lift, HeadPerFlowSquared<> system) {
  const double room = pump.at_rest.si() - lift.si();
  return Flow<>(room > 0.0 ? std::sqrt(room / (system.si() - pump.bend.si())) : 0.0);
}

/// Where a pump's curve meets a lift and a pipe, with friction at that very flow.
///
/// lift     level at the outlet over the level at the inlet
/// returns  0 if the lift is above the pump's head at rest
Flow<> pump_operating_flow(const PumpCurve& curve, Length<> lift, const PipeRun& pipe, KinematicViscosity<> viscosity,
                           Acceleration<> gravity = standard_gravity);

/// Money for a time of running, in the money of the price.
///
/// price_per_kwh  money for one kWh
inline Number<> pump_running_cost(Power<> power, Duration<> running, Number<> price_per_kwh) {
  return Number<>(power.si() * running.si() / 3.6e6 * price_per_kwh.si());
}

}  // namespace leat::science
