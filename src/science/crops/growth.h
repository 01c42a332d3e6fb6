// Growth of any crop from light and warmth: thermal time sets the pace, light the limit.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/fish/ramp.h"

namespace leat::science {

/// Dry mass per ground area and per time.
inline constexpr Dimension areal_mass_rate_dimension{.length = -2, .mass = 1, .time = -1};
template <class N = double>
using ArealMass = Quantity<dim::areal_mass, N>;
template <class N = double>
using ArealMassRate = Quantity<areal_mass_rate_dimension, N>;
/// Dry mass made per light energy intercepted.
inline constexpr Dimension light_use_dimension{.length = -2, .time = 2};
template <class N = double>
using LightUse = Quantity<light_use_dimension, N>;

inline constexpr ArealMass<> gram_per_square_metre{1e-3};
inline constexpr ArealMassRate<> gram_per_square_metre_day{1e-3 / 86400.0};
inline constexpr LightUse<> gram_per_megajoule{1e-9};

/// Temperatures at which a crop starts, is at its best, and fails.
struct CropTemperatures {
  Temperature<> base, best_low, best_high, fail;
};

/// Temperature above the base that counts for development, held at the crop's best: the rate of thermal time.
///
///   T - base, held within 0 and best - base; corners rounded over 0.5 °C
///
/// air      temperature at the leaves
/// returns  degrees; integrate over the day's curve, not at its mean
/// source   common rule of degree-days with an upper cutoff
template <class N>
TemperatureDifference<N> developmental_temperature(Temperature<N> air, const CropTemperatures& crop) {
  constexpr double h = 0.5;
  const N above = air.celsius() - crop.base.celsius();
  const double top = (crop.best_high - crop.base).si();
  return TemperatureDifference<N>(rounded_ramp(above, h) - rounded_ramp(N(above - top), h));
}

/// Share of full activity at a temperature: 0 at the base and below, 1 over the best range, 0 where the crop fails.
///
///   two cubics, level at their ends
///
/// source   shape ours
template <class N>
Number<N> crop_activity(Temperature<N> air, const CropTemperatures& crop) {
  const N t = air.celsius();
  const N waking = smooth_step(t, crop.base.celsius(), crop.best_low.celsius());
  const N failing = smooth_step(t, crop.best_high.celsius(), crop.fail.celsius());
  return Number<N>(waking * (1.0 - failing));
}

/// Relative growth rate of young plants.
///
///   r20 2^((T - 20) / 10)
///
/// air      temperature at the leaves         5 to 28 °C
/// at_20    rate at 20 °C                     0.15 to 0.30 1/d
/// beyond   keeps rising: multiply by the crop's activity
/// source   common practice
template <class N>
Frequency<N> relative_growth_rate(Temperature<N> air, Frequency<> at_20) {
  using std::exp;
  constexpr double ln2 = 0.69314718055994531;
  return Frequency<N>(at_20.si() * exp(N(ln2 / 10.0 * (air.celsius() - 20.0))));
}

/// Growth of a closed stand: light intercepted times light use.
///
/// par      photosynthetically active radiation on the bed     W/m2, about 0.45 of global
/// use      dry mass per energy                                2.5 to 3.5 g/MJ
/// source   common practice for C3 leaf crops
template <class N>
ArealMassRate<N> closed_stand_growth(Flux<N> par, LightUse<> use) {
  return ArealMassRate<N>(par.si() * use.si());
}

/// Dry mass of an expolinear crop at a time.
///
///   W = (c / r) ln(1 + exp(r (t - tb)))
///
/// linear     c, growth of the closed stand
/// relative   r, relative growth rate of the open one
/// since      t - tb, time since the two phases met; negative before
/// source     Goudriaan & Monteith 1990
template <class N>
ArealMass<N> dry_mass_expolinear(ArealMassRate<N> linear, Frequency<N> relative, Duration<N> since) {
  using std::exp;
  using std::fabs;
  using std::log;
  const N x = relative.si() * since.si();
  // ln(1 + e^x) without overflow: max(x, 0) + ln(1 + e^-|x|)
  const N soft = positive_part(x) + log(N(1.0 + exp(N(-fabs(x)))));
  return ArealMass<N>(linear.si() / relative.si() * soft);
}

/// The same as a rate, so that light and warmth may change on the way.
///
///   dW/dt = c (1 - exp(-r W / c))        r W while small, c when closed
///
/// dry      dry mass per ground area
/// returns  0 in the dark, whatever the warmth
/// source   derivative of Goudriaan & Monteith 1990, the time eliminated
template <class N>
ArealMassRate<N> growth_rate_expolinear(ArealMass<N> dry, ArealMassRate<N> linear, Frequency<N> relative) {
  using std::exp;
  constexpr double dark = 1e-15;  // kg/m2/s; a thousandth of the faintest dusk's growth
  const N c = linear.si() + dark;
  return ArealMassRate<N>(linear.si() * (1.0 - exp(N(-relative.si() * dry.si() / c))));
}

/// Growth of a crop in the bed: expolinear, both rates taken by the light and the temperature of the moment.
///
/// dry      dry mass per ground area
/// air      temperature at the leaves
/// par      photosynthetically active radiation on the bed
/// crop     its temperatures
/// use      dry mass per light energy          3 g/MJ
/// at_20    relative growth rate at 20 °C      0.25 1/d
/// returns  dry mass per area and time, never negative (night respiration is in the light use)
/// error    a third: varieties, spacing and wind differ by as much
template <class N>
ArealMassRate<N> crop_growth_rate(ArealMass<N> dry, Temperature<N> air, Flux<N> par, const CropTemperatures& crop,
                                  LightUse<> use = 3.0 * gram_per_megajoule,
                                  Frequency<> at_20 = Frequency<>(0.25 / 86400.0)) {
  const Number<N> active = crop_activity(air, crop);
  const ArealMassRate<N> linear(closed_stand_growth(par, use).si() * active.si());
  const Frequency<N> relative(relative_growth_rate(air, at_20).si() * active.si());
  return growth_rate_expolinear(dry, linear, relative);
}

/// Share of light that a leaf canopy stops, by its dry mass.
///
///   1 - exp(-k a W)        k extinction, a leaf area per dry mass
///
/// extinction   0.9 for flat leaves, 0.3 for upright ones
/// leaf_area    0.075 m2/g for lettuce
/// source       Van Henten 1994
template <class N>
Number<N> ground_cover(ArealMass<N> dry, double extinction = 0.9, double leaf_area_m2_per_g = 0.075) {
  using std::exp;
  return Number<N>(1.0 - exp(N(-extinction * leaf_area_m2_per_g * 1000.0 * dry.si())));
}

}  // namespace leat::science
