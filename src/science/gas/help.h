// What can be brought to a still tank from outside: air from a battery, buckets of water that has air. Each gives
// oxygen in proportion to what the water lacks, so that any of them together are one exchange.
#pragma once

#include "science/gas/aeration.h"

namespace leat::science {

/// A flow of water that is brought to, or comes with, an oxygen.
struct Exchange {
  Flow<> flow;
  Density<> towards;

  /// Oxygen that it gives to water that holds some: negative where that holds more.
  MassRate<> gives(Density<> oxygen) const { return flow * (towards - oxygen); }
};

/// Two at once, as one: the flows add, the oxygen is their mean by flow.
inline Exchange both(Exchange one, Exchange other) {
  const Flow<> flow = one.flow + other.flow;
  if (flow.si() <= 0.0) return {flow, one.towards};
  return {flow, Density<>((one.flow * one.towards + other.flow * other.towards).si() / flow.si())};
}

/// What aerators give for the energy they take, rated in clean water at 20 °C that holds no oxygen.
///
/// source   small kits with an air stone 0.2 to 0.5 kg/kWh (common practice); fine diffusers 0.7 to 1.2 (common
/// practice;
///          Boyd 1998 has a mean of 0.9 for diffused air), here the middle of that in ratio, 0.92
namespace air_kit {
inline constexpr AerationEfficiency<> poor = 0.2 * kilogram_per_kilowatt_hour, usual = 0.5 * kilogram_per_kilowatt_hour,
                                      fine_stone = 0.92 * kilogram_per_kilowatt_hour;
}

/// An air pump as an exchange.
///
///   flow = P e alpha 1.024^(T - 20) / 9.092 mg/L
///
/// power       taken from the battery
/// efficiency  rated
/// alpha       transfer in fish water over clean   0.8 (0.6 to 0.9)
/// returns     8 W at 0.2 to 0.5 kg/kWh: 0.65 to 1.6 g/h in water of 14 °C with 5 mg/L
/// source      ASCE/EWRI 2-06, as oxygen_transfer_in_use with beta 1
inline Exchange exchange_of_air_pump(Power<> power, AerationEfficiency<> efficiency, Temperature<> water,
                                     Density<> saturation, Number<> alpha = Number<>(0.8)) {
  const MassRate<> rated = power * efficiency;
  return {rated * alpha.si() * transfer_temperature_factor(water) / standard_saturation, saturation};
}

/// Buckets carried an hour, as an exchange: as much leaves the tank as is poured in.
inline Exchange exchange_of_buckets(Frequency<> carried, Volume<> bucket, Density<> oxygen) {
  return {carried * bucket, oxygen};
}

}  // namespace leat::science
