// Lettuce as one dry mass, grown by light, carbon dioxide and temperature (Van Henten 2003).
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/crops/growth.h"
#include "science/fish/ramp.h"

namespace leat::science {

/// Mass of carbon dioxide per volume of air.
///
///   ppm x 1e-6 x P M / (R T)
///
/// share      of the air's molecules           400e-6
/// molar      kg/mol                           0.044
/// gas        J/mol/K                          8.31 in Van Henten's constants
/// source     ideal gas
template <class N>
Density<N> carbon_dioxide_in_air(Number<N> share, Temperature<N> air, Pressure<N> pressure, double molar = 0.044,
                                 double gas = 8.31) {
  return Density<N>(share.si() * pressure.si() * molar / (gas * air.kelvin()));
}

/// Constants of the one-state model.
struct LettuceOneState {
  double to_dry = 0.544;         ///< dry mass per assimilate
  double respiration = 2.65e-7;  ///< 1/s at 25 °C, doubling in 10 degrees
  double canopy = 53.0;          ///< m2/kg: extinction times leaf area
  double light_use = 3.55e-9;    ///< kg/J of global light outside; a glasshouse cover is already in it
  double compensation = 5.2e-5;  ///< kg/m3 of CO2 at which nothing is gained
  /// The same without the cover, for a bed in the open: divided by the cover's implied transmission.
  static LettuceOneState open_air();
};

/// Transmission of the cover that a light constant per global radiation already holds.
///
///   c / (p e g)        light use of leaves e, share p of PAR, carbon dioxide term g
///
/// source   Van Henten 1994 (17e-9 kg/J PAR) beside Van Henten 2003 (3.55e-9 kg/J global)
constexpr double cover_transmission_implied(double light_use, double leaf_light_use = 17e-9, double share = 0.5,
                                            double co2_term = 0.75) {
  return light_use / (share * leaf_light_use * co2_term);
}

inline LettuceOneState LettuceOneState::open_air() {
  LettuceOneState open;
  open.light_use /= cover_transmission_implied(open.light_use);
  return open;
}

/// Speed at which leaves take in carbon dioxide.
///
///   g = -5.11e-6 T^2 + 2.30e-4 T - 6.29e-4        m/s, T in °C; 0 outside its roots
///
/// leaf     temperature                       2.92 to 42.1 °C, best 22.5
/// source   Van Henten 2003
template <class N>
Velocity<N> carboxylation_one_state(Temperature<N> leaf) {
  const N t = leaf.celsius();
  return Velocity<N>(positive_part(N(-5.11e-6 * t * t + 2.30e-4 * t - 6.29e-4)));
}

/// Temperatures at which that speed starts, is highest, and ends.
struct CarboxylationTemperatures {
  Temperature<> low, best, high;
};
inline CarboxylationTemperatures carboxylation_temperatures_one_state() {
  constexpr double a = -5.11e-6, b = 2.30e-4, c = -6.29e-4;
  const double root = std::sqrt(b * b - 4.0 * a * c);
  return {Temperature<>::from_celsius((-b + root) / (2.0 * a)), Temperature<>::from_celsius(-b / (2.0 * a)),
          Temperature<>::from_celsius((-b - root) / (2.0 * a))};
}

/// Gross photosynthesis per ground area.
///
///   (1 - exp(-53 X)) a b / (a + b),   a = 3.55e-9 V,   b = g (C - 5.2e-5)        kg/m2/s
///
/// dry      dry mass per ground area           0 to 0.4 kg/m2
/// air      temperature                        5 to 35 °C
/// carbon   carbon dioxide in the air, mass per volume
/// global   radiation on the roof of the house (or the bed, with the open-air constants)
/// source   Van Henten 2003
template <class N>
ArealMassRate<N> photosynthesis_one_state(ArealMass<N> dry, Temperature<N> air, Density<N> carbon, Flux<N> global,
                                          const LettuceOneState& model = {}) {
  using std::exp;
  constexpr double dark = 1e-20;  // kg/m2/s, keeps 0/0 away
  const N a = model.light_use * global.si();
  const N b = carboxylation_one_state(air).si() * (carbon.si() - model.compensation);
  return ArealMassRate<N>((1.0 - exp(N(-model.canopy * dry.si()))) * a * b / (a + b + dark));
}

/// Growth of lettuce per ground area.
///
///   dX/dt = 0.544 phi - 2.65e-7 X 2^(0.1 T - 2.5)        kg/m2/s
///
/// returns  negative in the dark
/// error    head lettuce closed by harvest; too fast in the cold, where leaves do not expand: gate by thermal time
/// source   Van Henten 2003; constants and form from published research code
template <class N>
ArealMassRate<N> growth_rate_one_state(ArealMass<N> dry, Temperature<N> air, Density<N> carbon, Flux<N> global,
                                       const LettuceOneState& model = {}) {
  using std::exp;
  constexpr double ln2 = 0.69314718055994531;
  const N warmth = exp(N(ln2 * (0.1 * air.celsius() - 2.5)));
  const N gain = photosynthesis_one_state(dry, air, carbon, global, model).si();
  return ArealMassRate<N>(model.to_dry * gain - model.respiration * dry.si() * warmth);
}

/// Dry mass after a time under steady conditions (Runge-Kutta, steps of at most 300 s).
ArealMass<> dry_mass_one_state(ArealMass<> start, Duration<> span, Temperature<> air, Density<> carbon, Flux<> global,
                               const LettuceOneState& model = {});

}  // namespace leat::science
