// Rectangular and trapezoidal channels, and weirs across them.
#pragma once

#include <cmath>
#include <numbers>

#include "science/hydraulics/gravity.h"

namespace leat::science {

/// Flow for each metre of width, m2/s.
template <class N = double>
using FlowPerWidth = Quantity<dim::kinematic_viscosity, N>;

/// yc = (q^2/g)^(1/3)
inline Length<> rectangular_critical_depth(FlowPerWidth<> flow, Acceleration<> gravity = standard_gravity) {
  return Length<>(std::cbrt(flow.si() * flow.si() / gravity.si()));
}

/// A channel with a level floor across and sides that lean out.
struct Channel {
  Length<> width;    ///< of the floor
  Number<> lean{0};  ///< across for each up; 0 is upright
};

Area<> channel_area(const Channel& channel, Length<> depth);
Length<> channel_perimeter(const Channel& channel, Length<> depth);
/// y + V^2/2g
Length<> channel_specific_energy(const Channel& channel, Flow<> flow, Length<> depth,
                                 Acceleration<> gravity = standard_gravity);

/// Distance along a channel between two depths of steady flow, positive downstream from the first to the second.
///
///   x = sum (E2 - E1) / (S0 - mean Sf),  Sf by Manning
///
/// steps    equal steps of depth
/// error    falls with the square of the step
/// source   Chow 1959, direct step method
Length<> direct_step_distance(const Channel& channel, Flow<> flow, Number<> slope, Number<> n, Length<> from,
                              Length<> to, int steps, Acceleration<> gravity = standard_gravity);

/// C = (2/3)^1.5 sqrt(g), so that Q = C L H^1.5; 1.705 m^0.5/s.
inline Number<> broad_crested_weir_coefficient(Acceleration<> gravity = standard_gravity) {
  return Number<>(std::pow(2.0 / 3.0, 1.5) * std::sqrt(gravity.si()));
}

/// Q = C L H^1.5, C in m^0.5/s.
inline Flow<> broad_crested_weir_flow(Length<> head, Length<> crest, Number<> coefficient) {
  return Flow<>(coefficient.si() * crest.si() * std::pow(head.si(), 1.5));
}

/// V-notch: Q = 8/15 Ce sqrt(2g) tan(angle/2) (h + k)^2.5.
///
/// head         above the point of the notch, from 50 mm
/// coefficient  Ce, 0.578 at 90 degrees
/// shift        k, 0.9 mm at 90 degrees
/// error        2 %
/// source       Kindsvater and Shen, as in an open laboratory script
inline Flow<> vnotch_weir(Length<> head, Number<> angle_degrees, Number<> coefficient, Length<> shift,
                          Acceleration<> gravity = standard_gravity) {
  const double half = angle_degrees.si() * std::numbers::pi / 360.0;
  return Flow<>(8.0 / 15.0 * coefficient.si() * std::sqrt(2.0 * gravity.si()) * std::tan(half) *
                std::pow(head.si() + shift.si(), 2.5));
}

/// A sharp crest across a channel.
struct SharpWeir {
  Length<> head;    ///< h1, of the water over the crest
  Length<> height;  ///< h2, of the crest over the floor
  Length<> width;   ///< b, of the crest
};

/// Q = 2/3 sqrt2 (0.602 + 0.075 h1/h2) (b - 1 mm) sqrt(g) (h1 + 1 mm)^1.5, over the whole width of a channel.
///
/// range    h1 > 30 mm, b > 150 mm, h2 > 100 mm, h1/h2 < 2
/// source   Kindsvater and Carter 1957, as in the open library fluids
inline Flow<> rectangular_weir_suppressed_kindsvater(const SharpWeir& w, Acceleration<> gravity = standard_gravity) {
  const double c = 0.602 + 0.075 * (w.head / w.height).si();
  return Flow<>(2.0 / 3.0 * std::numbers::sqrt2 * c * (w.width.si() - 0.001) * std::sqrt(gravity.si()) *
                std::pow(w.head.si() + 0.001, 1.5));
}

/// Q = 0.554 (1 - 0.0035 h1/h2) (b + 2.5 mm) sqrt(g) (h1 + 0.1 mm)^1.5, a notch narrower than a fifth of the channel.
///
/// range    h1 > 30 mm, b > 150 mm, h2 > 100 mm, h1/h2 < 2
/// source   Kindsvater and Carter 1957, as in the open library fluids
inline Flow<> rectangular_weir_contracted_kindsvater(const SharpWeir& w, Acceleration<> gravity = standard_gravity) {
  const double c = 0.554 * (1.0 - 0.0035 * (w.head / w.height).si());
  return Flow<>(c * (w.width.si() + 0.0025) * std::sqrt(gravity.si()) * std::pow(w.head.si() + 0.0001, 1.5));
}

/// Q = 2/3 sqrt2 (0.602 + 0.0832 h1/h2) b sqrt(g) (h1 + 1.25 mm)^1.5, over the whole width.
///
/// range    h1 30 to 750 mm, b and h2 > 300 mm, h1/h2 < 1
/// source   Rehbock 1929, as in the open library fluids
inline Flow<> rectangular_weir_rehbock(const SharpWeir& w, Acceleration<> gravity = standard_gravity) {
  const double c = 0.602 + 0.0832 * (w.head / w.height).si();
  return Flow<>(2.0 / 3.0 * std::numbers::sqrt2 * c * w.width.si() * std::sqrt(gravity.si()) *
                std::pow(w.head.si() + 0.00125, 1.5));
}

/// Q = 0.564 (1 + 0.150 h1/h2) b sqrt(g) (h1 + 1 mm)^1.5, over the whole width.
///
/// range    h1 > 20 mm, h2 > 150 mm, h1/h2 <= 2.2
/// source   Ackers et al. 1978, as in the open library fluids
inline Flow<> rectangular_weir_ackers(const SharpWeir& w, Acceleration<> gravity = standard_gravity) {
  const double c = 0.564 * (1.0 + 0.150 * (w.head / w.height).si());
  return Flow<>(c * w.width.si() * std::sqrt(gravity.si()) * std::pow(w.head.si() + 0.001, 1.5));
}

}  // namespace leat::science
