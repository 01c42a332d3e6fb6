// Light that is left for algae, and what they make of it.
#pragma once

#include <cmath>

#include "science/heat/smooth.h"
#include "science/water/blend.h"
#include "science/water/substances.h"

namespace leat::science {

/// Light lost per length.
template <class N = double>
using Extinction = Quantity<Dimension{.length = -1}, N>;

/// Loss of light in water with algae and solids.
///
///   ke = ke0 + 0.0088 Chl + 0.054 Chl^(2/3) + 0.052 ISS + 0.174 POM     1/m; Chl in ug/L, solids in mg/L
///
/// source   Riley 1956; Chapra & Pelletier, QUAL2K
template <class N>
Extinction<N> light_extinction(Extinction<> background, Density<N> chlorophyll, Density<Same<N>> mineral,
                               Density<Same<N>> organic) {
  const N chl = chlorophyll.si() * 1e6;
  // Rounded within 0.01 ug/L of zero, where the slope of the power is without bound.
  const N two_thirds = of_one(chl, [](const auto& a) {
    using std::cbrt;
    return cbrt(std::decay_t<decltype(a)>(a * a + 1e-4));
  });
  return Extinction<N>(background.si() + 0.0088 * chl + 0.054 * two_thirds + 52.0 * mineral.si() +
                       174.0 * organic.si());
}

/// Optical depth of a layer: extinction times depth, kept off zero by 1e-6 so that the means below stay defined.
template <class N>
Number<N> optical_depth(Extinction<N> extinction, Length<Same<N>> depth) {
  return Number<N>(extinction.si() * depth.si() + 1e-6);
}

/// Light at a depth over that below the surface.
template <class N>
Number<N> light_share_at(Number<N> optical_depth) {
  using std::exp;
  return Number<N>(exp(N(-optical_depth.si())));
}

/// Growth over growth in full light, mean over a layer, by Smith: x/sqrt(1 + x^2).
///
///   (asinh(x) - asinh(x E)) / (ke H),   x = I0/K, E = exp(-ke H)
///
/// light    just below the surface over the algae's light parameter
/// error    no loss at noon; use it by the hour: averaging the light of a day first overstates growth
/// source   Chapra & Pelletier, QUAL2K
template <class N>
Number<N> light_limitation_smith(Number<N> light, Number<Same<N>> optical_depth) {
  using std::log;
  using std::sqrt;
  const N d = optical_depth.si(), x = light.si(), low = x * light_share_at(Number<N>(d)).si();
  return Number<N>((log(N(x + sqrt(N(1.0 + x * x)))) - log(N(low + sqrt(N(1.0 + low * low))))) / d);
}

/// The same by half-saturation: ln((1 + x)/(1 + x E)) / (ke H).
template <class N>
Number<N> light_limitation_half(Number<N> light, Number<Same<N>> optical_depth) {
  using std::log;
  const N d = optical_depth.si(), x = light.si(), low = x * light_share_at(Number<N>(d)).si();
  return Number<N>(log(N((1.0 + x) / (1.0 + low))) / d);
}

/// The same by Steele, who lets strong light harm: e (exp(-x E) - exp(-x)) / (ke H).
template <class N>
Number<N> light_limitation_steele(Number<N> light, Number<Same<N>> optical_depth) {
  using std::exp;
  const N d = optical_depth.si(), x = light.si(), low = x * light_share_at(Number<N>(d)).si();
  return Number<N>(2.718281828459045 * (exp(N(-low)) - exp(N(-x))) / d);
}

/// Steele at one depth: x exp(1 - x).
template <class N>
Number<N> light_limitation_steele_point(Number<N> light) {
  using std::exp;
  return Number<N>(light.si() * exp(N(1.0 - light.si())));
}

}  // namespace leat::science
