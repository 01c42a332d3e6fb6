// Lids over an air gap, and rafts.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "numerics/dual.h"
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

/// Convection in a gap: its Nusselt number, and what that gains per unit of ln Ra (for steps towards a settled lid).
template <class N>
struct GapConvection {
  N nusselt, growth;
};

/// Heat through a level air gap warmed from below, over conduction alone.
///
///   Nu = 1 + 1.44 [1 - 1708/Ra]+ + [(Ra/5830)^(1/3) - 1]+
///
/// rayleigh any; 1 where the upper side is the warmer
/// error    corners rounded: 0.01 at Ra 1708 and 5830
/// source   Hollands, Unny, Raithby and Konicek 1976; remembered
template <class N>
GapConvection<N> gap_convection_hollands(Number<N> rayleigh) {
  const N ra = smooth_positive_part(N(rayleigh.si()), 10.0);
  const N onset = 1.0 - 1708.0 / ra;
  const N cube = smooth_cube_root_of_positive(N(ra / 5830.0), 1e-3);
  const N nusselt = 1.0 + 1.44 * smooth_positive_part(onset, 0.01) + smooth_positive_part(N(cube - 1.0), 0.01);
  const N growth =
      1.44 * smooth_is_positive(onset, 0.01) * 1708.0 / ra + smooth_is_positive(N(cube - 1.0), 0.01) * cube / 3.0;
  return {nusselt, growth};
}
template <class N>
Number<N> gap_nusselt_hollands(Number<N> rayleigh) {
  return Number<N>(gap_convection_hollands(rayleigh).nusselt);
}

/// Radiation across a gap between two large faces, per kelvin: 4 sigma T^3 / (1/eps1 + 1/eps2 - 1).
template <class N>
Conductance<N> gap_radiation(Temperature<N> mean, double emissivity_below = 0.95, double emissivity_above = 0.9) {
  return radiative_conductance(mean, 1.0 / (1.0 / emissivity_below + 1.0 / emissivity_above - 1.0));
}

/// What crosses from the water to its lid.
template <class N>
struct GapExchange {
  Conductance<N> dry;                               ///< radiation and air
  Quantity<dim::areal_mass - dim::time, N> vapour;  ///< condenses on a colder lid and drips back; none to a warmer one
  Flux<N> heat;                                     ///< all of it, with the heat of the vapour
  Conductance<N> slope;                             ///< nearly what `heat` loses per kelvin of the lid
};

/// Radiation, air and vapour across a closed gap.
///
///   dry = 4 sigma T^3/(1/eps + 1/eps' - 1) + k Nu/d;   vapour = Nu D/d [rho_w - rho_lid]+
///
/// water    0 to 45 °C
/// lid      temperature of its under side    -20 to 80 °C
/// gap      0.5 to 50 cm
/// source   Hollands et al. 1976 for Nu; heat and vapour cross alike
template <class N>
GapExchange<N> gap_exchange(Temperature<N> water, Temperature<Same<N>> lid, Length<> gap) {
  const GapConvection<N> air = gap_convection_hollands(gap_rayleigh(water, lid, gap));
  const auto mean = Temperature<N>::from_kelvin(0.5 * (water.kelvin() + lid.kelvin()));
  const double conduction = air_conductivity.si() / gap.si(), diffusion = vapour_diffusivity.si() / gap.si();
  const Conductance<N> dry = gap_radiation(mean) + Conductance<N>(conduction * air.nusselt);

  const Pressure<N> at_lid = saturation_vapour_pressure(Temperature<N>(lid));
  const N falling =
      vapour_density(saturation_vapour_pressure(water), water).si() - vapour_density(at_lid, Temperature<N>(lid)).si();
  const N vapour = air.nusselt * diffusion * smooth_positive_part(falling, 1e-5);
  const N latent = latent_heat(water).si();

  const N density_slope = saturation_slope(Temperature<N>(lid)).si() / (461.5 * lid.kelvin());
  const N slope = dry.si() + conduction * air.growth +
                  (air.nusselt + air.growth) * diffusion * latent * density_slope * smooth_is_positive(falling, 1e-5);
  return {dry, Quantity<dim::areal_mass - dim::time, N>(vapour),
          Flux<N>(dry.si() * (water.kelvin() - lid.kelvin()) + vapour * latent), Conductance<N>(slope)};
}

/// A lid and the world above it. `board` is the lid's own resistance (0 for a sheet); `transmitted` sun goes through to
/// the water and is not counted here.
template <class N = double>
struct Lid {
  Length<> gap{0.05};
  ThermalResistance<> board{};
  FaceOutside<N> outside;
};

/// Four steps of Newton's kind towards the temperature of the lid's under side at which gap and outside agree. They
/// begin where a gap that passes 5.5 W/m2/K to a lid warmer than the water, and 12 to a colder one, would have it.
template <class N>
Temperature<N> settled_lid(Temperature<N> water, Length<> gap_width, const N& upward, Temperature<N> sol_air) {
  const N colder = water.kelvin() - sol_air.kelvin(), gap_like = 5.5 + 6.5 * smooth_is_positive(colder, 1.0);
  Temperature<N> under = sol_air + TemperatureDifference<N>(colder * gap_like / (gap_like + upward));
  for (int i = 0; i < 4; ++i) {
    const GapExchange<N> gap = gap_exchange(water, under, gap_width);
    const N excess = gap.heat.si() - upward * (under.kelvin() - sol_air.kelvin());
    under = under + TemperatureDifference<N>(excess / (upward + gap.slope.si()));
  }
  return under;
}

/// Heat INTO the water through a closed lid that holds no heat itself, sun that it lets through left aside.
///
/// The lid's under side settles where gap and outside agree. Of what is outside no slopes are taken.
///
/// error    0.01 W/m2 of the settled value, water within 35 K of the air
template <class N>
Flux<N> heat_through_lid(Temperature<N> water, const Lid<Same<N>>& lid) {
  const FaceOutside<N>& out = lid.outside;
  const Conductance<N> film = external_film(out.wind, out.air, out.emissivity);
  const N upward = 1.0 / (1.0 / film.si() + lid.board.si());
  const Temperature<N> sol_air = sol_air_temperature(out);
  return -gap_exchange(water, settled_lid(water, lid.gap, upward, sol_air), lid.gap).heat;
}
/// Slopes by the implicit function theorem, not through the steps.
template <std::size_t W, class T>
Flux<Dual<W, T>> heat_through_lid(Temperature<Dual<W, T>> water, const Lid<Dual<W, T>>& lid) {
  using Two = Dual<2, T>;
  const FaceOutside<Dual<W, T>>& out = lid.outside;
  const auto film = external_film(out.wind, out.air, out.emissivity);
  const T upward = 1.0 / (1.0 / film.si().value + lid.board.si());
  const auto sol_air = Temperature<T>::from_kelvin(sol_air_temperature(out).kelvin().value);
  const Temperature<T> under = settled_lid(Temperature<T>::from_kelvin(water.kelvin().value), lid.gap, upward, sol_air);
  const auto both = Temperature<Two>::from_kelvin(Two::seed(under.kelvin(), 1));
  const Two heat =
      gap_exchange(Temperature<Two>::from_kelvin(Two::seed(water.kelvin().value, 0)), both, lid.gap).heat.si();
  const T lid_by_water = heat.slope[0] / (upward - heat.slope[1]);
  return Flux<Dual<W, T>>(chain(water.kelvin(), -heat.value, -(heat.slope[0] + heat.slope[1] * lid_by_water)));
}

/// Conductance from the water to the outer face of a raft of foam: water film and d/k. EPS of 30 mm: 0.86 m2 K/W.
inline Conductance<> raft_to_skin(Length<> thickness, Conductivity<> foam = Conductivity<>(0.035)) {
  const ThermalResistance<> layer = layer_resistance(thickness, foam);
  return water_to_skin(std::span(&layer, 1));
}

}  // namespace leat::science
