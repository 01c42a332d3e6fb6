#include "science/heat/daily_swing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include "science/heat/covers.h"

namespace leat::science {
namespace {

constexpr double kDay = 86400.0, kOmega = 2.0 * std::numbers::pi / kDay;

using Pair = std::array<double, 2>;

/// Runge-Kutta of fourth order over whole days; calls `see(t, y)` through the last one.
Pair march(std::function<Pair(double, const Pair&)> rate, Pair y, int days, double dt,
           const std::function<void(double, const Pair&)>& see) {
  const auto moved = [](const Pair& a, const Pair& k, double h) { return Pair{a[0] + h * k[0], a[1] + h * k[1]}; };
  const int steps = static_cast<int>(std::lround(days * kDay / dt));
  for (int i = 0; i < steps; ++i) {
    const double t = i * dt;
    if (t >= (days - 1) * kDay) see(t, y);
    const Pair k1 = rate(t, y), k2 = rate(t + 0.5 * dt, moved(y, k1, 0.5 * dt));
    const Pair k3 = rate(t + 0.5 * dt, moved(y, k2, 0.5 * dt)), k4 = rate(t + dt, moved(y, k3, dt));
    for (std::size_t j = 0; j < 2; ++j) y[j] += dt / 6.0 * (k1[j] + 2.0 * k2[j] + 2.0 * k3[j] + k4[j]);
  }
  return y;
}

SwingStore store(double heat, double loss, std::complex<double> forcing) {
  return {HeatCapacity<>(heat), Wave<dim::power - dim::temperature>(loss), Wave<dim::power>(forcing)};
}

TEST(DailySwing, OfTwoStoresAgreesWithARun) {
  const SwingStore a = store(4.18e6, 15.0, 150.0), b = store(8.36e6, 40.0, std::polar(900.0, -0.5));
  const double g = 2322.2;
  const TwoWaves waves = daily_waves(a, b, HeatFlowPerKelvin<>(g));
  const auto rate = [&](double t, const Pair& y) {
    const double f1 = (a.forcing.si() * std::polar(1.0, kOmega * t)).real();
    const double f2 = (b.forcing.si() * std::polar(1.0, kOmega * t)).real();
    return Pair{(f1 - 15.0 * y[0] + g * (y[1] - y[0])) / 4.18e6, (f2 - 40.0 * y[1] + g * (y[0] - y[1])) / 8.36e6};
  };
  std::complex<double> first = 0.0, second = 0.0;
  const double dt = 120.0;
  march(rate, {0.0, 0.0}, 60, dt, [&](double t, const Pair& y) {
    const std::complex<double> turn = std::polar(2.0 * dt / kDay, -kOmega * t);
    first += y[0] * turn;
    second += y[1] * turn;
  });
  EXPECT_NEAR(std::abs(first - waves.first.si()), 0.0, 2e-4);
  EXPECT_NEAR(std::abs(second - waves.second.si()), 0.0, 2e-4);
}

TEST(DailySwing, OfTwoStoresHasItsLimits) {
  const SwingStore a = store(4.18e6, 15.0, 150.0), b = store(8.36e6, 40.0, 900.0);
  const TwoWaves apart = daily_waves(a, b, HeatFlowPerKelvin<>(0.0));
  EXPECT_NEAR(std::abs(apart.first.si() - daily_wave(a).si()), 0.0, 1e-12);
  const TwoWaves one = daily_waves(a, b, HeatFlowPerKelvin<>(1e9));
  const auto together = daily_wave(store(4.18e6 + 8.36e6, 55.0, 1050.0));
  EXPECT_NEAR(std::abs(one.first.si() - together.si()), 0.0, 1e-5);
  EXPECT_NEAR(std::abs(one.second.si() - together.si()), 0.0, 1e-5);
}

TEST(DailySwing, OfOneStoreIsTheFirstOrderLag) {
  const auto wave = daily_wave(store(4.18e6, 55.0, 55.0));
  const double x = kOmega * 4.18e6 / 55.0;
  EXPECT_NEAR(std::abs(wave.si()), first_order_amplitude(Number<>(x)).si(), 1e-12);
  EXPECT_NEAR(crest_time(wave).si(), first_order_lag(HeatCapacity<>(4.18e6), HeatFlowPerKelvin<>(55.0)).si(), 1e-6);
  EXPECT_LT(crest_time(wave).in(units::hour), 6.0);
}

TEST(HalfSine, AgreesWithQuadratureAndCrossesTwelveHoursSmoothly) {
  for (const double hours : {4.0, 8.0, 11.999, 12.0, 12.00001, 12.01, 16.0, 20.0}) {
    const double length = hours * 3600.0;
    double mean = 0.0, first = 0.0;
    const int n = 20000;
    for (int i = 0; i < n; ++i) {
      const double s = (i + 0.5) / n * length;
      const double sun = std::sin(std::numbers::pi * s / length) * length / n;
      mean += sun / kDay;
      first += 2.0 / kDay * sun * std::cos(kOmega * (s - 0.5 * length));
    }
    EXPECT_NEAR(half_sine_first_harmonic(hours * units::hour).si(), first / mean, 1e-6) << hours;
  }
}

TEST(FirstHarmonic, FindsAWaveAmongHours) {
  std::vector<TemperatureDifference<>> hours;
  for (int h = 0; h < 24; ++h)
    hours.emplace_back(3.0 + 4.0 * std::cos(kOmega * 3600.0 * (h - 15.0)) + std::cos(2.0 * kOmega * 3600.0 * h));
  const auto wave = first_harmonic<dim::temperature>(hours);
  EXPECT_NEAR(swing_of(wave).si(), 8.0, 1e-12);
  EXPECT_NEAR(crest_time(wave).in(units::hour), 15.0, 1e-9);
}

/// A tank of 1 m3: a bare ring of wall and an open top, in a made-up clear day.
struct Tank {
  Area<> walls{4.0}, top{1.2};
  Conductance<> inner{111.0};
  double wind = 0.8, absorptance = 0.3, albedo = 0.07;
  Pressure<> pressure{101300.0}, vapour{1100.0};

  double air_c(double t) const { return 17.0 + 6.0 * std::cos(kOmega * (t - 15.0 * 3600.0)); }
  double sun(double t) const { return 180.0 + 250.0 * std::cos(kOmega * (t - 12.0 * 3600.0)); }

  FaceOutside<> outside(double t) const {
    return {Temperature<>::from_celsius(air_c(t)), Velocity<>(wind), Flux<>(0.5 * sun(t)), Flux<>(340.0), absorptance};
  }
  double heat_in(double t, double water_c, VapourCoefficient<> f) const {
    const auto water = Temperature<>::from_celsius(water_c);
    const AirOverWater<> air{Temperature<>::from_celsius(air_c(t)), vapour, pressure, Velocity<>(wind)};
    const Flux<> surface = (1.0 - albedo) * Flux<>(sun(t)) + water_emissivity * Flux<>(340.0) -
                           outgoing_longwave(water) - evaporation_heat(f, water, vapour) -
                           convection_heat(f, water, air);
    return walls.si() * heat_through_wall(water, inner, outside(t)).si() + top.si() * surface.si();
  }
};

TEST(DailySwing, AgreesWithTheFullBalanceOfATank) {
  const Tank tank;
  const VapourCoefficient<> f = 70.0 * watt_per_square_metre_kilopascal;
  double low = 99.0, high = -99.0, sum = 0.0, n = 0.0, crest = 0.0;
  march(
      [&](double t, const Pair& y) {
        return Pair{tank.heat_in(t, y[0], f) / 4.18e6, 0.0};
      },
      {20.0, 0.0}, 12, 300.0,
      [&](double t, const Pair& y) {
        if (y[0] > high) high = y[0], crest = std::fmod(t, kDay) / 3600.0;
        low = std::min(low, y[0]);
        sum += y[0], n += 1.0;
      });

  WeatherWaves level, upright;
  level.air = upright.air = Wave<dim::temperature>(std::polar(6.0, -kOmega * 15.0 * 3600.0));
  level.sun = Wave<dim::flux>(std::polar(250.0, -kOmega * 12.0 * 3600.0));
  upright.sun = 0.5 * level.sun;
  const auto film = external_film(Velocity<>(tank.wind), Temperature<>::from_celsius(17.0));
  const std::array layers{massless_layer(ThermalResistance<>(1.0 / tank.inner.si())),
                          massless_layer(ThermalResistance<>(1.0 / film.si()))};
  SwingStore store{HeatCapacity<>(4.18e6), {}, {}};
  store.add_face(tank.walls, periodic_wall(layers),
                 sol_air_wave(upright, external_convection(Velocity<>(tank.wind)), film, tank.absorptance));
  store.add_open_surface(tank.top, Temperature<>::from_celsius(sum / n), f, tank.pressure, level, tank.albedo);
  const auto wave = daily_wave(store);

  EXPECT_NEAR(swing_of(wave).si() / (high - low), 1.0, 0.03);
  EXPECT_NEAR(crest_time(wave).in(units::hour), crest, 0.25);
  EXPECT_GT(high - low, 3.0);
}

}  // namespace
}  // namespace leat::science
