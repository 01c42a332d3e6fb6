// Flow over the rim of a standpipe and through holes.
#pragma once

#include <cmath>
#include <numbers>

#include "base/units/quantity.h"
#include "numerics/dual.h"
#include "science/hydraulics/gravity.h"

namespace leat::science {

/// Coefficients of a rim. The weir's belongs to SI (m^0.5/s).
struct RimCoefficients {
  Number<> weir{1.70};  ///< within 15 % until calibrated
  Number<> orifice{0.60};
};

/// Flow through a hole of any shape under a head.
///
///   Q = Cd A sqrt(2 g h)
///
/// head         above the middle of the hole, or above a hole in the floor
/// area         of the hole
/// coefficient  0.60-0.62 thin edge, 0.61 drilled plastic, 0.8 short tube
/// returns      0 at and below h = 0; the slope is infinite there
/// error        3 %
template <class N>
Flow<N> orifice_flow(Length<N> head, Area<> area, Number<> coefficient, Acceleration<> gravity = standard_gravity) {
  using std::sqrt;
  if (head.si() <= 0.0) return Flow<N>(N(0.0));
  return Flow<N>(coefficient.si() * area.si() * sqrt(2.0 * gravity.si() * head.si()));
}

inline Area<> round_area(Length<> diameter) {
  return Area<>(0.25 * std::numbers::pi * diameter.si() * diameter.si());
}

/// Flow out of a hole drilled in the floor of a bed.
///
///   Q = Cd (pi d^2/4) sqrt(2 g h)
///
/// head      of water above the hole
/// diameter  of the hole
/// returns   0 at and below h = 0
template <class N>
Flow<N> drain_hole_flow(Length<N> head, Length<> diameter, Number<> coefficient = Number<>(0.61),
                        Acceleration<> gravity = standard_gravity) {
  return orifice_flow(head, round_area(diameter), coefficient, gravity);
}

/// The same with a finite slope at h = 0: below the depth `soft` the root is a parabola that meets it in value and
/// slope. A bed then empties ever more slowly and never quite.
///
/// soft   1 mm
/// error  none above `soft`; below it at most 12 % too small
template <class N>
Flow<N> drain_hole_flow_soft(Length<N> head, Length<> diameter, Number<> coefficient = Number<>(0.61),
                             Acceleration<> gravity = standard_gravity, Length<> soft = Length<>(1e-3)) {
  if (head >= Length<N>(N(soft.si()))) return drain_hole_flow(head, diameter, coefficient, gravity);
  if (head.si() <= 0.0) return Flow<N>(N(0.0));
  const Flow<> at_soft = drain_hole_flow(soft, diameter, coefficient, gravity);
  const N x = head.si() / soft.si();
  return Flow<N>(at_soft.si() * x * (1.5 - 0.5 * x));
}

/// Flow over a rim that is all weir.
///
///   Q = Cw pi D h^1.5
template <class N>
Flow<N> rim_weir_flow(Length<N> head, Length<> bore, Number<> coefficient = Number<>(1.70)) {
  using std::sqrt;
  const N h = head.si();
  if (h <= 0.0) return Flow<N>(N(0.0));
  return Flow<N>(coefficient.si() * std::numbers::pi * bore.si() * h * sqrt(h));
}

/// Head at which the weir law and the orifice law of a rim cross.
///
///   h_c = (Cd / Cw) sqrt(2 g) D / 4        0.391 D with the usual coefficients
inline Length<> rim_crossing_head(Length<> bore, RimCoefficients rim = {}, Acceleration<> gravity = standard_gravity) {
  return 0.25 * rim.orifice.si() / rim.weir.si() * std::sqrt(2.0 * gravity.si()) * bore;
}

/// Flow down a standpipe from the head over its rim: the lesser of weir and orifice.
///
///   Q = min( Cw pi D h^1.5 , Cd (pi D^2/4) sqrt(2 g h) )
///
/// head     of the water above the rim; it holds while the pipe below is not drowned
/// bore     inside diameter
/// returns  0 at and below the rim
/// error    weir part 15 % (published laws start at 20 to 50 mm, rims work at 5 to 30); orifice part 20 %, it swirls
/// beyond   a full pipe below the rim carries less; see pipe_flow
/// source   weir and orifice crossing as in SWMM 5.2 link.c
template <class N>
Flow<N> standpipe_rim_flow(Length<N> head, Length<> bore, RimCoefficients rim = {},
                           Acceleration<> gravity = standard_gravity) {
  if (plain(head.si()) < rim_crossing_head(bore, rim, gravity).si()) return rim_weir_flow(head, bore, rim.weir);
  return orifice_flow(head, round_area(bore), rim.orifice, gravity);
}

/// The same without the corner: between 0.8 and 1.25 h_c the curve of log Q against log h is the Hermite cubic that
/// meets both laws in value and slope (here it is a parabola, the two ends being alike).
///
/// error    up to 5.4 % below the lesser law, at h_c
template <class N>
Flow<N> standpipe_rim_flow_blended(Length<N> head, Length<> bore, RimCoefficients rim = {},
                                   Acceleration<> gravity = standard_gravity) {
  using std::exp;
  using std::log;
  const double crossing = rim_crossing_head(bore, rim, gravity).si();
  const double h = plain(head.si());
  if (h <= 0.8 * crossing || h >= 1.25 * crossing) return standpipe_rim_flow(head, bore, rim, gravity);
  constexpr double reach = 0.22314355131420976;  // ln 1.25
  const N u = log(head.si() / crossing);
  const double corner = rim_weir_flow(Length<>(crossing), bore, rim.weir).si();
  return Flow<N>(corner * exp(u - u * u / (4.0 * reach) - 0.25 * reach));
}

/// Head over the rim that a flow needs: the inverse of standpipe_rim_flow.
///
/// returns  0 at and below no flow
template <class N>
Length<N> standpipe_rim_head(Flow<N> flow, Length<> bore, RimCoefficients rim = {},
                             Acceleration<> gravity = standard_gravity) {
  using std::pow;
  const N q = flow.si();
  if (q <= 0.0) return Length<N>(N(0.0));
  const Length<> crossing = rim_crossing_head(bore, rim, gravity);
  if (plain(q) < rim_weir_flow(crossing, bore, rim.weir).si())
    return Length<N>(pow(q / (rim.weir.si() * std::numbers::pi * bore.si()), 2.0 / 3.0));
  const N v = q / (rim.orifice.si() * round_area(bore).si());
  return Length<N>(v * v / (2.0 * gravity.si()));
}

}  // namespace leat::science
