#include "science/heat/walls.h"

#include <gtest/gtest.h>

#include <array>

#include "numerics/dual.h"
#include "science/heat/covers.h"

namespace leat::science {
namespace {

using D = Dual<1>;

template <class N = double>
FaceOutside<N> outside(double air_c, double wind, double sun, double sky, double absorptance = 0.5) {
  return {
      Temperature<>::from_celsius(air_c), Velocity<>(wind), Flux<>(sun), Flux<>(sky), absorptance, plastic_emissivity};
}

TEST(Walls, GiveTheConductancesOfTanks) {
  const std::array hdpe{layer_resistance(Length<>(0.002), Conductivity<>(0.50))};
  const std::array timber{layer_resistance(Length<>(0.050), Conductivity<>(0.13))};
  const auto with_film = [](Conductance<> inner) { return 1.0 / (1.0 / inner.si() + 1.0 / 14.3); };
  EXPECT_NEAR(with_film(water_to_skin(hdpe)), 12.7, 0.1);
  EXPECT_NEAR(with_film(water_to_skin(timber)), 2.2, 0.05);
}

TEST(SunShare, StandsForKnownSkins) {
  const Conductance<> film(14.3);
  const auto share = [&](double absorptance, double thickness, double conductivity) {
    const std::array layer{layer_resistance(Length<>(thickness), Conductivity<>(conductivity))};
    return sun_share_through_wall(absorptance, water_to_skin(layer), film).si();
  };
  EXPECT_NEAR(share(0.95, 0.002, 0.50), 0.84, 0.01);
  EXPECT_NEAR(share(0.25, 0.002, 0.50), 0.22, 0.01);
  EXPECT_NEAR(share(0.60, 0.050, 0.13), 0.09, 0.005);
}

TEST(HeatThroughWall, IsNothingAtTheSolAirTemperature) {
  const auto out = outside(18.0, 1.5, 350.0, 320.0);
  EXPECT_NEAR(heat_through_wall(sol_air_temperature(out), Conductance<>(4.0), out).si(), 0.0, 1e-9);
}

TEST(HeatThroughWall, AgreesWithTheSkinSolvedExactly) {
  const auto out = outside(18.0, 1.0, 400.0, 310.0);
  const auto water = Temperature<>::from_celsius(24.0);
  for (const double inner : {1.0, 5.0, 110.0}) {
    double skin_k = 300.0;
    for (int i = 0; i < 50; ++i) {
      const double misfit = inner * (water.kelvin() - skin_k) + out.absorptance * out.sun.si() +
                            out.emissivity * (out.longwave.si() - stefan_boltzmann * std::pow(skin_k, 4)) -
                            external_convection(out.wind).si() * (skin_k - out.air.kelvin());
      const double slope =
          inner + external_convection(out.wind).si() + 4.0 * out.emissivity * stefan_boltzmann * std::pow(skin_k, 3);
      skin_k += misfit / slope;
    }
    const double exact = inner * (skin_k - water.kelvin());
    EXPECT_NEAR(heat_through_wall(water, Conductance<>(inner), out).si(), exact, 0.05 * std::abs(exact) + 0.5) << inner;
  }
}

TEST(HeatThroughWall, FallsByUPerKelvinOfWater) {
  const auto q = heat_through_wall(Temperature<D>::from_celsius(D::seed(24.0, 0)), Conductance<D>(D(6.0)),
                                   outside<D>(15.0, 2.0, 100.0, 300.0));
  const double film = external_film(Velocity<>(2.0), Temperature<>::from_celsius(15.0)).si();
  EXPECT_NEAR(q.si().slope[0], -1.0 / (1.0 / 6.0 + 1.0 / film), 1e-9);
}

TEST(GapNusselt, IsOneUntilItTurnsOverAndThenRises) {
  EXPECT_NEAR(gap_nusselt_hollands(Number<>(-1e5)).si(), 1.0, 0.01);
  EXPECT_NEAR(gap_nusselt_hollands(Number<>(1000.0)).si(), 1.0, 0.01);
  EXPECT_NEAR(gap_nusselt_hollands(Number<>(1e5)).si(), 1.0 + 1.44 * (1.0 - 1708e-5) + std::cbrt(1e5 / 5830.0) - 1.0,
              0.01);
  double before = 0.0;
  for (double ra = 10.0; ra < 1e8; ra *= 1.3) {
    const double nu = gap_nusselt_hollands(Number<>(ra)).si();
    EXPECT_GE(nu, before - 1e-6);
    before = nu;
  }
}

TEST(GapExchange, IsAboutSevenUnderACoolLidAndFiveUnderAWarmOne) {
  const auto water = Temperature<>::from_celsius(20.0);
  const auto under = [&](double lid_c) {
    return gap_exchange(water, Temperature<>::from_celsius(lid_c), Length<>(0.05));
  };
  EXPECT_GT(under(12.0).dry.si(), 6.0);
  EXPECT_LT(under(12.0).dry.si(), 7.5);
  EXPECT_NEAR(under(28.0).dry.si(), 4.9 * std::pow(297.15 / 293.15, 3) + 0.514, 0.4);
  EXPECT_LT(under(28.0).vapour.si(), 1e-7);
  EXPECT_GT(under(12.0).vapour.si(), 5e-6);
}

TEST(GapExchange, SlopeIsNearTheTrueOne) {
  const auto water = Temperature<>::from_celsius(22.0);
  for (double lid_c = -5.0; lid_c <= 45.0; lid_c += 2.5) {
    const auto lid = Temperature<D>::from_celsius(D::seed(lid_c, 0));
    const auto exchange = gap_exchange<D>(Temperature<D>(water), lid, Length<>(0.05));
    EXPECT_NEAR(exchange.slope.si().value / -exchange.heat.si().slope[0], 1.0, 0.35) << lid_c;
  }
}

/// The under side of the lid where gap and outside agree, by halving.
double settled_lid_heat(Temperature<> water, const Lid<>& lid) {
  const auto film = external_film(lid.outside.wind, lid.outside.air, lid.outside.emissivity);
  const double upward = 1.0 / (1.0 / film.si() + lid.board.si());
  const Temperature<> sol_air = sol_air_temperature(lid.outside);
  double low = 150.0, high = 450.0;
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    const auto under = Temperature<>::from_kelvin(middle);
    (gap_exchange(water, under, lid.gap).heat.si() > upward * (under - sol_air).si() ? low : high) = middle;
  }
  return -gap_exchange(water, Temperature<>::from_kelvin(low), lid.gap).heat.si();
}

TEST(HeatThroughLid, SettlesForAllWeather) {
  for (const double board : {0.0, 0.15, 0.9})
    for (const double gap : {0.02, 0.05, 0.15})
      for (const double air_c : {-5.0, 10.0, 30.0})
        for (const double water_c : {4.0, 15.0, 28.0})
          for (const double sun : {0.0, 800.0})
            for (const double wind : {0.0, 4.0}) {
              const Lid<> lid{Length<>(gap), ThermalResistance<>(board), outside(air_c, wind, sun, 290.0, 0.4)};
              const auto water = Temperature<>::from_celsius(water_c);
              EXPECT_NEAR(heat_through_lid(water, lid).si(), settled_lid_heat(water, lid), 0.01)
                  << board << ' ' << gap << ' ' << air_c << ' ' << water_c << ' ' << sun << ' ' << wind;
            }
}

TEST(HeatThroughLid, SlopesAgreeWithDifferences) {
  const auto heat = [](auto t) {
    using N = decltype(t);
    return heat_through_lid(Temperature<N>::from_celsius(t),
                            Lid<N>{Length<>(0.05), {}, outside<N>(12.0, 1.0, 0.0, 280.0)})
        .si();
  };
  for (double t = 2.0; t <= 30.0; t += 4.0) {
    const double difference = (heat(t + 1e-4) - heat(t - 1e-4)) / 2e-4;
    EXPECT_NEAR(heat(D::seed(t, 0)).slope[0], difference, 1e-3 * std::abs(difference)) << t;
  }
}

}  // namespace
}  // namespace leat::science
