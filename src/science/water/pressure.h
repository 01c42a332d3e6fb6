// Pressure of the air at a place. Weather reports give pressure reduced to the sea: at 1000 m that overstates how much
// oxygen water can hold by 13 %.
#pragma once

#include <cmath>

#include "base/units/quantity.h"

namespace leat::science {

/// Share of the pressure at the sea that is left at a height, in the standard atmosphere.
///
///   P/P0 = (1 - 2.25577e-5 h)^5.25588     h in m
///
/// altitude -400 to 5000 m
/// source   US Standard Atmosphere 1976
inline Number<> standard_atmosphere_share(Length<> altitude) {
  return Number<>(std::pow(1.0 - 2.25577e-5 * altitude.si(), 5.25588));
}

/// Mean pressure of the air at a height.
inline Pressure<> air_pressure_standard_atmosphere(Length<> altitude) {
  return standard_atmosphere_share(altitude).si() * units::atmosphere;
}

/// Mean pressure of the air at a height, the air taken as 15 °C throughout.
///
///   P = 101.325 exp(-g M h / (R 288.15 K))     kPa
///
/// error    0.12 kPa above the standard atmosphere at 1000 m, 0.36 kPa at 1800 m
/// source   fits the pressures of Tchobanoglous et al. 2014 (Metcalf & Eddy, 5th ed.), Table E-1
inline Pressure<> air_pressure_isothermal(Length<> altitude) {
  return std::exp(-9.80665 * 0.0289644 * altitude.si() / (8.31447 * 288.15)) * units::atmosphere;
}

/// Pressure at the place from a weather report's pressure reduced to the sea.
inline Pressure<> station_pressure(Pressure<> reduced_to_sea, Length<> altitude) {
  return standard_atmosphere_share(altitude).si() * reduced_to_sea;
}

}  // namespace leat::science
