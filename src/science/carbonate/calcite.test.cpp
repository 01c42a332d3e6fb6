#include "science/carbonate/calcite.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

Temperature<> celsius(double t) {
  return Temperature<>::from_celsius(t);
}
Concentration<> moles(double c) {
  return Concentration<>(c);
}

AcidBaseTotals<> water_of(double alkalinity, double carbon) {
  return {moles(alkalinity), moles(carbon), moles(0), moles(0), moles(0)};
}

TEST(IonPairs, ChangeNothingWithoutCalciumAndMagnesium) {
  const auto w = water_of(1.5, 1.6);
  const double bare = acidity_closed(mixed_constants(celsius(14), moles(4)), w).si();
  EXPECT_NEAR(paired_water(celsius(14), moles(4), w, moles(0), moles(0)).acidity.si(), bare, 1e-9);
}

TEST(IonPairs, LowerAcidityTheMoreTheHarderTheWater) {
  const auto w = water_of(3.0, 3.05);
  double last = 14.0;
  for (const double hard : {0.0, 0.5, 1.0, 2.0, 3.0}) {
    const PairedWater p = paired_water(celsius(14), moles(7), w, moles(hard), moles(0.3 * hard));
    EXPECT_LT(p.acidity.si(), last);
    EXPECT_LE(p.calcium_free.si(), hard);
    last = p.acidity.si();
  }
}

TEST(IonPairs, CountEveryCalciumOnce) {
  const auto w = water_of(3.0, 3.1);
  const auto pair = pair_constants(celsius(15), moles(7));
  const auto k = mixed_constants(celsius(15), moles(7));
  const PairedWater p = paired_water(celsius(15), moles(7), w, moles(2.0), moles(0.5));
  const double bicarbonate = p.carbonate_free.si() * acid_base::proton_activity(p.acidity.si()) / k.carbonic2;
  const double held =
      p.calcium_free.si() * (pair.calcium_bicarbonate * bicarbonate + pair.calcium_carbonate * p.carbonate_free.si());
  EXPECT_NEAR(p.calcium_free.si() + held, 2.0, 1e-9);
}

TEST(IonPairs, OfTotalsAreCloseEnoughForRates) {
  for (const double alkalinity : {0.5, 1.0, 2.0, 3.0}) {
    const auto w = water_of(alkalinity, alkalinity * 1.03);
    const auto k = with_ion_pairs(mixed_constants(celsius(12), moles(7)), pair_constants(celsius(12), moles(7)),
                                  moles(0.6 * alkalinity), moles(0.2 * alkalinity));
    const PairedWater exact = paired_water(celsius(12), moles(7), w, moles(0.6 * alkalinity), moles(0.2 * alkalinity));
    EXPECT_NEAR(acidity_closed(k, w).si(), exact.acidity.si(), 0.005);
  }
}

TEST(Calcite, IsInBalanceWhereItsIndexIsZero) {
  for (const double t : {5.0, 15.0, 25.0}) {
    const CalciteWater c = calcite_equilibrium_open(celsius(t), Pressure<>(42.0));
    const auto k = mixed_constants(celsius(t), c.ionic_strength);
    const Concentration<> gas = carbon_dioxide_saturation(celsius(t), Pressure<>(42.0));
    const auto w = water_of(c.alkalinity.si(), inorganic_carbon_of(c.acidity, k, gas).si());
    EXPECT_NEAR(calcite_index_without_pairs(celsius(t), c.ionic_strength, w, c.calcium).si(), 0.0, 1e-6);
    EXPECT_NEAR(c.alkalinity.si(), 2.0 * c.calcium.si(), 1e-8);
  }
}

TEST(Calcite, DissolvesBelowItsIndexAndFormsAbove) {
  const auto rate = [](double index) {
    return calcite_dissolution(celsius(12), Number<>(7.2), moles(0.1), Number<>(index)).si();
  };
  EXPECT_GT(rate(-1.0), rate(-0.1));
  EXPECT_GT(rate(-0.1), 0.0);
  EXPECT_DOUBLE_EQ(rate(0.0), 0.0);
  EXPECT_LT(rate(0.2), 0.0);
}

TEST(Calcite, DissolvesWithoutAJumpAt25Celsius) {
  const auto rate = [](double t) {
    return calcite_dissolution(celsius(t), Number<>(8.5), moles(0.001), Number<>(-3.0)).si();
  };
  for (double t = 23.0; t < 27.0; t += 0.01) EXPECT_NEAR(rate(t + 0.01) / rate(t), 1.0, 1e-3) << t;
}

}  // namespace
}  // namespace leat::science
