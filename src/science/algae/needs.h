// What algae take their nitrogen and carbon from, and what they hold of chlorophyll.
#pragma once

#include "science/fish/ramp.h"
#include "science/water/substances.h"

namespace leat::science {

/// Light, as photosynthetic radiation, at which growth bends: 50 W/m2 (common practice, no source).
inline constexpr double algae_bending_light = 50.0;
/// Carbon over chlorophyll by mass (20 to 100; Chapra & Pelletier, QUAL2K).
inline constexpr double carbon_per_chlorophyll = 40.0;
/// Carbon over dry mass of solids.
inline constexpr double carbon_share_of_solids = 0.45;

/// Chlorophyll of algae, from their carbon.
template <class N>
Density<N> algae_chlorophyll(const Concentration<N>& carbon) {
  return Density<N>(carbon.si() * molar_mass::carbon.si() / carbon_per_chlorophyll);
}

/// Share of their nitrogen that algae take as ammonium: they prefer it down to traces.
///
///   a n / ((h + a)(h + n)) + a h / ((a + n)(h + n)),   h = 0.025 mg/L as N
///
/// ammonia, nitrate   total, as N
/// source   Chapra & Pelletier, QUAL2K (half value from memory)
template <class N>
Number<N> algae_ammonium_preference(const Concentration<N>& ammonia, const Concentration<N>& nitrate) {
  return Number<N>(of_two(ammonia.si(), nitrate.si(), [](const auto& x, const auto& y) {
    using M = std::decay_t<decltype(x)>;
    constexpr double half = 0.025 / 14.007;
    const M a = rounded_ramp(x, 1e-5), n = rounded_ramp(y, 1e-5);
    return M(a * n / ((half + a) * (half + n)) + a * half / ((a + n + 1e-6) * (half + n)));
  }));
}

/// Share of growth that the carbon in reach allows.
///
///   c / (0.013 mmol/L + c), less above pH 9.5, nothing at 11
///
/// carbon   carbon dioxide and bicarbonate together
/// source   half value Chapra & Pelletier, QUAL2K, from memory; green water seldom passes pH 10.5 (common practice)
template <class N>
Number<N> algae_carbon_share(const Concentration<N>& carbon, const Number<N>& acidity) {
  constexpr double half = 0.013;
  return Number<N>(share_of_plenty(rounded_ramp(N(carbon.si()), 1e-4), half) *
                   (1.0 - smooth_step(N(acidity.si()), 9.5, 11.0)));
}

}  // namespace leat::science
