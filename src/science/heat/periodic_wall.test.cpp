#include "science/heat/periodic_wall.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "science/heat/daily_swing.h"

namespace leat::science {
namespace {

constexpr ThermalResistance<> kInside{0.005}, kOutside{1.0 / 15.0};

std::array<WallLayer, 3> timber(double thickness) {
  return {massless_layer(kInside), massive_layer(Length<>(thickness), Conductivity<>(0.13), VolumetricHeat<>(8e5)),
          massless_layer(kOutside)};
}

TEST(PeriodicWall, IsSteadyForSlowWaves) {
  const PeriodicWall slow = periodic_wall(timber(0.05), 1000.0 * units::day);
  const double u = 1.0 / (0.005 + 0.05 / 0.13 + 1.0 / 15.0);
  EXPECT_NEAR(std::abs(slow.transfer.si()), u, 1e-3);
  EXPECT_NEAR(std::abs(slow.self.si()), u, 1e-3);
  EXPECT_NEAR(slow.decrement, 1.0, 1e-4);
}

TEST(PeriodicWall, StandsAsComputedElsewhere) {
  const PeriodicWall thin = periodic_wall(timber(0.05)), thick = periodic_wall(timber(0.10));
  EXPECT_NEAR(thin.decrement, 0.99, 0.005);
  EXPECT_NEAR(thin.lag.in(units::hour), 0.94, 0.02);
  EXPECT_NEAR(thick.decrement, 0.87, 0.01);
  EXPECT_NEAR(thick.lag.in(units::hour), 3.2, 0.1);
}

TEST(PeriodicWall, TakesHeatFromTheWaterAsComputedElsewhere) {
  auto sheltered = timber(0.05);
  sheltered[2] = massless_layer(ThermalResistance<>(1.0 / 14.3));
  EXPECT_NEAR(std::abs(periodic_wall(sheltered).self.si()), 2.5, 0.05);
}

TEST(PeriodicWall, IsAHalfSpaceWhenVeryThick) {
  const std::array<WallLayer, 1> deep{massive_layer(Length<>(2.0), soil_default.conductivity, soil_default.heat)};
  const auto wall = periodic_wall(deep), half_space = buried_face(soil_default);
  EXPECT_NEAR(std::abs(wall.self.si() - half_space.self.si()), 0.0, 1e-6);
  EXPECT_LT(std::abs(wall.transfer.si()), 1e-5);
}

/// First harmonic of the heat into the inside face of timber cut into cells, one side swinging by 1 K, the other held;
/// marched explicitly to its settled day.
std::complex<double> marched(double thickness, double inside_k, double outside_k) {
  constexpr int n = 40;
  constexpr double dt = 2.0, omega = 2.0 * std::numbers::pi / 86400.0;
  const double dx = thickness / n, k = 0.13, heat = 8e5;
  std::array<double, n> t{};
  std::complex<double> sum = 0.0;
  const double first = 1.0 / (0.005 + 0.5 * dx / k), last = 1.0 / (1.0 / 15.0 + 0.5 * dx / k);
  const int steps_of_day = static_cast<int>(86400.0 / dt);
  for (int i = 0; i < 4 * steps_of_day; ++i) {
    const double now = i * dt;
    std::array<double, n + 1> flux;
    flux[0] = first * (t[0] - inside_k * std::cos(omega * now));
    for (std::size_t j = 1; j < n; ++j) flux[j] = k / dx * (t[j] - t[j - 1]);
    flux[n] = last * (outside_k * std::cos(omega * now) - t[n - 1]);
    if (i >= 3 * steps_of_day) sum -= flux[0] * std::polar(2.0 / steps_of_day, -omega * now);
    for (std::size_t j = 0; j < n; ++j) t[j] += dt * (flux[j + 1] - flux[j]) / (heat * dx);
  }
  return sum;
}

TEST(PeriodicWall, AgreesWithAWallMarchedInTime) {
  for (const double thickness : {0.05, 0.10}) {
    const PeriodicWall wall = periodic_wall(timber(thickness));
    const std::complex<double> through = -marched(thickness, 0.0, 1.0), own = marched(thickness, 1.0, 0.0);
    EXPECT_NEAR(std::abs(through - wall.transfer.si()), 0.0, 2e-3);
    EXPECT_NEAR(std::abs(own - wall.self.si()), 0.0, 3e-3);
  }
}

}  // namespace
}  // namespace leat::science
