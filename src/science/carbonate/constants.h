// Equilibrium constants of the weak acids and bases of fresh water, and the activity of ions.
#pragma once

#include <cmath>

#include "science/heat/smooth.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/blend.h"
#include "science/water/properties.h"
#include "science/water/substances.h"

namespace leat::science {

/// log K = a + b T + c/T + d log10 T + e/T^2     T in K
struct EquilibriumFit {
  double a, b, c, d, e;

  template <class N>
  N log_k(const N& kelvin, const N& per_kelvin, const N& log10_kelvin) const {
    return a + b * kelvin + d * log10_kelvin + per_kelvin * (c + e * per_kelvin);
  }
  template <class N>
  Number<N> at(Temperature<N> water) const {
    using std::log;
    const N t = water.kelvin();
    return Number<N>(log_k(t, N(1.0 / t), N(log(t) / ln10)));
  }
};

/// source   Plummer & Busenberg 1982; 0 to 90 °C; within 0.002 of Millero 1979 below 35 °C
inline constexpr EquilibriumFit carbonic_first{-356.3094, -0.06091964, 21834.37, 126.8339, -1684915.0};
inline constexpr EquilibriumFit carbonic_second{-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9};
inline constexpr EquilibriumFit calcite_solubility{-171.9065, -0.077993, 2839.319, 71.595, 0.0};
/// source   wateq4f.dat of PHREEQC; within 0.009 of Millero 1979
inline constexpr EquilibriumFit water_ionisation{-283.971, -0.05069842, 13323.0, 102.24447, -1119669.0};

/// -log10 of the first and second constant of carbonic acid (CO2 counted with H2CO3), at zero ionic strength.
/// water    temperature               0 to 50 °C
template <class N>
Number<N> carbonic_pk1(Temperature<N> water) {
  return -carbonic_first.at(water);
}
template <class N>
Number<N> carbonic_pk2(Temperature<N> water) {
  return -carbonic_second.at(water);
}
/// -log10 of the ion product of water.
template <class N>
Number<N> water_pkw(Temperature<N> water) {
  return -water_ionisation.at(water);
}
/// log10 of the solubility product of calcite.
template <class N>
Number<N> calcite_log_ksp(Temperature<N> water) {
  return calcite_solubility.at(water);
}

/// A constant known at 25 °C and the heat of its reaction: log K = log K25 - dH/(R ln 10) (1/T - 1/298.15).
struct VantHoff {
  double log_k25, kj_per_mol;

  template <class N>
  N log_k(const N& per_kelvin) const {
    return log_k25 - kj_per_mol * 1e3 / (8.314462618 * ln10) * (per_kelvin - 1.0 / 298.15);
  }
};

/// Phosphoric acid, each step a dissociation.
/// source   phreeqc.dat of PHREEQC 3
inline constexpr VantHoff phosphoric_first{-2.168, -8.81}, phosphoric_second{-7.207, 4.14},
    phosphoric_third{-12.346, 14.77};

/// Ka of nitrous acid is exp(this / T).
/// source   Anthonisen et al. 1976 (from memory); other compilations are 25 to 60 % off either way
inline constexpr double nitrous_acid_kelvin = -2300.0;

/// A of Debye and Hueckel's law: 1.82483e6 sqrt(rho) / (eps T)^1.5, rho in g/cm3.
/// returns  0.511 at 25 °C
template <class N>
Number<N> debye_huckel_a(Temperature<N> water) {
  using std::sqrt;
  const N eps_t = water_permittivity(water).si() * water.kelvin();
  return Number<N>(1.82483e6 * sqrt(N(water_density(water).si() * 1e-3)) / (eps_t * sqrt(eps_t)));
}

/// log10 of the activity coefficient of an ion of charge 1; charge z has z^2 times as much.
///
///   log g = -A (sqrt(I)/(1 + sqrt(I)) - 0.3 I)     I in mol/L
///
/// ionic_strength                     0 to 100 mol/m3
/// source   Davies 1962
/// beyond   1e-9 mol/L is added to I, so that the slope at zero stays finite
template <class N>
Number<N> log_activity_davies(Temperature<N> water, Concentration<Same<N>> ionic_strength) {
  using std::sqrt;
  const N i = ionic_strength.si() * 1e-3 + 1e-9;
  const N root = sqrt(i);
  return Number<N>(-debye_huckel_a(water).si() * (root / (1.0 + root) - 0.3 * i));
}

/// Constants between concentrations, with pH as activity: what the acid and base relations of one water share.
/// Concentrations in mol/m3, h = 1000 10^-pH.
template <class N = double>
struct MixedConstants {
  N carbonic1, carbonic2;                   ///< [HCO3] h / [CO2], [CO3] h / [HCO3]
  N water;                                  ///< [OH] h
  N proton;                                 ///< [H] / h
  N ammonium;                               ///< [NH3] h / [NH4]
  N nitrous;                                ///< [NO2] h / [HNO2]
  N phosphoric1, phosphoric2, phosphoric3;  ///< as the carbonic ones
};

/// The constants of a water at its temperature and ionic strength. Costly: once per water, not once per use.
///
///   K1' = K1/g1   K2' = K2 g1/g2   Kw' = Kw/g1   KN' = KN g1   Kp3' = Kp3 g2/g3   [H] = aH/g1
template <class N>
MixedConstants<N> mixed_constants(Temperature<N> water, Concentration<Same<N>> ionic_strength) {
  using std::exp;
  using std::log;
  const N t = water.kelvin(), x = 1.0 / t, log_t = log(t) / ln10;
  const N g = log_activity_davies(water, ionic_strength).si();
  const auto power = [](const N& log_k) { return ten_to(N(log_k + 3.0)); };  // mol/L to mol/m3
  MixedConstants<N> k;
  k.carbonic1 = power(carbonic_first.log_k(t, x, log_t) - g);
  k.carbonic2 = power(carbonic_second.log_k(t, x, log_t) - 3.0 * g);
  k.water = power(water_ionisation.log_k(t, x, log_t) - g + 3.0);
  k.proton = ten_to(N(-g));
  k.ammonium = power(-ammonium_pka(water).si() + g);
  k.nitrous = power(nitrous_acid_kelvin * x / ln10 - g);
  k.phosphoric1 = power(phosphoric_first.log_k(x) - g);
  k.phosphoric2 = power(phosphoric_second.log_k(x) - 3.0 * g);
  k.phosphoric3 = power(phosphoric_third.log_k(x) - 5.0 * g);
  return k;
}

}  // namespace leat::science
