// Size and passage of a filter.
#pragma once

#include <algorithm>
#include <cmath>

#include "science/nitrogen/nitrification.h"

namespace leat::science {

/// Area per volume.
using SpecificArea = Quantity<dim::area - dim::volume>;

/// Area of grains per volume of bed: 6 (1 - porosity) / d.
///
/// diameter of grains taken as spheres
/// returns  240 m2/m3 for 15 mm gravel; 0.5 to 0.8 of it is wetted and counts
inline SpecificArea packed_bed_area(Length<> diameter, Number<> porosity) {
  return 6.0 * (1.0 - porosity.si()) / diameter.si() * SpecificArea(1.0);
}

/// Concentration after a bed in plug flow whose film takes ammonia in proportion: C exp(-k A / Q).
///
/// rate     k                         0.3 to 0.6 m/d below 1 mg/L N (common practice)
/// source   Watten & Sibrell 2006
template <class N>
Concentration<N> plug_flow_outlet(Concentration<N> inlet, Velocity<Same<N>> rate, Area<Same<N>> film,
                                  Flow<Same<N>> water) {
  using std::exp;
  return Concentration<N>(inlet.si() * exp(N(-rate.si() * film.si() / water.si())));
}

/// Rate of a film by the plain formulas of its source: sharp minimum, one theta. For comparison with print.
///
///   R = R20 theta^(t-20) min(S/(K + S), O/(KO + O)) f
inline ArealAmountRate<> nitrification_rate_sharp(const FilmKinetics& film, Concentration<> nitrogen,
                                                  Concentration<> oxygen, Number<> temperature_factor,
                                                  Number<> factors) {
  const double s = nitrogen.si() / (film.half_nitrogen.si() + nitrogen.si());
  const double o = oxygen.si() / (film.half_oxygen.si() + oxygen.si());
  return std::min(s, o) * temperature_factor * factors * film.at_20c;
}

/// Nitrifiers against their best pH, below 7.2: 1 - 0.833 (7.2 - pH).
/// source   USEPA Nitrogen Control Manual 1993 (from memory)
inline Number<> nitrification_acidity_factor_epa(Number<> acidity) {
  return Number<>(std::max(0.0, 1.0 - 0.833 * std::max(0.0, 7.2 - acidity.si())));
}

/// Nitrifiers against plenty of oxygen: 1 - exp(-0.6 O), O in mg/L.
/// source   Chapra & Pelletier, QUAL2K; Zhang & Johnson 2016
template <class N>
Number<N> nitrification_oxygen_factor_exponential(Density<N> oxygen, double litre_per_milligram = 0.6) {
  using std::exp;
  return Number<N>(1.0 - exp(N(-litre_per_milligram * oxygen.si() * 1e3)));
}

}  // namespace leat::science
