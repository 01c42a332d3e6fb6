// Light for growth, and light in the water column.
#pragma once

#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

inline constexpr Dimension photon_flux_dimension{.length = -2, .time = -1, .amount = 1};
/// Photons per area and time; `micromole_per_square_metre_second`, `mole_per_square_metre_day`.
template <class N = double>
using PhotonFlux = Quantity<photon_flux_dimension, N>;
inline constexpr PhotonFlux<> micromole_per_square_metre_second{1e-6};
inline constexpr PhotonFlux<> mole_per_square_metre_day{1.0 / 86400.0};
/// Photons per energy.
using PhotonYield = Quantity<Dimension{.length = -2, .mass = -1, .time = 2, .amount = 1}>;
inline constexpr PhotonYield micromole_per_joule{1e-6};

/// Share of global radiation that plants can use (400 to 700 nm): 0.41 to 0.48 by place and season.
inline constexpr double par_share = 0.45;
/// Photons in a joule of it. source McCree 1972; remembered
inline constexpr PhotonYield photons_per_par = 4.57 * micromole_per_joule;

/// Photons for growth from global radiation: 20 MJ/m2 of a day give 41 mol/m2.
template <class N>
PhotonFlux<N> ppfd_from_global(Flux<N> global, double share = par_share, PhotonYield yield = photons_per_par) {
  return share * (global * yield);
}

/// Light left at a depth, with one rate for the red end and one for the rest.
///
///   I/I0 = R exp(-z/z1) + (1 - R) exp(-z/z2)
///
/// source   Paulson and Simpson 1977 (type I 0.58, 0.35 m, 23 m; II 0.77, 1.5, 14; III 0.78, 1.4, 7.9; remembered)
template <class N>
Number<N> light_left_at_depth(Length<N> depth, double red_share, Length<> red_length, Length<> other_length) {
  using std::exp;
  return Number<N>(red_share * exp(-depth.si() / red_length.si()) +
                   (1.0 - red_share) * exp(-depth.si() / other_length.si()));
}

using Attenuation = Quantity<Dimension{.length = -1}>;

/// Mean light between the surface and a depth over light at the surface.
///
///   (1 - exp(-Kd h)) / (Kd h),  1 where Kd h = 0
///
/// optical_depth  Kd h, any from 0
template <class N>
Number<N> mean_light_in_column(Number<N> optical_depth) {
  using std::exp;
  // The shift keeps 0/0 away; it costs less than 1e-6 of the answer.
  const N x = optical_depth.si() + 1e-6;
  return Number<N>((1.0 - exp(-x)) / x);
}

}  // namespace leat::science
