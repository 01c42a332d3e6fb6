#include <gtest/gtest.h>

#include "numerics/dual.h"
#include "science/water/blend.h"
#include "science/water/ions.h"
#include "science/water/pressure.h"
#include "science/water/properties.h"

namespace leat::science {
namespace {

Temperature<> celsius(double t) {
  return Temperature<>::from_celsius(t);
}

TEST(Water, IsDensestNearFourCelsius) {
  const double top = water_density(celsius(3.983035)).si();
  for (double t = 0.0; t <= 40.0; t += 0.5) EXPECT_LE(water_density(celsius(t)).si(), top);
  EXPECT_NEAR(top, 999.97495, 1e-6);
}

TEST(Water, ThinsAndSteamsAsItWarms) {
  for (double t = 0.0; t < 40.0; t += 0.5) {
    EXPECT_GT(water_dynamic_viscosity(celsius(t)).si(), water_dynamic_viscosity(celsius(t + 0.5)).si());
    EXPECT_LT(vapour_pressure_benson_krause(celsius(t)).si(), vapour_pressure_benson_krause(celsius(t + 0.5)).si());
    EXPECT_GT(water_permittivity(celsius(t)).si(), water_permittivity(celsius(t + 0.5)).si());
  }
}

TEST(Water, SteamsAsTheSteamTablesSay) {
  // IAPWS IF97 region 4, kPa.
  for (const auto& [t, kpa] : std::initializer_list<std::pair<double, double>>{
           {0, 0.6112}, {5, 0.8726}, {10, 1.2282}, {15, 1.7058}, {30, 4.2467}, {35, 5.6286}})
    EXPECT_NEAR(vapour_pressure_benson_krause(celsius(t)).in(units::kilopascal), kpa, 0.0015 * kpa) << t;
}

TEST(Water, IsHardlyPressedByAir) {
  const double at_sea = water_density_under_pressure(celsius(10), units::atmosphere).si();
  EXPECT_DOUBLE_EQ(at_sea, water_density(celsius(10)).si());
  EXPECT_NEAR(at_sea - water_density_under_pressure(celsius(10), Pressure<>(81325.0)).si(), 0.0096, 0.0003);
}

TEST(AirPressure, TwoAtmospheresAgreeAndStationPressureIsOneOfThem) {
  for (double h = 0.0; h <= 1800.0; h += 100.0) {
    const Length<> z(h);
    EXPECT_NEAR(air_pressure_standard_atmosphere(z).si(), air_pressure_isothermal(z).si(), 370.0);
    EXPECT_DOUBLE_EQ(station_pressure(units::atmosphere, z).si(), air_pressure_standard_atmosphere(z).si());
  }
}

TEST(RoundedMinimum, StaysBelowTheTrueOneAndScales) {
  for (const double a : {0.01, 0.3, 0.9})
    for (const double b : {0.02, 0.3, 0.7}) {
      const double m = rounded_minimum(a, b, 0.001);
      EXPECT_LE(m, std::min(a, b));
      EXPECT_GE(m, 0.98 * std::min(a, b));
      EXPECT_NEAR(rounded_minimum(2.0 * a, 2.0 * b, 0.001), 2.0 * m, 1e-12);
    }
}

TEST(RoundedMinimum, VanishesWithEitherFactorAndHasASlopeThere) {
  EXPECT_NEAR(rounded_minimum(0.0, 0.7, 0.001), 0.0, 1e-15);
  EXPECT_NEAR(rounded_minimum(0.7, 0.0, 0.001), 0.0, 1e-15);
  const Dual<2> m = rounded_minimum(Dual<2>::seed(0.0, 0), Dual<2>::seed(0.0, 1), 0.001);
  EXPECT_TRUE(std::isfinite(m.slope[0]) && std::isfinite(m.slope[1]));
}

Ions<> table_salt(double c) {
  Ions<> i{};
  i.sodium = i.chloride = Concentration<>(c);
  return i;
}

TEST(Ions, OfASaltAreNeutral) {
  EXPECT_EQ(strong_ions(table_salt(3.0)).si(), 0.0);
  Ions<> gypsum{};
  gypsum.calcium = gypsum.sulphate = Concentration<>(2.0);
  EXPECT_EQ(strong_ions(gypsum).si(), 0.0);
  EXPECT_DOUBLE_EQ(ionic_strength(gypsum).si(), 8.0);
  EXPECT_DOUBLE_EQ(ionic_strength(table_salt(3.0)).si(), 3.0);
}

TEST(Conductivity, RisesWithSaltLessThanInProportion) {
  double last = 0.0;
  for (double c = 1.0; c < 60.0; c *= 1.5) {
    const double per_mole = conductivity_at_25c(table_salt(c)).in(microsiemens_per_centimetre) / c;
    EXPECT_GT(conductivity_at_25c(table_salt(c)).si(), last);
    EXPECT_LT(per_mole, 126.45);
    last = conductivity_at_25c(table_salt(c)).si();
  }
  // 0.01 mol/L NaCl: 118.43 S cm2/mol (CRC handbook, from memory).
  EXPECT_NEAR(conductivity_at_25c(table_salt(10.0)).in(microsiemens_per_centimetre), 1184.3, 15.0);
}

TEST(Conductivity, OfNothingIsNothing) {
  const Ions<> none{};
  EXPECT_EQ(conductivity_at_25c(none).si(), 0.0);
}

TEST(Conductivity, IsItselfAt25Celsius) {
  const ElectricConductivity<> ec = 640.0 * microsiemens_per_centimetre;
  EXPECT_DOUBLE_EQ(conductivity_at(ec, celsius(25)).si(), ec.si());
  EXPECT_LT(conductivity_at(ec, celsius(5)).si(), ec.si());
}

}  // namespace
}  // namespace leat::science
