// Lids over an air gap, and rafts.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/heat/longwave.h"
#include "science/heat/smooth.h"
#include "science/heat/vapour.h"
#include "science/heat/walls.h"

namespace leat::science {

inline constexpr Conductivity<> air_conductivity{0.0257};  // at 20 °C, as the three below
inline constexpr KinematicViscosity<> air_viscosity{1.516e-5};
inline constexpr KinematicViscosity<> air_heat_diffusivity{2.153e-5};
inline constexpr KinematicViscosity<> vapour_diffusivity{2.5e-5};

/// Rayleigh number of a gap with water below: g dT d^3 / (T nu kappa); negative where the lid is the warmer.
template <class N>
Number<N> gap_rayleigh(Temperature<N> below, Temperature<Same<N>> above, Length<> gap) {
  const double d3 = gap.si() * gap.si() * gap.si();
  const N mean = 0.5 * (below.kelvin() + above.kelvin());
  return Number<N>(9.80665 * d3 / (air_viscosity.si() * air_heat_diffusivity.si()) * (below.kelvin() - above.kelvin()) /
                   mean);
}

/// Heat through a level air gap warmed from below, over conduction alone.
///
///   Nu = 1 + 1.44 [1 - 1708/Ra]+ + [(Ra/5830)^(1/3) - 1]+
///
/// rayleigh any; 1 where the upper side is the warmer
/// error    corners rounded: 0.01 at Ra 1708 and 5830
/// source   Hollands, Unny, Raithby and Konicek 1976; remembered
template <class N>
Number<N> gap_nusselt_hollands(Number<N> rayleigh) {
  const N ra = smooth_positive_part(N(rayleigh.si()), 10.0);
  const N onset = smooth_positive_part(N(1.0 - 1708.0 / ra), 0.01);
  const N cells = smooth_positive_part(N(smooth_cube_root_of_positive(N(ra / 5830.0), 1e-3) - 1.0), 0.01);
  return Number<N>(1.0 + 1.44 * onset + cells);
}

/// Radiation across a gap between two large faces, per kelvin: 4 sigma T^3 / (1/eps1 + 1/eps2 - 1).
template <class N>
Conductance<N> gap_radiation(Temperature<N> mean, double emissivity_below = 0.95, double emissivity_above = 0.9) {
  return radiative_conductance(mean, 1.0 / (1.0 / emissivity_below + 1.0 / emissivity_above - 1.0));
}

template <class N>
Number<N> gap_nusselt(Temperature<N> water, Temperature<Same<N>> lid, Length<> gap) {
  return gap_nusselt_hollands(gap_rayleigh(water, lid, gap));
}

/// Heat that leaves the water for a lid, dry part: radiation and air.
template <class N>
Conductance<N> gap_conductance(Temperature<N> water, Temperature<Same<N>> lid, Length<> gap) {
  const auto mean = Temperature<N>::from_kelvin(0.5 * (water.kelvin() + lid.kelvin()));
  const N air = air_conductivity.si() / gap.si() * gap_nusselt(water, lid, gap).si();
  return gap_radiation(mean) + Conductance<N>(air);
}

/// Vapour that crosses to a colder lid and drips back: Nu D/d (rho_w - rho_lid). None where the lid is the warmer (it
/// is dry then).
template <class N>
Quantity<dim::areal_mass - dim::time, N> gap_vapour_mass(Temperature<N> water, Temperature<Same<N>> lid, Length<> gap) {
  const N at_water = vapour_density(saturation_vapour_pressure(water), water).si();
  const N at_lid = vapour_density(saturation_vapour_pressure(Temperature<N>(lid)), Temperature<N>(lid)).si();
  const N falling = smooth_positive_part(N(at_water - at_lid), 1e-5);
  return Quantity<dim::areal_mass - dim::time, N>(gap_nusselt(water, lid, gap).si() * vapour_diffusivity.si() /
                                                  gap.si() * falling);
}

/// All heat that leaves the water for its lid.
template <class N>
Flux<N> gap_heat(Temperature<N> water, Temperature<Same<N>> lid, Length<> gap) {
  return gap_conductance(water, lid, gap) * (water - Temperature<N>(lid)) +
         gap_vapour_mass(water, lid, gap) * latent_heat(water);
}

/// A lid and the world above it. `board` is the lid's own resistance (0 for a sheet); `transmitted` sun goes through to
/// the water and is not counted here.
template <class N = double>
struct Lid {
  Length<> gap{0.05};
  ThermalResistance<> board{};
  FaceOutside<N> outside;
};

/// Heat INTO the water through a closed lid that holds no heat itself, sun that it lets through left aside.
///
/// The lid's under side settles where gap and outside agree. Eight steps towards it are always taken, each dividing the
/// misfit by the sum of both conductances, so that slopes come out with the value.
/// error    0.01 W/m2 of the settled value, water within 30 K of the air
template <class N>
Flux<N> heat_through_lid(Temperature<N> water, const Lid<Same<N>>& lid) {
  const FaceOutside<N>& out = lid.outside;
  const Conductance<N> film = external_film(out.wind, out.air, out.emissivity);
  const N upward = 1.0 / (1.0 / film.si() + lid.board.si());
  const Temperature<N> sol_air = sol_air_temperature(out);
  Temperature<N> under = sol_air;
  for (int i = 0; i < 8; ++i) {
    const N gain = gap_heat(water, under, lid.gap).si() - upward * (under - sol_air).si();
    under = under + TemperatureDifference<N>(gain / (upward + 1.6 * gap_conductance(water, under, lid.gap).si()));
  }
  return -gap_heat(water, under, lid.gap);
}

/// Conductance from the water to the outer face of a raft of foam: water film and d/k. EPS of 30 mm: 0.86 m2 K/W.
inline Conductance<> raft_to_skin(Length<> thickness, Conductivity<> foam = Conductivity<>(0.035)) {
  const ThermalResistance<> layer = layer_resistance(thickness, foam);
  return water_to_skin(std::span(&layer, 1));
}

}  // namespace leat::science
