// What a ration makes of a fish: growth as far as its energy and the warmth allow, maintenance, or a slow loss of
// flesh.
#pragma once

#include "science/fish/energy.h"
#include "science/fish/potential.h"
#include "science/water/blend.h"

namespace leat::science {

/// Energy that a fasting trout burns for each mass of live fish it loses: fat and protein go, water takes their place.
///
/// returns  13 kJ/g: with `loss_kj_per_g` it says that a trout without food lives at 0.54 of the fasting heat of Cho
/// error    0.38 to 0.64 were seen
/// source   Lauff & Wood 1996 (4.5 g, 15 °C: 175 mg/kg/h after 11 to 14 days, where that heat asks for 300); Wieser
///          1985: 0.40 to 0.64 of fed fish at 12 to 15 °C
inline constexpr EnergyDensity<> energy_of_loss = 13.0 * kilojoule_per_gram;

/// Growth of one fish and the heat it gives off while at it.
template <class N>
struct RationedGrowth {
  Frequency<N> gain;  ///< per its mass; negative: it wastes away
  Power<N> heat;      ///< what oxygen has to burn
};

/// Growth on what is digested, held to what the warmth allows.
///
///   gain = smaller of (energy retained / e(W), potential);  below maintenance - deficit / 24 kJ/g
///   heat = digested - excreted - gain e(W);                 below maintenance + loss 13 kJ/g
///
/// What is eaten beyond the potential is burnt. Energy closes: digested + flesh lost = heat + excreted + flesh gained.
///
/// digested    energy digested per time by one fish
/// potential   relative growth of well-fed fish at this warmth, at least 0
/// error       a fifth of the gain on a ration of 0.8 % of body weight a day (Weatherley & Gill 1981); losses within
///             a tenth of body mass over 11 weeks
/// corner      where food and warmth allow the same, growth is 1.6 % less; at twice as much of either, 0.05 %. Our
/// choice beyond      evaluates; the fasting heat is that of trout at 5 to 20 °C source      Bureau, Kaushik & Cho
/// 2002; the smaller of both: after Jobling 2003; below maintenance: derived
template <class N>
RationedGrowth<N> growth_on_ration(Power<N> digested, Temperature<N> water, Mass<N> fish, Frequency<N> potential) {
  const EnergyBudget<N> budget = energy_budget_bureau(digested, fasting_heat_cho(water, fish));
  const N energy_gained = energy_of_gain(fish).si();
  const N fed = positive_part(budget.retained.si()), deficit = positive_part(N(-budget.retained.si()));
  const N by_energy = fed / (energy_gained * fish.si());
  const N grown = rounded_minimum(by_energy, N(potential.si()), 0.001);
  const N lost = deficit / (loss_kj_per_g * kilojoule_per_gram.si());  // kg/s
  const N heat = digested.si() - budget.excreted.si() - grown * fish.si() * energy_gained + lost * energy_of_loss.si();
  return {Frequency<N>(grown - lost / fish.si()), Power<N>(heat)};
}

/// Share of the nitrogen digested that flesh keeps at most: the best of six trout diets kept 51 % of what was fed, 0.57
/// of what was digested (Water Sci. Technol. 31(10)).
inline constexpr double most_nitrogen_kept = 0.60;

/// The same growth held to the nitrogen that is digested: no fish takes it out of the water. What energy would have put
/// into flesh beyond that is burnt. Where nitrogen suffices nothing changes.
///
/// by_nitrogen   growth that the nitrogen digested allows, per mass of fish and time
template <class N>
RationedGrowth<N> held_by_nitrogen(const RationedGrowth<N>& growth, Frequency<N> by_nitrogen, Mass<N> fish) {
  constexpr double corner = 5e-11;  // 1/s, 0.0004 % a day
  const N gain = rounded_smaller_of(growth.gain.si(), by_nitrogen.si(), corner);
  const N left = (growth.gain.si() - gain) * fish.si() * energy_of_gain(fish).si();
  return {Frequency<N>(gain), Power<N>(N(growth.heat.si() + left))};
}

/// Ration that holds a trout at its mass.
///
///   HeE (1 + 0.17) (1 + 0.08) / (feed energy x mass)
///
/// returns  feed per mass of fish and time: 0.3 %/d at 100 g, 10 °C
/// source   Bureau, Kaushik & Cho 2002 with retained energy nil
template <class N>
Frequency<N> ration_maintenance(Temperature<N> water, Mass<N> fish, EnergyDensity<> feed) {
  const Power<N> need = energy_need_bureau(Power<N>(N(0.0)), fasting_heat_cho(water, fish)).digested;
  return Frequency<N>(need.si() / (feed.si() * fish.si()));
}

/// Mass after a span at one ration and one temperature. A ration of nothing: after so long a fast.
///
/// start    mass of one fish                  5 g to 2 kg
/// ration   feed eaten per mass of fish and time
/// feed     digestible energy                 16 to 19 kJ/g
/// span     from the moment the gut is as full or empty as the ration leaves it; in the first fortnight of a fast
///          small fish lose gut content and water besides, up to a third of their mass
Mass<> fish_mass_on_ration(const Species& species, Mass<> start, Frequency<> ration, EnergyDensity<> feed,
                           Temperature<> water, Duration<> span);

}  // namespace leat::science
