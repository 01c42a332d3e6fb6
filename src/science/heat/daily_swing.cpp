#include "science/heat/daily_swing.h"

#include <cmath>
#include <numbers>

namespace leat::science {
namespace {

using Complex = std::complex<double>;

double circular_frequency(Duration<> period) {
  return 2.0 * std::numbers::pi / period.si();
}

Complex answer_per_kelvin(const SwingStore& store, Duration<> period) {
  return store.admittance.si() + Complex(0.0, circular_frequency(period) * store.heat.si());
}

}  // namespace

Number<> first_order_amplitude(Number<> omega_c_over_ua) {
  return Number<>(1.0 / std::hypot(1.0, omega_c_over_ua.si()));
}

Duration<> first_order_lag(HeatCapacity<> store, HeatFlowPerKelvin<> loss, Duration<> period) {
  const double omega = circular_frequency(period);
  return Duration<>(std::atan2(omega * store.si(), loss.si()) / omega);
}

Number<> half_sine_first_harmonic(Duration<> day) {
  const double x = day.in(units::hour) / 12.0, off = x - 1.0;
  // Both sides of the quotient vanish at 12 h; near it cos(pi x/2) = -(pi/2) off (1 - (pi off/2)^2/6).
  if (std::abs(off) < 1e-4) return Number<>(std::numbers::pi / (1.0 + x));
  return Number<>(2.0 * std::cos(0.5 * std::numbers::pi * x) / (1.0 - x * x));
}

Wave<dim::temperature> sol_air_wave(const WeatherWaves& waves, Conductance<> convection, Conductance<> film,
                                    double absorptance, double emissivity) {
  const Complex drive =
      convection.si() * waves.air.si() + emissivity * waves.longwave.si() + absorptance * waves.sun.si();
  return Wave<dim::temperature>(drive / film.si());
}

void SwingStore::add_face(Area<> area, const PeriodicWall& wall, Wave<dim::temperature> outside) {
  admittance += area * wall.self;
  forcing += area * (wall.transfer * outside);
}

void SwingStore::add_open_surface(Area<> area, Temperature<> mean, VapourCoefficient<> f, Pressure<> air,
                                  const WeatherWaves& waves, double albedo) {
  const Conductance<> convection = f * psychrometric_constant(air);
  const Conductance<> all = convection + f * saturation_slope(mean) + radiative_conductance(mean, water_emissivity);
  const Wave<dim::flux> drive = (1.0 - albedo) * waves.sun + water_emissivity * waves.longwave + convection * waves.air;
  admittance += area * Wave<dim::conductance>(all);
  forcing += area * drive;
}

Wave<dim::temperature> daily_wave(const SwingStore& store, Duration<> period) {
  return Wave<dim::temperature>(store.forcing.si() / answer_per_kelvin(store, period));
}

TwoWaves daily_waves(const SwingStore& first, const SwingStore& second, HeatFlowPerKelvin<> exchange,
                     Duration<> period) {
  const double g = exchange.si();
  const Complex a = answer_per_kelvin(first, period) + g, b = answer_per_kelvin(second, period) + g;
  const Complex d = a * b - g * g;
  return {Wave<dim::temperature>((first.forcing.si() * b + g * second.forcing.si()) / d),
          Wave<dim::temperature>((second.forcing.si() * a + g * first.forcing.si()) / d)};
}

}  // namespace leat::science
