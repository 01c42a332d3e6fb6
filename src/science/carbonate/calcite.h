// Whether limestone dissolves or scale forms, and how fast.
#pragma once

#include <cmath>

#include "science/carbonate/ion_pairs.h"

namespace leat::science {

/// log10 of ion activities over the solubility product of calcite.
///
/// calcium, carbonate  free ions
/// returns  below 0 limestone dissolves, above 0 scale can form
template <class N>
Number<N> calcite_index(Temperature<N> water, Concentration<Same<N>> ionic_strength, Concentration<Same<N>> calcium,
                        Concentration<Same<N>> carbonate) {
  using std::log10;
  const N g = log_activity_davies(water, ionic_strength).si();
  return Number<N>(log10(N(1e-6 * calcium.si() * carbonate.si())) + 8.0 * g - calcite_log_ksp(water).si());
}

/// Calcite index of a water from its totals, without ion pairs: 0.06 to 0.10 too high in hard water.
Number<> calcite_index_without_pairs(Temperature<> water, Concentration<> ionic_strength,
                                     const AcidBaseTotals<>& totals, Concentration<> calcium);
/// Calcite index of a water from its totals.
Number<> calcite_index_with_pairs(Temperature<> water, Concentration<> ionic_strength, const AcidBaseTotals<>& totals,
                                  Concentration<> calcium, Concentration<> magnesium);

/// Calcite that dissolves per area (negative: that forms).
///
///   R = (k1 aH + k2 aCO2 + k3)(1 - 10^(2 SI / 3))     mmol/cm2/s, activities in mol/L
///   log k1 = 0.198 - 444/T, log k2 = 2.84 - 2177/T, log k3 = -5.86 - 317/T (-1.10 - 1737/T above 25 °C)
///
/// water    temperature               5 to 48 °C
/// error    clean crystal; film and fines change it by factors. Dolomite is 10 to 100 times slower.
/// source   Plummer, Wigley & Parkhurst 1978, constants as in phreeqc.dat
template <class N>
ArealAmountRate<N> calcite_dissolution(Temperature<N> water, Number<Same<N>> acidity,
                                       Concentration<Same<N>> carbon_dioxide, Number<Same<N>> calcite_index) {
  const N x = 1.0 / water.kelvin();
  const N cool = ten_to(N(-5.86 - 317.0 * x)), warm_over_cool = ten_to(N(4.76 - 1420.0 * x));
  const N plain_water = cool * (1.0 + smooth_positive_part(N(warm_over_cool - 1.0), 0.01));
  const N far = ten_to(N(0.198 - 444.0 * x - acidity.si())) +
                ten_to(N(2.84 - 2177.0 * x)) * carbon_dioxide.si() * 1e-3 + plain_water;
  return ArealAmountRate<N>(10.0 * far * (1.0 - ten_to(N(calcite_index.si() * (2.0 / 3.0)))));
}

/// Water in balance with calcite and with carbon dioxide of the air.
struct CalciteWater {
  Number<> acidity;
  Concentration<> alkalinity, calcium, ionic_strength;
};
/// source   electroneutrality 2 Ca + H = HCO3 + 2 CO3 + OH with Ca from the solubility product; no ion pairs
CalciteWater calcite_equilibrium_open(Temperature<> water, Pressure<> carbon_dioxide);

}  // namespace leat::science
