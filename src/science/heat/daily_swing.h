// The daily swing of one or two mixed stores in closed form: small enough to see through, exact for linear faces, and
// so a check on the full balance.
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "base/units/quantity.h"
#include "science/heat/evaporation.h"
#include "science/heat/periodic_wall.h"
#include "science/heat/stores.h"

namespace leat::science {

/// Swing of a first-order store over that of what drives it: 1/sqrt(1 + x^2), x = omega C/UA.
Number<> first_order_amplitude(Number<> omega_c_over_ua);
/// How late its crest comes: atan(x)/omega, at most a quarter period.
Duration<> first_order_lag(HeatCapacity<> store, HeatFlowPerKelvin<> loss, Duration<> period = units::day);

/// First harmonic of a half sine of D hours over the mean of the day.
///
///   S1/mean = 2 cos(pi D/24) / (1 - (D/12)^2),   pi/2 at D = 12
Number<> half_sine_first_harmonic(Duration<> day);

/// First harmonic of samples evenly spread over one period, t = 0 at the first.
template <Dimension D>
Wave<D> first_harmonic(std::span<const Quantity<D>> samples) {
  constexpr double turn = 6.283185307179586;
  std::complex<double> sum = 0.0;
  const double n = static_cast<double>(samples.size());
  for (std::size_t i = 0; i < samples.size(); ++i)
    sum += samples[i].si() * std::polar(1.0, -turn * static_cast<double>(i) / n);
  return Wave<D>(2.0 / n * sum);
}

/// Waves of the weather at a face.
struct WeatherWaves {
  Wave<dim::temperature> air;
  Wave<dim::flux> sun, longwave;
};

/// The temperature that acts on an outside film: (hc Ta + eps L + alpha I)/he.
Wave<dim::temperature> sol_air_wave(const WeatherWaves& waves, Conductance<> convection, Conductance<> film,
                                    double absorptance, double emissivity = plastic_emissivity);

/// A store, linear: what it holds, what it answers per kelvin of its own wave, and what drives it.
struct SwingStore {
  HeatCapacity<> heat;
  Wave<dim::power - dim::temperature> admittance;
  Wave<dim::power> forcing;

  /// A wall with the sol-air wave outside, or a buried face (wave 0).
  void add_face(Area<> area, const PeriodicWall& wall, Wave<dim::temperature> outside = {});
  /// An open surface at a mean temperature and a steady wind function: 4 eps sigma T^3 + f (gamma + D) per kelvin,
  /// driven by absorbed sun, sky, and air through gamma f.
  void add_open_surface(Area<> area, Temperature<> mean, VapourCoefficient<> f, Pressure<> air,
                        const WeatherWaves& waves, double albedo = 0.07);
  /// Sun that enters the water, through a wall or a lid.
  void add_heat(Wave<dim::power> entering) { forcing += entering; }
};

/// The wave of one store: F/(Y + i omega C).
Wave<dim::temperature> daily_wave(const SwingStore& store, Duration<> period = units::day);

/// The waves of two stores that swap water.
///
///   D = (Y1 + G + i w C1)(Y2 + G + i w C2) - G^2
///   T1 = (F1 (Y2 + G + i w C2) + G F2)/D,  and likewise T2
struct TwoWaves {
  Wave<dim::temperature> first, second;
};
TwoWaves daily_waves(const SwingStore& first, const SwingStore& second, HeatFlowPerKelvin<> exchange,
                     Duration<> period = units::day);

/// Highest less lowest: twice the amplitude.
template <Dimension D>
Quantity<D> swing_of(Wave<D> wave) {
  return Quantity<D>(2.0 * std::abs(wave.si()));
}

}  // namespace leat::science
