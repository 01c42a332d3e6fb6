// What the energy of a ration does: keep the fish alive, warm the water, be excreted, become flesh. All powers are of
// one fish.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/fish/ramp.h"

namespace leat::science {

inline constexpr Power<> kilojoule_per_day{1000.0 / 86400.0};
/// Energy held per mass of live fish or feed, J/kg.
inline constexpr Dimension energy_density_dimension{.length = 2, .time = -2};
template <class N = double>
using EnergyDensity = Quantity<energy_density_dimension, N>;
inline constexpr EnergyDensity<> kilojoule_per_gram{1e6};

/// Heat that a fasting trout gives off.
///
///   HeE = (-0.01 + 3.26 T - 0.05 T^2) W^0.824        kJ/d, T in °C, W in kg
///
/// water    temperature of the water          5 to 20 °C
/// fish     mass of one fish                  5 g to 2 kg
/// returns  power
/// beyond   evaluates; from 1 °C down it passes into that of half a degree, for a fish in ice water still lives: the
///          parabola alone would be negative there, and fish would grow without food
/// source   Cho 1991; Bureau, Kaushik & Cho 2002; what holds in ice water is ours
template <class N>
Power<N> fasting_heat_cho(Temperature<N> water, Mass<N> fish) {
  using std::pow;
  constexpr double in_ice_water = -0.01 + 3.26 * 0.5 - 0.05 * 0.25;
  const N t = water.celsius();
  const N as_said = smooth_step(t, 0.0, 1.0);
  const N kj_per_day =
      (as_said * (-0.01 + 3.26 * t - 0.05 * t * t) + (1.0 - as_said) * in_ice_water) * pow(fish.si(), 0.824);
  return Power<N>(kj_per_day * kilojoule_per_day.si());
}

/// Shares of the scheme that turns digestible energy into retained energy.
struct EnergyShares {
  double increment = 0.17;  ///< heat of feeding over (retained + fasting heat)
  double excreted = 0.08;   ///< gills and urine over everything else
};

/// Digestible energy as it is spent.
template <class N>
struct EnergyBudget {
  Power<N> digested, fasting_heat, retained, increment, excreted;
};

/// Digestible energy that a fish needs to retain a given energy.
///
///   HiE = 0.17 (RE + HeE),   UE + ZE = 0.08 (RE + HeE + HiE),   DE = RE + HeE + HiE + UE + ZE
///
/// retained, fasting_heat   powers of one fish
/// shares                   0.17; 0.06 to 0.09
/// source                   Bureau, Kaushik & Cho 2002
template <class N>
EnergyBudget<N> energy_need_bureau(Power<N> retained, Power<N> fasting_heat, const EnergyShares& shares = {}) {
  const Power<N> kept = retained + fasting_heat;
  const Power<N> increment = shares.increment * kept;
  const Power<N> excreted = shares.excreted * (kept + increment);
  return {kept + increment + excreted, fasting_heat, retained, increment, excreted};
}

/// The same read the other way: what is retained of the digestible energy eaten. Negative when the ration is below
/// maintenance: the fish burns flesh.
template <class N>
EnergyBudget<N> energy_budget_bureau(Power<N> digested, Power<N> fasting_heat, const EnergyShares& shares = {}) {
  const Power<N> kept = digested / ((1.0 + shares.increment) * (1.0 + shares.excreted));
  const Power<N> increment = shares.increment * kept;
  const Power<N> excreted = shares.excreted * (kept + increment);
  return {digested, fasting_heat, kept - fasting_heat, increment, excreted};
}

/// Digestible energy need of a fish by maintenance and cost of growth.
///
///   DE = M W^b + c RE        W in kg
///
/// maintenance   M, power of a fish of 1 kg
/// exponent      b                                 0.8 to 0.86
/// cost          c, energy eaten per energy gained (1 / efficiency)
/// source        form: Amin et al. 2016 (brook trout), Glencross & Bermudes (barramundi)
template <class N>
Power<N> energy_need_factorial(Mass<N> fish, Power<> maintenance, double exponent, Power<N> retained, double cost) {
  using std::pow;
  return Power<N>(maintenance.si() * pow(fish.si(), exponent) + cost * retained.si());
}

/// Protein need in the same form: M W^b + c gain, in mass per time; W in kg.
///
/// source   Amin et al. 2016: brook trout at 15 °C 0.10 g per kg^0.69 and 2.14 g per g
template <class N>
MassRate<N> protein_need_factorial(Mass<N> fish, MassRate<> maintenance, double exponent, MassRate<N> gain,
                                   double cost) {
  using std::pow;
  return MassRate<N>(maintenance.si() * pow(fish.si(), exponent) + cost * gain.si());
}

/// Exponent of mass in a specific rate, from two sizes: ln(r2 / r1) / ln(W2 / W1).
inline Number<> allometric_exponent(Mass<> small, double rate_small, Mass<> large, double rate_large) {
  return Number<>(std::log(rate_large / rate_small) / std::log(large.si() / small.si()));
}

/// Energy in live mass gained, by size of a trout.
///
///   6 kJ/g up to 10 g, rising with the logarithm of mass to 8.75 kJ/g at 300 g, level from there
///
/// error    0.5 kJ/g: fat fish on rich feed hold more
/// source   6 at 10 g and 8.5 to 9 from 300 g: Bureau, Kaushik & Cho 2002; the line between is ours
template <class N>
EnergyDensity<N> energy_of_gain(Mass<N> fish) {
  using std::log;
  const N position = log(N(fish.in(units::gram) / 10.0)) / std::log(30.0);
  const N risen = rounded_ramp(position, 0.1) - rounded_ramp(N(position - 1.0), 0.1);
  return EnergyDensity<N>((6.0 + 2.75 * risen) * kilojoule_per_gram.si());
}

/// Fasting heat charged per mass of live fish lost below maintenance.
///
/// Starved trout lose about 13 kJ for each gram of live mass, water taking the place of fat, and live at about 0.55 of
/// the heat of fed fish; against fasting heat unreduced, that is 24 kJ/g. Gives 0.2 %/d for 100 g at 12 °C.
///
/// source   derived from Weatherley & Gill 1981 (0.37 %/d over 77 d, 6 g, 12 °C) and Sumpter et al. (0.17 %/d over 28
/// d)
inline constexpr double loss_kj_per_g = 24.0;

/// Live mass gained per time by a trout from the energy it retains; a loss when that is negative, never held at zero.
///
///   dW/dt = max(RE, 0) / e(W) + min(RE, 0) / 24 kJ/g
///
/// The corner at zero is left sharp: the rate is continuous, and both its sides are wanted as they are.
template <class N>
MassRate<N> gain_from_retained_energy(Power<N> retained, Mass<N> fish) {
  const N up = positive_part(retained.si()), down = positive_part(N(-retained.si()));
  return MassRate<N>(up / energy_of_gain(fish).si() - down / (loss_kj_per_g * kilojoule_per_gram.si()));
}

/// Live mass gained per time by one trout from the ration it has eaten.
///
/// eaten    feed eaten per time
/// feed     digestible energy of the feed     16 to 19 kJ/g
/// returns  gain, negative below maintenance
/// source   Bureau, Kaushik & Cho 2002
template <class N>
MassRate<N> gain_from_ration(MassRate<N> eaten, EnergyDensity<> feed, Temperature<N> water, Mass<N> fish) {
  const Power<N> digested(eaten.si() * feed.si());
  return gain_from_retained_energy(energy_budget_bureau(digested, fasting_heat_cho(water, fish)).retained, fish);
}

}  // namespace leat::science
