// Growth, ration and oxygen of a species, whichever law its figures support.
#pragma once

#include "science/fish/energy.h"
#include "science/fish/feeding.h"
#include "science/fish/growth.h"
#include "science/fish/oxygen_demand.h"
#include "science/fish/species.h"

namespace leat::science {

/// Relative growth rate of well-fed fish of a species. Ask `species.growth` first.
template <class N>
Frequency<N> growth_potential(const Species& species, Temperature<N> water, Mass<N> fish) {
  const auto effective = effective_temperature_rounded(water, *species.growth_temperatures);
  const ThermalGrowth<N> stock{N(species.growth->coefficient), species.growth->exponent};
  return specific_growth_thermal_unit(fish, effective, stock);
}

/// Ration that meets the growth potential, held back by temperature and oxygen.
///
///   growth x feed per gain x appetite(temperature) x appetite(oxygen)
///
/// source   ration = growth x feed per gain; for trout 12 % over the table of Leitritz & Lewis at 10 °C, 28 % at 15.6
template <class N>
Frequency<N> ration_potential(const Species& species, Temperature<N> water, Mass<N> fish, Density<N> oxygen) {
  N share = appetite_temperature(water, *species.appetite()).si();
  const Density<> full = species.oxygen_appetite_full.value_or(*species.oxygen_target);
  const Density<> none = species.oxygen_appetite_none.value_or(0.6 * *species.oxygen_min);
  share = share * appetite_oxygen(oxygen, none, full).si();
  return Frequency<N>(growth_potential(species, water, fish).si() * *species.feed_per_gain * share);
}

/// Oxygen uptake of a fish that nobody has fitted: one level, the usual slopes of mass and temperature.
///
///   230 mg/kg/h (W / 100 g)^-0.2 2^((T - 28) / 10), the temperature held at 32 °C
///
/// water    temperature of the water          10 to 32 °C
/// fish     mass of one fish                  5 g to 2 kg
/// error    a factor of 1.5
/// source   level: the tilapia law at 100 g and 28 °C; slopes common practice
template <class N>
Frequency<N> oxygen_uptake_allometric(Temperature<N> water, Mass<N> fish) {
  using std::exp;
  using std::pow;
  constexpr double ln2 = 0.69314718055994531;
  const N t = rounded_smaller_of(N(water.celsius()), N(32.0), 0.5);
  const N rate = 230.0 * pow(N(fish.in(units::gram) / 100.0), -0.2) * exp(N(ln2 / 10.0 * (t - 28.0)));
  return Frequency<N>(rate * mg_per_kg_hour.si());
}

/// Oxygen uptake of fed fish of a species, safe at any temperature and mass. Ask `species.oxygen_law` first.
///
/// The tilapia law is used at its own level only: beyond 20 to 200 g and 24 to 32 °C its quadratic means nothing, so
/// rates take the allometric law that is tied to it.
template <class N>
Frequency<N> oxygen_uptake(const Species& species, Temperature<N> water, Mass<N> fish) {
  return species.oxygen_law == OxygenLaw::liao ? oxygen_uptake_liao_blended(water, fish, liao_trout)
                                               : oxygen_uptake_allometric(water, fish);
}

}  // namespace leat::science
