// Calcium and magnesium hold part of the carbonate: pH and the calcite index fall in hard water.
#pragma once

#include "science/carbonate/acidity.h"

namespace leat::science {

/// log K of M + HCO3 = MHCO3 and M + CO3 = MCO3 at zero ionic strength.
/// source   Plummer & Busenberg 1982 (calcium); wateq4f.dat of PHREEQC (magnesium)
inline constexpr EquilibriumFit calcium_bicarbonate_pair{1209.12, 0.31294, -34765.05, -478.782, 0.0};
inline constexpr EquilibriumFit calcium_carbonate_pair{-1228.732, -0.299444, 35512.75, 485.818, 0.0};
inline constexpr EquilibriumFit magnesium_bicarbonate_pair{-59.215, 0.0, 2537.455, 20.92298, 0.0};
inline constexpr EquilibriumFit magnesium_carbonate_pair{0.9910, 0.00667, 0.0, 0.0, 0.0};

/// Strength of the pairs between concentrations, m3/mol.
template <class N = double>
struct PairConstants {
  N calcium_bicarbonate, calcium_carbonate, magnesium_bicarbonate, magnesium_carbonate;
};

template <class N>
PairConstants<N> pair_constants(Temperature<N> water, Concentration<Same<N>> ionic_strength) {
  const N g = log_activity_davies(water, ionic_strength).si();
  // Charges 2 and 1 make 1: g1 g2 / g1 = g2. Charges 2 and 2 make 0: g2 g2.
  const auto between = [&](const EquilibriumFit& fit, double gammas) {
    return ten_to(N(fit.at(water).si() + gammas * g - 3.0));
  };
  return {between(calcium_bicarbonate_pair, 4.0), between(calcium_carbonate_pair, 8.0),
          between(magnesium_bicarbonate_pair, 4.0), between(magnesium_carbonate_pair, 8.0)};
}

/// The constants of a water as its free calcium and magnesium change them: bicarbonate and carbonate then count with
/// their pairs. In rates the totals may stand for the free ions (pH within 0.005).
template <class N>
MixedConstants<N> with_ion_pairs(MixedConstants<N> k, const PairConstants<N>& pair, Concentration<N> calcium,
                                 Concentration<N> magnesium) {
  const N bicarbonate = 1.0 + pair.calcium_bicarbonate * calcium.si() + pair.magnesium_bicarbonate * magnesium.si();
  const N carbonate = 1.0 + pair.calcium_carbonate * calcium.si() + pair.magnesium_carbonate * magnesium.si();
  k.carbonic1 = k.carbonic1 * bicarbonate;
  k.carbonic2 = k.carbonic2 * carbonate / bicarbonate;
  return k;
}

/// A hard water solved with its pairs.
struct PairedWater {
  Number<> acidity;
  Concentration<> calcium_free, magnesium_free;
  Concentration<> carbonate_free;
};

/// pH and free ions of a water with calcium and magnesium.
///
/// totals   as for `acidity_closed`; alkalinity and carbon include the pairs
/// error    0.005 pH and 0.01 of the calcite index against PHREEQC
PairedWater paired_water(Temperature<> water, Concentration<> ionic_strength, const AcidBaseTotals<>& totals,
                         Concentration<> calcium, Concentration<> magnesium);

}  // namespace leat::science
