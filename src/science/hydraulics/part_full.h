// Round pipes that run part full: uniform flow, critical depth, inlets and brinks.
#pragma once

#include "science/hydraulics/circular_section.h"
#include "science/hydraulics/friction_factor.h"

namespace leat::science {

/// V = R^(2/3) S^(1/2) / n.
///
/// n        0.010 to 0.011 for fouled plastic, 0.0079 to 0.0083 for clean (SI: s/m^(1/3))
/// source   Manning 1891, as in Chow 1959
inline Velocity<> manning_velocity(Length<> hydraulic_radius, Number<> slope, Number<> n) {
  return Velocity<>(std::pow(hydraulic_radius.si(), 2.0 / 3.0) * std::sqrt(slope.si()) / n.si());
}

/// V = C sqrt(R S), C in m^0.5/s.
inline Velocity<> chezy_velocity(Length<> hydraulic_radius, Number<> slope, Number<> c) {
  return Velocity<>(c.si() * std::sqrt(hydraulic_radius.si() * slope.si()));
}
/// C = R^(1/6) / n
inline Number<> manning_to_chezy(Number<> n, Length<> hydraulic_radius) {
  return Number<>(std::pow(hydraulic_radius.si(), 1.0 / 6.0) / n.si());
}

/// Uniform flow by Manning at a depth.
///
/// beyond   above 0.938 D the flow falls as the pipe fills; such depths do not stay
inline Flow<> manning_circular_flow(Length<> depth, Length<> bore, Number<> slope, Number<> n) {
  return circular_section_area(depth, bore) *
         manning_velocity(circular_section_hydraulic_radius(depth, bore), slope, n);
}

/// The full pipe's flow by Manning.
inline Flow<> manning_full_flow(Length<> bore, Number<> slope, Number<> n) {
  return manning_circular_flow(bore, bore, slope, n);
}

/// Slope that makes a flow uniform at a depth.
Number<> manning_circular_slope(Flow<> flow, Length<> depth, Length<> bore, Number<> n);

/// Depth of uniform flow, the lower of the two.
///
/// returns  the depth of the largest flow (0.938 D) if the pipe carries no more than that
Length<> manning_circular_normal_depth(Flow<> flow, Length<> bore, Number<> slope, Number<> n);

/// Uniform flow by Darcy with the bore replaced by four hydraulic radii, full above Re 4000 as elsewhere.
///
///   V = sqrt( 8 g R S / f ),  Re = 4 R V / nu
///
/// relative_roughness  roughness over 4 R
/// error               5 %; the shape of the section is left out
Flow<> part_full_darcy_flow(Length<> depth, Length<> bore, Number<> slope, Number<> relative_roughness,
                            KinematicViscosity<> viscosity, Acceleration<> gravity = standard_gravity);

/// Depth of uniform flow by that law, for a roughness as a length; the lower of the two.
Length<> part_full_darcy_normal_depth(Flow<> flow, Length<> bore, Number<> slope, Length<> roughness,
                                      KinematicViscosity<> viscosity, Acceleration<> gravity = standard_gravity);

/// V / sqrt(g A/T)
Number<> circular_froude(Flow<> flow, Length<> depth, Length<> bore, Acceleration<> gravity = standard_gravity);

/// Depth at which Q^2 T = g A^3.
///
/// flow     above 0
/// returns  below D always
Length<> circular_critical_depth(Flow<> flow, Length<> bore, Acceleration<> gravity = standard_gravity);

/// The same, explicit: y = 1.01 D^-0.26 (Q^2/g)^(1/4).
///
/// error    3 % for 0.5 < y/D < 0.85 in bores from 60 mm; shallower it says too much, by 8 % at y/D = 0.05
/// source   Straub 1978
Length<> circular_critical_depth_explicit(Flow<> flow, Length<> bore, Acceleration<> gravity = standard_gravity);

/// Depth at a free brink over the critical depth, from the balance of momentum with no pressure at the brink.
///
/// critical_ratio  critical depth over bore, 0 to 0.85
/// returns         0.72 to 0.73; measured 0.725 to 0.75
Number<> circular_end_depth_ratio(Number<> critical_ratio);

/// Head above the invert at the mouth of a steep pipe: critical flow while open, an orifice when drowned; the larger.
///
///   H = yc + (1 + Ke) Vc^2/2g        or        H = D/2 + (Q / (Cd A))^2 / 2g
///
/// entry_loss  Ke, 0.5
/// error       5 % open, 15 % about the change (H = 1.2 D)
/// beyond      a barrel that fills may need more; see pipe_loss
Length<> circular_inlet_head(Flow<> flow, Length<> bore, Number<> entry_loss = Number<>(0.5),
                             Number<> orifice = Number<>(0.60), Acceleration<> gravity = standard_gravity);

}  // namespace leat::science
