// Heat held in water and stones, carried by flow, air and pumps.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "numerics/dual.h"
#include "science/heat/smooth.h"
#include "science/heat/vapour.h"

namespace leat::science {

/// Heat per temperature: of a flow, or of all the faces of a vessel.
template <class N = double>
using HeatFlowPerKelvin = Quantity<dim::power - dim::temperature, N>;
/// Heat capacity per mass.
using SpecificHeat = Quantity<dim::energy - dim::mass - dim::temperature>;

inline constexpr VolumetricHeat<> water_heat{4.18e6};
inline constexpr SpecificHeat air_heat{1005.0};

/// Heat a flow carries per kelvin: rho c Q; 2322 W/K for 2000 L/h.
template <class N>
HeatFlowPerKelvin<N> flow_conductance(Flow<N> flow, VolumetricHeat<> heat = water_heat) {
  return flow * heat;
}

/// Time in which two stores that swap water close all but 1/e of their difference: V1 V2 / (Q (V1 + V2)).
template <class N>
Duration<N> exchange_time_constant(Flow<N> flow, Volume<Same<N>> one, Volume<Same<N>> other) {
  return one * other / (flow * (one + other));
}

/// Heat capacity over conductance.
template <class N>
Duration<N> time_constant(HeatCapacity<N> store, HeatFlowPerKelvin<Same<N>> loss) {
  return store / loss;
}

/// Water poured into water: the mean by volume.
template <class N>
Temperature<N> mix_temperature(Temperature<N> one, Volume<Same<N>> volume, Temperature<Same<N>> added,
                               Volume<Same<N>> added_volume) {
  const N share = added_volume.si() / (volume.si() + added_volume.si());
  return one + TemperatureDifference<N>(share * (added.kelvin() - one.kelvin()));
}

/// Way towards a resting temperature: Te + (T0 - Te) exp(-dt/tau).
template <class N>
Temperature<N> first_order_step(Temperature<N> start, Temperature<Same<N>> rest, Duration<Same<N>> tau,
                                Duration<Same<N>> step) {
  using std::exp;
  return rest + TemperatureDifference<N>((start.kelvin() - rest.kelvin()) * exp(N(-step.si() / tau.si())));
}

/// Mean heat into a body per area of surface while it warms.
template <class N>
Flux<N> store_heat_flux(Length<> depth, Temperature<N> from, Temperature<Same<N>> to, Duration<> during,
                        VolumetricHeat<> heat = water_heat) {
  return Flux<N>(heat.si() * depth.si() * (to.kelvin() - from.kelvin()) / during.si());
}

/// Lasting rise by a source of heat: P/UA.
template <class N>
TemperatureDifference<N> temperature_rise_mean(Power<N> source, HeatFlowPerKelvin<Same<N>> loss) {
  return source / loss;
}

/// Heat capacity of a bed of stones, flooded: (1 - n) rho c + n 4.18 MJ; 3.0 MJ/m3/K for n = 0.40.
template <class N>
VolumetricHeat<N> bed_heat_capacity(Number<N> porosity, Density<> stone = Density<>(2650.0),
                                    SpecificHeat stone_heat = SpecificHeat(840.0),
                                    VolumetricHeat<> water = water_heat) {
  const N n = porosity.si();
  return VolumetricHeat<N>((1.0 - n) * (stone * stone_heat).si() + n * water.si());
}

/// Air that is blown through water and leaves warm and wet.
template <class N = double>
struct BubbledAir {
  Flow<N> flow;
  Temperature<N> inlet;
  Number<N> humidity;  ///< of the inlet, 0 to 1
  Pressure<> pressure{101325.0};
  Density<> density{1.2};
};

/// Heat that bubbled air takes from the water: m ((w_out - w_in) lambda + cp (Tw - Tin)). About 0.7 W per L/min in
/// summer.
///
/// water    temperature of the water; the air leaves saturated at it
/// source   enthalpy of moist air
template <class N>
Power<N> bubbled_air_heat_loss(Temperature<N> water, const BubbledAir<Same<N>>& air,
                               SpecificEnergy<> latent = SpecificEnergy<>(2.45e6), SpecificHeat heat = air_heat) {
  const N w_in = mixing_ratio(vapour_pressure_from_humidity(air.inlet, air.humidity), air.pressure).si();
  const N w_out = mixing_ratio(saturation_vapour_pressure(water), air.pressure).si();
  const N per_mass = (w_out - w_in) * latent.si() + heat.si() * (water.kelvin() - air.inlet.kelvin());
  return Power<N>(air.flow.si() * air.density.si() * per_mass);
}

/// Dry air in a volume of moist air: (P - e) / (287.05 T).
template <class N>
Density<N> dry_air_density(Temperature<N> air, Pressure<Same<N>> vapour, Pressure<Same<N>> pressure) {
  return Density<N>((pressure.si() - vapour.si()) / (287.05 * air.kelvin()));
}

/// What air takes along that is blown through water: vapour, and warmth of its own. Negative where it gives.
template <class N>
struct BubbleTake {
  MassRate<N> vapour;
  Power<N> warmth;
};

/// Vapour m (w(Tw) - w_in) and warmth m cp (Tw - Tin) that bubbles take: they leave saturated and as warm as the water.
///
/// dry_air  mass of dry air per time
/// vapour   of the air that is blown in
/// error    bubbles of a few mm that rise 0.2 m and more reach both; none of their own expansion counts, for an ideal
///          gas gives back as work in the water what it takes as heat
/// source   enthalpy of moist air
template <class N>
BubbleTake<N> bubbles_take(Temperature<N> water, Temperature<Plain<N>> inlet, Pressure<Plain<N>> vapour,
                           Pressure<> pressure, MassRate<Plain<N>> dry_air) {
  const N gained = mixing_ratio(saturation_vapour_pressure(water), Pressure<N>(pressure)).si() -
                   mixing_ratio(vapour, Pressure<Plain<N>>(pressure)).si();
  return {MassRate<N>(dry_air.si() * gained),
          Power<N>(dry_air.si() * air_heat.si() * (water.kelvin() - inlet.kelvin()))};
}

/// Share of a blower's warmth that its air still has at the end of a hose: exp(-UA / (m cp)).
///
/// hose     2 W/K is five metres of 12 mm hose at 10 W/m2/K (common practice)
/// returns  under 0.01 for 20 L/min, 0.2 for 60, 0.5 for 150
/// error    that all the power warms the air is a bound: a blower's case sheds part of it
inline double blower_warmth_left(MassRate<> dry_air, HeatFlowPerKelvin<> hose = HeatFlowPerKelvin<>(2.0)) {
  return dry_air.si() > 0.0 ? std::exp(-hose.si() / (dry_air.si() * air_heat.si())) : 0.0;
}

}  // namespace leat::science
