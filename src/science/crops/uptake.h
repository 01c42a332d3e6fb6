// What a growing crop takes out of the water.
#pragma once

#include "base/units/quantity.h"
#include "science/crops/growth.h"

namespace leat::science {

/// Elements in fresh plant mass, kg/kg: what the whole crop removes.
struct NutrientContents {
  double nitrogen = 0.0, phosphorus = 0.0, potassium = 0.0, calcium = 0.0, magnesium = 0.0, iron = 0.0;
};

/// Fresh mass gained for dry mass gained.
template <class N>
ArealMassRate<N> fresh_growth(ArealMassRate<N> dry_growth, double dry_share) {
  return dry_growth / dry_share;
}

/// Uptake of one element: fresh growth times its content.
///
/// fresh      fresh mass gained per area and time
/// content    element per fresh mass           nitrogen 0.002 to 0.006 kg/kg
/// returns    element per area and time
/// error      a third between trials
/// source     removal by whole crops: New England Vegetable Management Guide, table 4; edible parts: USDA SR27
template <class N>
ArealMassRate<N> nutrient_uptake(ArealMassRate<N> fresh, double content) {
  return fresh * content;
}

/// Uptake of one element averaged over a crop: yield times content over the time in the bed.
inline ArealMassRate<> mean_nutrient_uptake(ArealMass<> yield, Duration<> cycle, Number<> content) {
  return ArealMassRate<>(yield.si() * content.si() / cycle.si());
}

/// Share of the wanted uptake that a thin solution still allows.
///
///   C / (C + K)
///
/// solution   element in the water, mass per volume
/// half       where uptake is halved            0.5 mg/L for nitrate nitrogen
/// source     Michaelis-Menten form; the half value is common practice
template <class N>
Number<N> uptake_supply(Density<N> solution, Density<> half) {
  return Number<N>(solution.si() / (solution.si() + half.si()));
}

}  // namespace leat::science
