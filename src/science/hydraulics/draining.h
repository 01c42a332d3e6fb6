// Vessels that empty, and the outlets of roofs.
#pragma once

#include <cmath>
#include <numbers>

#include "science/hydraulics/rim_flow.h"

namespace leat::science {

/// Cd = Q / (A sqrt(2 g h)) from a measurement.
inline Number<> orifice_discharge_coefficient(Flow<> flow, Area<> area, Length<> head,
                                              Acceleration<> gravity = standard_gravity) {
  return Number<>(flow.si() / (area.si() * std::sqrt(2.0 * gravity.si() * head.si())));
}

/// Head at which the rim of a hole in the floor turns from weir to orifice: h = (Cd/Cw') D/4.
///
/// weir     Cw' = Q / (L sqrt(2g) h^1.5), 0.414 for a sharp crest
/// source   SWMM 5.2, link.c
inline Length<> bottom_orifice_critical_head(Number<> orifice, Length<> diameter, Number<> weir = Number<>(0.414)) {
  return 0.25 * (orifice / weir).si() * diameter;
}

/// A vessel with upright walls and a hole.
struct Draining {
  Area<> vessel, hole;
  Number<> coefficient;  ///< Cd of the hole
  Flow<> inflow{0.0};
};

/// Time for the level over the hole to go from one height to another.
///
///   t = (2A/c) ( x0 - x1 + (Qin/c) ln( (c x0 - Qin)/(c x1 - Qin) ) ),   x = sqrt h, c = Cd a sqrt(2g)
///
/// returns  infinity if the inflow holds the level before it gets there
Duration<> tank_drain_time(const Draining& tank, Length<> from, Length<> to, Acceleration<> gravity = standard_gravity);

/// The same by following the level in time with a fourth order method and stopping where it crosses: a second way to
/// the number, not the way to use.
Duration<> tank_drain_time_ode(const Draining& tank, Length<> from, Length<> to,
                               Acceleration<> gravity = standard_gravity);

/// Outlet of a roof, as a weir: Q(L/s) = D h^1.5 / 7500, both in mm; on the safe side.
///
/// head     up to D/2
/// source   EN 12056-3:2000, from memory
inline Flow<> roof_outlet_weir_flow(Length<> diameter, Length<> head) {
  const double d_mm = diameter.in(units::millimetre), h_mm = head.in(units::millimetre);
  return Flow<>(1e-3 * d_mm * std::pow(h_mm, 1.5) / 7500.0);
}
/// The same as an orifice: Q(L/s) = D^2 h^0.5 / 15000.
///
/// head     above D/2
/// source   EN 12056-3:2000, from memory
inline Flow<> roof_outlet_orifice_flow(Length<> diameter, Length<> head) {
  const double d_mm = diameter.in(units::millimetre), h_mm = head.in(units::millimetre);
  return Flow<>(1e-3 * d_mm * d_mm * std::sqrt(h_mm) / 15000.0);
}

}  // namespace leat::science
