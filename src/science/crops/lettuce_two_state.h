// Lettuce as stored and structural dry mass (Van Henten 1994).
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/crops/growth.h"
#include "science/fish/ramp.h"

namespace leat::science {

/// Constants of the two-state model, in the paper's grams.
struct LettuceTwoState {
  double growth = 5e-6;     ///< 1/s, largest relative structural growth at 20 °C
  double store_half = 1.0;  ///< weight of structure in store / (store + structure)
  double growth_q10 = 1.6;
  double light_use = 17e-6;       ///< g/J PAR at high CO2
  double compensation_20 = 40.0;  ///< ppm of CO2 at 20 °C
  double compensation_q10 = 2.0;
  double stomata = 0.005, boundary = 0.004;                        ///< conductances, m/s; copies disagree
  double ppm_density = 1.83e-3;                                    ///< g/m3 of CO2 per ppm
  double shoot_respiration = 3.47e-7, root_respiration = 1.16e-7;  ///< 1/s at 25 °C
  double respiration_q10 = 2.0;
  double extinction = 0.9;
  double leaf_area = 0.075;   ///< m2 per g of structural shoot
  double root_share = 0.07;   ///< of structure: 0.07 in soil, 0.15 in water
  double to_sugar = 0.68;     ///< assimilate per CO2
  double growth_yield = 0.8;  ///< structure per store spent
};

/// Q^((T - T0) / 10)
template <class N>
N q10_factor(Temperature<N> air, double q, double reference_c) {
  using std::exp;
  return exp(N(std::log(q) / 10.0 * (air.celsius() - reference_c)));
}

/// Carbon dioxide at which leaves gain nothing: 40 ppm x 2^((T - 20) / 10).
template <class N>
Number<N> compensation_two_state(Temperature<N> air, const LettuceTwoState& model = {}) {
  return Number<N>(model.compensation_20 * 1e-6 * q10_factor(air, model.compensation_q10, 20.0));
}

/// Dry assimilate per light: 17e-6 (C - G) / (C + 2 G) g/J of PAR.
template <class N>
LightUse<N> light_use_two_state(Temperature<N> air, Number<N> carbon, const LettuceTwoState& model = {}) {
  const N g = compensation_two_state(air, model).si(), c = carbon.si();
  return LightUse<N>(1e-3 * model.light_use * (c - g) / (c + 2.0 * g));
}

/// Carboxylation conductance.
///
///   -1.32e-5 T^2 + 5.94e-4 T - 2.64e-3        m/s, T in °C; 0 outside its roots, 5 and 40 °C
template <class N>
Velocity<N> carboxylation_two_state(Temperature<N> leaf) {
  const N t = leaf.celsius();
  return Velocity<N>(positive_part(N(-1.32e-5 * t * t + 5.94e-4 * t - 2.64e-3)));
}

/// Relative structural growth.
///
///   5e-6 Xn / (Xs + Xn) 1.6^((T - 20) / 10)        1/s
template <class N>
Frequency<N> relative_growth_two_state(Temperature<N> air, ArealMass<N> store, ArealMass<N> structure,
                                       const LettuceTwoState& model = {}) {
  const N share = store.si() / (model.store_half * structure.si() + store.si());
  return Frequency<N>(model.growth * share * q10_factor(air, model.growth_q10, 20.0));
}

/// Maintenance respiration.
///
///   (3.47e-7 (1 - tau) + 1.16e-7 tau) Xs 2^((T - 25) / 10)
template <class N>
ArealMassRate<N> respiration_two_state(Temperature<N> air, ArealMass<N> structure, const LettuceTwoState& model = {}) {
  const double per_structure =
      model.shoot_respiration * (1.0 - model.root_share) + model.root_respiration * model.root_share;
  return ArealMassRate<N>(per_structure * structure.si() * q10_factor(air, model.respiration_q10, 25.0));
}

/// Gross photosynthesis of the canopy, as CO2.
///
///   (1 - exp(-k a (1 - tau) Xs)) e I s / (e I + s),   s = g w (C - G),   1/g = 1/boundary + 1/stomata +
///   1/carboxylation
template <class N>
ArealMassRate<N> photosynthesis_two_state(Temperature<N> air, Number<N> carbon, Flux<N> par, ArealMass<N> structure,
                                          const LettuceTwoState& model = {}) {
  using std::exp;
  const N inner = carboxylation_two_state(air).si();
  const double outer = 1.0 / (1.0 / model.boundary + 1.0 / model.stomata);
  const N conductance = inner * outer / (inner + outer);
  const N gap_ppm = 1e6 * (carbon.si() - compensation_two_state(air, model).si());
  const N supply = 1e-3 * conductance * model.ppm_density * gap_ppm;
  const N light = light_use_two_state(air, carbon, model).si() * par.si();
  const double per_dry = model.extinction * model.leaf_area * (1.0 - model.root_share) * 1000.0;
  const N closed = 1.0 - exp(N(-per_dry * structure.si()));
  return ArealMassRate<N>(closed * light * supply / (light + supply + 1e-20));
}

/// Rates of both states.
template <class N>
struct LettuceRates {
  ArealMassRate<N> store, structure;
};

/// Growth of lettuce.
///
///   dXn = 0.68 P - r Xs - R - (1 - y)/y r Xs,   dXs = r Xs,   y = 0.8
///
/// air      temperature                        10 to 30 °C
/// carbon   carbon dioxide, share of the air
/// par      photosynthetically active radiation on the crop
/// source   Van Henten 1994; constants from published research code (copies disagree on the conductances)
template <class N>
LettuceRates<N> growth_rate_two_state(Temperature<N> air, Number<N> carbon, Flux<N> par, ArealMass<N> store,
                                      ArealMass<N> structure, const LettuceTwoState& model = {}) {
  const N gross = model.to_sugar * photosynthesis_two_state(air, carbon, par, structure, model).si();
  const N built = relative_growth_two_state(air, store, structure, model).si() * structure.si();
  const N burnt =
      respiration_two_state(air, structure, model).si() + (1.0 - model.growth_yield) / model.growth_yield * built;
  return {ArealMassRate<N>(gross - built - burnt), ArealMassRate<N>(built)};
}

/// Both states after a time under steady conditions (Runge-Kutta, steps of at most 300 s).
struct LettuceMasses {
  ArealMass<> store, structure;
  ArealMass<> total() const { return store + structure; }
};
LettuceMasses dry_masses_two_state(LettuceMasses start, Duration<> span, Temperature<> air, Number<> carbon, Flux<> par,
                                   const LettuceTwoState& model = {});

}  // namespace leat::science
