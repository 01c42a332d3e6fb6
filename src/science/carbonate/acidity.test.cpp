#include "science/carbonate/acidity.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <limits>

#include "science/carbonate/random_waters.h"

namespace leat::science {
namespace {

acid_base::Root<> search(const Waters::Water& w, double guess) {
  return acid_base::increasing_root(
      [&](double ph) {
        const auto [value, slope] = acid_base::alkalinity_and_slope(w.k, w.totals, acid_base::proton_activity(ph));
        return acid_base::Charge<double>{value - w.totals.alkalinity.si(), slope};
      },
      guess, 1e-9, 1e-8);
}

/// LEAT_RANDOM_WATERS: how many (240,000).
TEST(Acidity, FindsTheRootOfAnyWaterFromAnyGuess) {
  const char* asked = std::getenv("LEAT_RANDOM_WATERS");
  const int count = asked ? std::atoi(asked) : 240000;
  Waters waters;
  int most = 0, outside = 0;
  double worst_apart = 0.0, worst_left = 0.0;
  for (int i = 0; i < count; ++i) {
    const Waters::Water w = waters.next(i % 2 == 0);
    const acid_base::Root<> root = search(w, waters.between(-2, 16));
    const double a = acidity_closed(w.k, w.totals, waters.between(-2, 16)).si();
    const double b = acidity_closed(w.k, w.totals, waters.between(-2, 16)).si();
    ASSERT_TRUE(std::isfinite(a) && a >= acidity_low - 1e-6 && a <= acidity_high + 1e-6) << a;
    most = std::max(most, root.evaluations);
    worst_apart = std::max(worst_apart, std::abs(a - b));
    outside += !root.inside;
    if (root.inside)
      worst_left =
          std::max(worst_left, std::abs((alkalinity_of(Number<>(a), w.k, w.totals) - w.totals.alkalinity).si()));
  }
  RecordProperty("most_evaluations", most);
  EXPECT_LE(most, 60);
  EXPECT_LT(worst_apart, 1e-9);
  EXPECT_LT(worst_left, 1e-9);  // eq/m3, that is 1e-12 eq/L
  EXPECT_LT(outside, count / 120);
}

TEST(Acidity, IsWithinItsBracketsEndWhenNoRootIs) {
  const MixedConstants<> k = mixed_constants(Temperature<>::from_celsius(15.0), Concentration<>(1.0));
  AcidBaseTotals<> w{};
  w.alkalinity = Concentration<>(-1e6);
  EXPECT_NEAR(acidity_closed(k, w, 7.0).si(), acidity_low, 1e-6);
  w.alkalinity = Concentration<>(1e6);
  EXPECT_NEAR(acidity_closed(k, w, 7.0).si(), acidity_high, 1e-6);
}

TEST(Acidity, LetsNotANumberThrough) {
  const MixedConstants<> k = mixed_constants(Temperature<>::from_celsius(15.0), Concentration<>(1.0));
  AcidBaseTotals<> w{};
  w.inorganic_carbon = Concentration<>(std::numeric_limits<double>::quiet_NaN());
  EXPECT_TRUE(std::isnan(acidity_closed(k, w, 7.0).si()));
}

TEST(Acidity, NeedsFewStepsFromTheLastAnswer) {
  Waters waters;
  int most = 0;
  for (int i = 0; i < 20000; ++i) {
    Waters::Water w = waters.next(false);
    w.totals.inorganic_carbon = Concentration<>(waters.between(0.1, 4));
    w.totals.alkalinity = Concentration<>(waters.between(0.05, 4));
    const double last = acidity_closed(w.k, w.totals).si();
    w.totals.inorganic_carbon = 1.01 * w.totals.inorganic_carbon;
    most = std::max(most, search(w, last).evaluations);
  }
  RecordProperty("most_evaluations", most);
  EXPECT_LE(most, 12);
}

TEST(Acidity, IsTheSameBitForBitFromTheSameGuess) {
  Waters waters;
  for (int i = 0; i < 5000; ++i) {
    const Waters::Water a = waters.next(true), b = waters.next(false);
    const double first = acidity_closed(a.k, a.totals, 7.3).si();
    acidity_closed(b.k, b.totals, 8.1);
    EXPECT_EQ(first, acidity_closed(a.k, a.totals, 7.3).si());
  }
}

using Slopes = Dual<6>;

Number<Slopes> acidity_with_slopes(double t_c, double strength, const std::array<double, 4>& totals, double guess) {
  const auto c = [](double x, std::size_t direction) { return Concentration<Slopes>(Slopes::seed(x, direction)); };
  const auto k = mixed_constants(Temperature<Slopes>::from_celsius(Slopes::seed(t_c, 0)), c(strength, 1));
  const AcidBaseTotals<Slopes> w{c(totals[0], 2), c(totals[1], 3), c(totals[2], 4), Concentration<Slopes>(Slopes(0.05)),
                                 c(totals[3], 5)};
  return acidity_closed(k, w, guess);
}

double acidity_plain(std::array<double, 6> x) {
  const auto k = mixed_constants(Temperature<>::from_celsius(x[0]), Concentration<>(x[1]));
  return acidity_closed(k, {Concentration<>(x[2]), Concentration<>(x[3]), Concentration<>(x[4]), Concentration<>(0.05),
                            Concentration<>(x[5])})
      .si();
}

TEST(Acidity, CarriesTheSlopesOfItsRoot) {
  Waters waters;
  for (int i = 0; i < 300; ++i) {
    const std::array<double, 6> x{waters.between(1, 35),  waters.between(1, 20),  waters.between(0.1, 3),
                                  waters.between(0.2, 3), waters.between(0, 0.5), waters.between(0, 0.3)};
    const Slopes ph = acidity_with_slopes(x[0], x[1], {x[2], x[3], x[4], x[5]}, 7.0).si();
    EXPECT_NEAR(ph.value, acidity_plain(x), 1e-12);
    for (std::size_t d = 0; d < 6; ++d) {
      const double step = 1e-5 * (0.1 + x[d]);
      std::array<double, 6> up = x, down = x;
      up[d] += step;
      down[d] -= step;
      const double quotient = (acidity_plain(up) - acidity_plain(down)) / (2.0 * step);
      EXPECT_NEAR(ph.slope[d], quotient, 1e-5 * (1.0 + std::abs(quotient))) << "direction " << d << " of water " << i;
    }
  }
}

TEST(Acidity, OpenAgreesWithClosedAtTheSameCarbon) {
  Waters waters;
  for (int i = 0; i < 2000; ++i) {
    const Temperature<> t = Temperature<>::from_celsius(waters.between(0, 35));
    const MixedConstants<> k = mixed_constants(t, Concentration<>(waters.between(0.1, 20)));
    AcidBaseTotals<> w{Concentration<>(waters.between(-0.1, 4)), Concentration<>(0.0),
                       Concentration<>(waters.between(0, 0.5)), Concentration<>(0.0), Concentration<>(0.0)};
    const Concentration<> gas = carbon_dioxide_saturation(t, Pressure<>(waters.between(10, 500)));
    const Number<> open = acidity_open(k, w, gas, waters.between(4, 10));
    w.inorganic_carbon = inorganic_carbon_of(open, k, gas);
    EXPECT_NEAR(acidity_closed(k, w, 7.0).si(), open.si(), 1e-8);
    EXPECT_NEAR(carbon_dioxide_of(open, k, w.inorganic_carbon).si(), gas.si(), 1e-12 + 1e-9 * gas.si());
  }
}

TEST(Acidity, FallsWithCarbonAndRisesWithAlkalinity) {
  const MixedConstants<> k = mixed_constants(Temperature<>::from_celsius(12.0), Concentration<>(5.0));
  const auto acidity_of = [&](double alkalinity, double carbon) {
    AcidBaseTotals<> w{};
    w.alkalinity = Concentration<>(alkalinity);
    w.inorganic_carbon = Concentration<>(carbon);
    return acidity_closed(k, w).si();
  };
  double last_up = 0.0, last_down = 14.0;
  for (double c = 0.05; c < 5.0; c *= 1.2) {
    const double up = acidity_of(c, 1.0), down = acidity_of(1.0, c);
    EXPECT_GT(up, last_up);
    EXPECT_LT(down, last_down);
    last_up = up;
    last_down = down;
  }
}

TEST(CarbonShares, AddUpToOne) {
  const MixedConstants<> k = mixed_constants(Temperature<>::from_celsius(8.0), Concentration<>(8.0));
  for (double ph = 3.0; ph < 12.0; ph += 0.25) {
    const CarbonShares<> s = carbon_shares(Number<>(ph), k);
    EXPECT_NEAR(s.carbon_dioxide + s.bicarbonate + s.carbonate, 1.0, 1e-14);
  }
}

TEST(BufferCapacity, IsTheSlopeOfAlkalinity) {
  const MixedConstants<> k = mixed_constants(Temperature<>::from_celsius(20.0), Concentration<>(10.0));
  const AcidBaseTotals<> w{Concentration<>(0.0), Concentration<>(1.2), Concentration<>(0.4), Concentration<>(0.1),
                           Concentration<>(0.3)};
  for (double ph = 2.0; ph < 13.0; ph += 0.37) {
    const double quotient =
        (alkalinity_of(Number<>(ph + 1e-5), k, w) - alkalinity_of(Number<>(ph - 1e-5), k, w)).si() / 2e-5;
    EXPECT_NEAR(buffer_capacity(Number<>(ph), k, w).si(), quotient, 1e-6 * (1.0 + quotient));
  }
}

TEST(MixedConstants, HaveFiniteSlopesInPureWater) {
  const auto k =
      mixed_constants(Temperature<Dual<1>>::from_celsius(Dual<1>(10.0)), Concentration<Dual<1>>(Dual<1>::seed(0.0, 0)));
  EXPECT_TRUE(std::isfinite(k.carbonic1.slope[0]));
  EXPECT_NEAR(k.carbonic1.value, 1e3 * std::pow(10.0, -carbonic_pk1(Temperature<>::from_celsius(10.0)).si()), 1e-7);
}

}  // namespace
}  // namespace leat::science
