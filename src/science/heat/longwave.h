// Long-wave radiation of sky and surfaces.
#pragma once

#include <algorithm>
#include <cmath>

#include "base/units/quantity.h"
#include "science/heat/smooth.h"
#include "science/heat/vapour.h"

namespace leat::science {

inline constexpr double stefan_boltzmann = 5.670374e-8;  ///< W m^-2 K^-4
inline constexpr double water_emissivity = 0.97;

/// Radiation of a surface: eps sigma T^4.
template <class N>
Flux<N> outgoing_longwave(Temperature<N> surface, double emissivity = water_emissivity) {
  const N k2 = surface.kelvin() * surface.kelvin();
  return Flux<N>(emissivity * stefan_boltzmann * k2 * k2);
}

/// Radiation exchanged per kelvin between near temperatures: 4 eps sigma T^3, about 5 W/m2/K.
template <class N>
Conductance<N> radiative_conductance(Temperature<N> mean, double emissivity) {
  const N k = mean.kelvin();
  return Conductance<N>(4.0 * emissivity * stefan_boltzmann * k * k * k);
}

/// Emissivity of a cloudless sky as seen from screen height: of the radiation of a black body at air temperature.
///
///   eps = 1.24 (e/T)^(1/7)     e in hPa, T in K
///
/// air      -10 to 40 °C
/// vapour   0.2 to 4 kPa
/// error    with Crawford-Duchon cloud, +4 and rms 20 W/m2 over a year at 45 N; 29 low on a cold dry high day
/// beyond   use Prata above 1500 m and below freezing
/// source   Brutsaert 1975
template <class N>
Number<N> sky_emissivity_brutsaert(Temperature<N> air, Pressure<Same<N>> vapour) {
  using std::pow;
  return Number<N>(1.24 * pow(N(0.01 * vapour.si() / air.kelvin()), 1.0 / 7.0));
}

/// eps = 1 - (1 + w) exp(-sqrt(1.2 + 3 w)),  w = 465 e/T     e in kPa; good in the cold, the dry and the high.
/// source   Prata 1996; remembered
template <class N>
Number<N> sky_emissivity_prata(Temperature<N> air, Pressure<Same<N>> vapour) {
  using std::exp;
  using std::sqrt;
  const N w = 0.465 * vapour.si() / air.kelvin();
  return Number<N>(1.0 - (1.0 + w) * exp(-sqrt(N(1.2 + 3.0 * w))));
}

/// eps = 0.52 + 0.065 sqrt(e)     e in hPa
/// source   Brunt 1932; remembered
template <class N>
Number<N> sky_emissivity_brunt(Pressure<N> vapour) {
  using std::sqrt;
  return Number<N>(0.52 + 0.065 * sqrt(N(0.01 * vapour.si())));
}

/// eps = 9.365e-6 T^2     T in K
/// source   Swinbank 1963
template <class N>
Number<N> sky_emissivity_swinbank(Temperature<N> air) {
  return Number<N>(9.365e-6 * air.kelvin() * air.kelvin());
}

/// eps = 1 - 0.261 exp(-7.77e-4 t^2)     t in °C
/// source   Idso and Jackson 1969
template <class N>
Number<N> sky_emissivity_idso_jackson(Temperature<N> air) {
  using std::exp;
  const N t_c = air.celsius();
  return Number<N>(1.0 - 0.261 * exp(-7.77e-4 * t_c * t_c));
}

/// eps = 0.711 + 0.0056 Td + 7.3e-5 Td^2     Td in °C
/// source   Berdahl and Martin 1984; remembered
template <class N>
Number<N> sky_emissivity_berdahl_martin(Temperature<N> dew_point) {
  const N t_c = dew_point.celsius();
  return Number<N>(0.711 + 0.0056 * t_c + 7.3e-5 * t_c * t_c);
}

/// Emissivity under cloud: the covered share shines as a black body.
///
///   eps = c + (1 - c) eps0
///
/// cloud    1 - Rs/Rso of the day       0 to 1
/// source   Crawford and Duchon 1999; remembered
template <class N>
Number<N> sky_emissivity_crawford_duchon(Number<N> clear, Number<Same<N>> cloud) {
  return Number<N>(cloud.si() + (1.0 - cloud.si()) * clear.si());
}

/// The same as (1 + 0.22 c^2.75) eps0.
/// source   Maykut and Church 1973; remembered
template <class N>
Number<N> sky_emissivity_maykut_church(Number<N> clear, Number<> cloud) {
  return Number<N>((1.0 + 0.22 * std::pow(cloud.si(), 2.75)) * clear.si());
}

/// The same as (1 + 0.17 c^2) eps0.
/// source   Tennessee Valley Authority 1972
template <class N>
Number<N> sky_emissivity_tva(Number<N> clear, Number<> cloud) {
  return Number<N>((1.0 + 0.17 * cloud.si() * cloud.si()) * clear.si());
}

/// Share of the sky's window closed by cloud, from the day's radiation: 1 - Rs/Rso, held within 0 and 1.
/// source   Crawford and Duchon 1999
inline Number<> cloud_crawford_duchon(Flux<> global, Flux<> clear) {
  const double ratio = clear.si() > 0.0 ? global.si() / clear.si() : 0.5;
  return Number<>(std::clamp(1.0 - ratio, 0.0, 1.0));
}

/// Cloudiness from the day's radiation: 1.1 - K up to K = 0.9, 2 (1 - K) above, K = Rs/Rso.
/// source   McJannet et al. 2008, as in McMahon et al. 2013
inline Number<> cloud_mcjannet(Flux<> global, Flux<> clear) {
  const double k = clear.si() > 0.0 ? global.si() / clear.si() : 0.5;
  return Number<>(std::clamp(k <= 0.9 ? 1.1 - k : 2.0 * (1.0 - k), 0.0, 1.0));
}

/// Radiation down from the sky: eps sigma T^4.
template <class N>
Flux<N> incoming_longwave(Temperature<N> air, Number<Same<N>> sky_emissivity) {
  return Flux<N>(outgoing_longwave(air, 1.0).si() * sky_emissivity.si());
}

/// The default sky: Brutsaert, Prata above 1500 m or below freezing (blended over 2 K and 200 m), cloud by Crawford and
/// Duchon.
template <class N>
Flux<N> sky_longwave(Temperature<N> air, Pressure<Same<N>> vapour, Number<Same<N>> cloud, Length<> altitude = {}) {
  using std::tanh;
  const double high = 0.5 + 0.5 * std::tanh((altitude.si() - 1500.0) / 100.0);
  const N cold = 0.5 - 0.5 * tanh(N(air.celsius()));
  const N prata = high + (1.0 - high) * cold;
  const N clear =
      prata * sky_emissivity_prata(air, vapour).si() + (1.0 - prata) * sky_emissivity_brutsaert(air, vapour).si();
  return incoming_longwave(air, sky_emissivity_crawford_duchon(Number<N>(clear), cloud));
}

/// Long-wave on an upright wall: half of what it sees is sky, half is ground and neighbours at air temperature.
template <class N>
Flux<N> longwave_on_upright_wall(Flux<N> sky, Temperature<Same<N>> air) {
  return (sky + outgoing_longwave(Temperature<N>(air), 1.0)) * 0.5;
}

/// Temperature of a black body that shines as the sky does: T eps^(1/4).
template <class N>
Temperature<N> sky_temperature(Temperature<N> air, Number<Same<N>> sky_emissivity) {
  using std::pow;
  return Temperature<N>::from_kelvin(air.kelvin() * pow(N(sky_emissivity.si()), 0.25));
}

}  // namespace leat::science
