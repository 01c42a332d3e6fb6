#pragma once

#include "base/units/quantity.h"
#include "science/water/blend.h"

namespace leat::science {

/// pKa of ammonium at zero ionic strength.
///
///   pKa = 0.09018 + 2729.92 / T        T in kelvin
///
/// water    temperature of the water     0 to 50 °C
/// returns  pKa                          9.0 to 10.1
/// source   Emerson et al. 1975
template <class N>
Number<N> ammonium_pka(Temperature<N> water) {
  return Number<N>(0.09018 + 2729.92 / water.kelvin());
}

/// Share of total ammonia nitrogen that is un-ionised, in fresh water.
///
///   f = 1 / (1 + 10^(pKa - pH))
///
/// water    temperature of the water     0 to 50 °C
/// acidity  pH                           6 to 10
/// returns  NH3-N / TAN                  0 to 1
/// error    within 0.0001 of the published table (UF/IFAS FA16), 6 to 30 °C
/// beyond   still evaluates; a run records a caveat
/// source   Emerson et al. 1975
template <class N>
Number<N> unionised_ammonia_fraction(Temperature<N> water, Number<N> acidity) {
  return Number<N>(1.0 / (1.0 + ten_to(N(ammonium_pka(water).si() - acidity.si()))));
}

}  // namespace leat::science
