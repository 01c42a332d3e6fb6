// Water that falls in a pipe, intakes, and the sleeve that lifts solids.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "science/hydraulics/pipe_loss.h"

namespace leat::science {

/// Published limits of J = V / sqrt(g D), V as if the pipe were full.
namespace drain_limits {
inline constexpr Number<> self_venting{0.30};  ///< air can rise against the water; Hills 1983
inline constexpr Number<> bubble_held{0.35};   ///< a long bubble just holds in still water; Davies and Taylor 1950
inline constexpr Number<> mouth_full{0.54};    ///< an open level pipe starts to run full; Benjamin 1968
inline constexpr Number<> vented_stack{0.90};  ///< a vented stack 7/24 full; Wyly and Eaton 1961
}  // namespace drain_limits

/// J = V / sqrt(g D)
template <class N>
Number<N> drain_froude_number(Flow<N> flow, Length<> bore, Acceleration<> gravity = standard_gravity) {
  return Number<N>(pipe_velocity(flow, bore).si() / std::sqrt(gravity.si() * bore.si()));
}

/// Flow at a J: Q = J sqrt(g D) pi D^2/4. At 0.54 (0.35 to 0.8, calibrate) a bell siphon primes.
inline Flow<> drain_flow_at(Number<> j, Length<> bore, Acceleration<> gravity = standard_gravity) {
  return Flow<>(j.si() * std::sqrt(gravity.si() * bore.si()) * 0.25 * std::numbers::pi * bore.si() * bore.si());
}

/// Rise of a long bubble in a tube of still water: V = 0.35 sqrt(g D).
///
/// bore     20 mm and more; smaller tubes hold it by surface tension
/// source   Davies and Taylor 1950
inline Velocity<> taylor_bubble_rise(Length<> bore, Acceleration<> gravity = standard_gravity) {
  return Velocity<>(0.35 * std::sqrt(gravity.si() * bore.si()));
}

/// What a vented stack may carry: Q(US gal/min) = 27.8 r^(5/3) D(in)^(8/3).
///
/// filled   share of the section that is water, 7/24 at most
/// source   Wyly and Eaton 1961, from memory
inline Flow<> drainage_stack_capacity(Length<> bore, Number<> filled) {
  constexpr double gallon_a_minute = 3.785411784e-3 / 60.0;
  const double d_in = bore.si() / 0.0254;
  return Flow<>(gallon_a_minute * 27.8 * std::pow(filled.si(), 5.0 / 3.0) * std::pow(d_in, 8.0 / 3.0));
}

/// Water needed above an intake so that it draws no air: S = D (1 + 2.3 V/sqrt(g D)).
///
/// source   ANSI/HI 9.8, as printed on a trade page
inline Length<> intake_submergence(Velocity<> velocity, Length<> bore, Acceleration<> gravity = standard_gravity) {
  return (1.0 + 2.3 * velocity.si() / std::sqrt(gravity.si() * bore.si())) * bore;
}

/// Air gap over the highest water below a tap: twice the bore, at least 20 mm.
/// source   Water Regs UK
inline Length<> air_gap_minimum(Length<> bore) {
  return std::max(2.0 * bore, Length<>(0.020));
}

/// Upward velocity between a standpipe and the sleeve round it. Above 0.10 m/s it lifts solids; warn below 0.06.
template <class N>
Velocity<N> sleeve_velocity(Flow<N> flow, Length<> sleeve_bore, Length<> standpipe_outside) {
  const double area =
      0.25 * std::numbers::pi * (sleeve_bore.si() * sleeve_bore.si() - standpipe_outside.si() * standpipe_outside.si());
  return Velocity<N>(flow.si() / area);
}

}  // namespace leat::science
