// Oxygen that fish take up, and the carbon dioxide they give back. Rates are mass of gas per mass of fish and time.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "numerics/dual.h"
#include "science/fish/ramp.h"

namespace leat::science {

inline constexpr Frequency<> mg_per_kg_hour{1e-6 / 3600.0};

/// One branch of Liao's law: pounds of oxygen per 100 pounds of fish and day = scale T^power W^mass_power, T in °F, W
/// in pounds.
struct LiaoBranch {
  double scale, power;
};
struct LiaoSpecies {
  LiaoBranch cold, warm;  ///< up to 50 °F, above
  double mass_power;
};
inline constexpr LiaoSpecies liao_trout{{1.90e-6, 3.130}, {3.05e-4, 1.855}, -0.138};
inline constexpr LiaoSpecies liao_salmon{{7.20e-7, 3.200}, {4.90e-5, 2.120}, -0.194};

/// One branch, at a temperature in °F and a mass in pounds, in pounds per 100 pounds and day.
template <class N>
N liao_branch(const LiaoBranch& branch, double mass_power, const N& t_f, const N& w_lb) {
  using std::pow;
  return branch.scale * pow(t_f, branch.power) * pow(w_lb, mass_power);
}

/// Oxygen uptake of fed salmonids.
///
///   O2 = K T^a W^b        lb per 100 lb and day; T in °F, W in lb; K, a change at 50 °F
///
/// water    temperature of the water          1 to 20 °C
/// fish     mass of one fish                  1 g to 2 kg
/// species  the constants
/// returns  mass of oxygen per mass and time
/// error    within 11 % of an independent fit for juveniles of 20 to 100 g at 5 to 18 °C; 12 to 28 % high at 20 °C
/// beyond   evaluates and keeps rising, which fish do not; the two branches are 9.5 % apart at 50 °F
/// source   Liao 1971; the constants are remembered from it, not seen
template <class N>
Frequency<N> oxygen_uptake_liao(Temperature<N> water, Mass<N> fish, const LiaoSpecies& species) {
  const N t_f = water.celsius() * 1.8 + 32.0;
  const N w_lb = fish.si() / 0.45359237;
  // Ten degrees is fifty degrees to the last digit for whoever writes it; the sum above may end a digit higher.
  const LiaoBranch& branch = plain(t_f) <= 50.0 + 1e-9 ? species.cold : species.warm;
  const N pounds = liao_branch(branch, species.mass_power, t_f, w_lb);
  return Frequency<N>(pounds / (100.0 * units::day.si()));
}

/// The same for rates: the branches blended from 48 to 52 °F, and the temperature held at 19.5 °C (rounded from 19 to
/// 20) because uptake stops rising there.
template <class N>
Frequency<N> oxygen_uptake_liao_blended(Temperature<N> water, Mass<N> fish, const LiaoSpecies& species) {
  const N t_c = rounded_smaller_of(N(water.celsius()), N(19.5), 0.5);
  const N t_f = larger_of(t_c, N(0.0)) * 1.8 + 32.0;
  const N w_lb = fish.si() / 0.45359237;
  const N warm = smooth_step(t_f, 48.0, 52.0);
  const N pounds = liao_branch(species.cold, species.mass_power, t_f, w_lb) * (1.0 - warm) +
                   liao_branch(species.warm, species.mass_power, t_f, w_lb) * warm;
  return Frequency<N>(pounds / (100.0 * units::day.si()));
}

/// Constants of a bioenergetic respiration law with an optimum.
struct RespirationLaw {
  double scale;       ///< g O2 per g and day of a fish of 1 g at the optimum
  double mass_power;  ///< of the specific rate
  double q10_like;    ///< slope of the rise below the optimum
  double optimum_c;   ///< °C of the highest rate
  double maximum_c;   ///< °C at which it ends
  double activity;    ///< multiple of the resting rate
};
inline constexpr RespirationLaw respiration_trout_juvenile{0.01166, -0.0558, 2.792, 18.0, 25.5, 1.0};
inline constexpr RespirationLaw respiration_trout_adult{0.013, -0.217, 2.2, 22.0, 26.0, 1.3};

/// Oxygen uptake by mass and a bell of temperature: a second opinion beside Liao's.
///
///   R = a W^b V^X exp(X (1 - V)) A,   V = (Tm - T) / (Tm - To),   X = Z^2 (1 + sqrt(1 + 40 / Y))^2 / 400,
///   Z = ln Q (Tm - To),   Y = ln Q (Tm - To + 2)        g per g and day, W in g
///
/// water    temperature of the water          1 °C to the law's maximum
/// fish     mass of one fish                  1 g to 1 kg
/// returns  mass of oxygen per mass and time; 0 at the maximum
/// source   constants: Tyler & Bolduc 2008 (juvenile), Railsback & Rose 1999 (adult)
template <class N>
Frequency<N> oxygen_uptake_bioenergetic(Temperature<N> water, Mass<N> fish, const RespirationLaw& law) {
  using std::exp;
  using std::log;
  using std::pow;
  const double span = law.maximum_c - law.optimum_c, slope = std::log(law.q10_like);
  const double z = slope * span, y = slope * (span + 2.0);
  const double x = z * z * std::pow(1.0 + std::sqrt(1.0 + 40.0 / y), 2) / 400.0;
  const N v = larger_of(N((law.maximum_c - water.celsius()) / span), N(1e-9));
  const N in_a_day =
      law.scale * law.activity * pow(fish.in(units::gram), law.mass_power) * pow(v, x) * exp(N(x * (1.0 - v)));
  return Frequency<N>(in_a_day / units::day.si());
}

/// Oxygen uptake of Nile tilapia: a fitted quadratic.
///
///   2014.45 + 2.75 W - 165.2 T + 0.007 W^2 + 3.93 T^2 - 0.21 W T        mg per kg and hour, W in g, T in °C
///
/// water    temperature of the water          24 to 32 °C
/// fish     mass of one fish                  20 to 200 g
/// returns  mass of oxygen per mass and time
/// beyond   still evaluates, and soon means nothing: hold both inputs inside before asking
/// source   oxygen model of a recirculating tilapia system, probably Khater et al. 2021, equation 4
template <class N>
Frequency<N> oxygen_uptake_tilapia(Temperature<N> water, Mass<N> fish) {
  const N t = water.celsius(), w = fish.in(units::gram);
  const N rate = 2014.45 + 2.75 * w - 165.2 * t + 0.007 * w * w + 3.93 * t * t - 0.21 * w * t;
  return Frequency<N>(rate * mg_per_kg_hour.si());
}

/// Heat released per mass of oxygen used by fish.
inline constexpr double oxycalorific_kj_per_g = 13.56;

/// Oxygen used for the energy that fish take in and neither keep nor excrete.
///
///   O2 = (digested - retained - excreted) / 13.56 kJ/g
///
/// digested, retained, excreted   energies per time, of one fish or of all
/// returns  mass of oxygen per time
/// error    puts trout of 100 g at 10 °C at 0.60 to 0.75 kg per kg of feed, where measured means are near 0.5
/// source   Elliott & Davison 1975 (13.56 kJ/g)
template <class N>
MassRate<N> oxygen_from_energy(Power<N> digested, Power<N> retained, Power<N> excreted) {
  const N joule_per_kg = N(oxycalorific_kj_per_g * 1e6);
  return MassRate<N>((digested - retained - excreted).si() / joule_per_kg);
}

/// The larger of two estimates: what equipment must supply. Not the expected mean.
template <class Q>
Q oxygen_demand_for_sizing(Q one, Q other) {
  return one < other ? other : one;
}

/// Carbon dioxide given off with oxygen taken up.
///
///   CO2 = RQ x 44.01 / 31.998 x O2
///
/// quotient   moles of CO2 per mole of O2     0.7 (fat) to 1.0 (carbohydrate); 0.8 to 0.9 for fish feed
/// source     stoichiometry
template <class Q, class N>
Q carbon_dioxide_from_oxygen(Q oxygen, Number<N> quotient) {
  return Q(oxygen.si() * quotient.si() * (44.01 / 31.998));
}

}  // namespace leat::science
