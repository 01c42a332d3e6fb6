// Heat through the sides of a vessel: layers, films, sun on the outer skin.
#pragma once

#include <cmath>
#include <span>

#include "base/units/quantity.h"
#include "science/heat/longwave.h"
#include "science/heat/smooth.h"

namespace leat::science {

template <class N = double>
using ThermalResistance = Quantity<dim::resistance, N>;
inline constexpr ThermalResistance<> square_metre_kelvin_per_watt{1.0};

/// Water on the inside of a wall: 200 W/m2/K (the building value 0.13 is for room air).
inline constexpr Conductance<> water_film{200.0};
inline constexpr double plastic_emissivity = 0.9;

/// Resistance of a layer: d/k.
template <class N>
ThermalResistance<N> layer_resistance(Length<N> thickness, Conductivity<Same<N>> conductivity) {
  return thickness / conductivity;
}

/// Conductance of resistances in a row, films included where they are given.
/// source   ISO 6946
inline Conductance<> u_value(std::span<const ThermalResistance<>> in_a_row) {
  double sum = 0.0;
  for (const ThermalResistance<> r : in_a_row) sum += r.si();
  return Conductance<>(1.0 / sum);
}

/// From the water to the outer skin: water film and layers, without an outside film.
inline Conductance<> water_to_skin(std::span<const ThermalResistance<>> layers) {
  double sum = 1.0 / water_film.si();
  for (const ThermalResistance<> r : layers) sum += r.si();
  return Conductance<>(1.0 / sum);
}

/// Convection at an outside face: 4 + 4u W/m2/K, u in m/s beside the wall.
/// source   ISO 6946 annex C; remembered
template <class N>
Conductance<N> external_convection(Velocity<N> wind) {
  return Conductance<N>(4.0 + 4.0 * wind.si());
}

/// Convection and radiation at an outside face: 4 + 4u + 4 eps sigma T^3.
/// source   ISO 6946 annex C; remembered
template <class N>
Conductance<N> external_film(Velocity<N> wind, Temperature<Same<N>> mean, double emissivity = plastic_emissivity) {
  return external_convection(wind) + radiative_conductance(Temperature<N>(mean), emissivity);
}

/// 1/he; 0.04 m2 K/W is a wall in 4 m/s, 0.08 one in 1 m/s.
template <class N>
ThermalResistance<N> external_surface_resistance(Velocity<N> wind, Temperature<Same<N>> mean,
                                                 double emissivity = plastic_emissivity) {
  return ThermalResistance<N>(1.0 / external_film(wind, mean, emissivity).si());
}

/// Share of the sun on an opaque skin that ends in the water: alpha U/(U + he), U from the water to the skin.
template <class N>
Number<N> sun_share_through_wall(double absorptance, Conductance<N> water_to_outer_skin, Conductance<Same<N>> film) {
  return Number<N>(absorptance * water_to_outer_skin.si() / (water_to_outer_skin.si() + film.si()));
}

/// Share of the sun on a natural polyethylene wall that ends in clean water behind it. No measurement was found: bounds
/// from films and cans, and the swing of tanks. The most telling number of an exposed tank; calibrate it.
inline constexpr double sun_share_clear_polyethylene = 0.6;
inline constexpr double sun_share_clear_polyethylene_low = 0.4, sun_share_clear_polyethylene_high = 0.8;

/// What an outer face meets.
template <class N = double>
struct FaceOutside {
  Temperature<N> air;
  Velocity<N> wind;  ///< beside the face
  Flux<N> sun;       ///< on the face
  Flux<N> longwave;  ///< towards the face: `longwave_on_upright_wall`, or the sky for a lid
  double absorptance = 0.3;
  double emissivity = plastic_emissivity;
};

/// Heat that would flow into the face if it stood at air temperature: alpha I + eps (L - sigma Ta^4).
template <class N>
Flux<N> face_gain_at_air_temperature(const FaceOutside<N>& out) {
  return out.absorptance * out.sun + out.emissivity * (out.longwave - outgoing_longwave(out.air, 1.0));
}

/// Temperature that air alone would need to act as air, sun and sky do: Ta + gain/he.
template <class N>
Temperature<N> sol_air_temperature(const FaceOutside<N>& out) {
  const Conductance<N> film = external_film(out.wind, out.air, out.emissivity);
  return out.air + face_gain_at_air_temperature(out) / film;
}

/// Heat INTO the water through a wall whose skin holds no heat.
///
///   q = U/(U + he) (alpha I + eps (L - sigma Ta^4) + he (Ta - Tw))
///
/// water_to_outer_skin  U of water film and layers
/// error    the skin's radiation is linear about air temperature: 2 % of q for a skin 10 K off
template <class N>
Flux<N> heat_through_wall(Temperature<N> water, Conductance<Same<N>> water_to_outer_skin,
                          const FaceOutside<Same<N>>& out) {
  const Conductance<N> film = external_film(out.wind, out.air, out.emissivity);
  const N share = water_to_outer_skin.si() / (water_to_outer_skin.si() + film.si());
  return Flux<N>(share * (face_gain_at_air_temperature(out) + film * (out.air - water)).si());
}

}  // namespace leat::science
