#include "numerics/pack.h"

#include <gtest/gtest.h>

#include <limits>

namespace leat {
namespace {

Pack of(double from, double step) {
  return Pack::of_each([&](std::size_t lane) { return from + step * static_cast<double>(lane); });
}

TEST(Pack, ReckonsEachLaneByItself) {
  const Pack a = of(1.0, 0.5), b = of(-2.0, 0.75);
  for (std::size_t lane = 0; lane < pack_width; ++lane) {
    EXPECT_EQ((a + b)[lane], a[lane] + b[lane]);
    EXPECT_EQ((a - b)[lane], a[lane] - b[lane]);
    EXPECT_EQ((a * b)[lane], a[lane] * b[lane]);
    EXPECT_EQ((a / (b + 10.0))[lane], a[lane] / (b[lane] + 10.0));
    EXPECT_EQ(fabs(b)[lane], std::abs(b[lane]));
    EXPECT_EQ(sqrt(a)[lane], std::sqrt(a[lane]));
    EXPECT_EQ(choose(b < Pack(0.0), a, b)[lane], b[lane] < 0.0 ? a[lane] : b[lane]);
    EXPECT_EQ((b <= Pack(0.25))[lane], b[lane] <= 0.25);
  }
  EXPECT_EQ(largest(b), b[pack_width - 1]);
  EXPECT_EQ(smallest(b), -2.0);
}

TEST(Pack, ElementaryFunctionsAreThoseOfTheLibraryWithinFourUnitsInTheLastPlace) {
  const auto close = [](double is, double should) { EXPECT_NEAR(is, should, 9e-16 * std::abs(should)); };
  for (double from = 0.01; from < 30.0; from *= 1.3) {
    const Pack x = of(from, 0.1 * from);
    for (std::size_t lane = 0; lane < pack_width; ++lane) {
      close(exp(-x)[lane], std::exp(-x[lane]));
      close(log(x + 2.0)[lane], std::log(x[lane] + 2.0));
      close(cbrt(x)[lane], std::cbrt(x[lane]));
      close(pow(x, 0.7)[lane], std::pow(x[lane], 0.7));
      close(pow(1.08, x)[lane], std::pow(1.08, x[lane]));
      close(tanh(x)[lane], std::tanh(x[lane]));
    }
  }
}

TEST(Pack, ALaneKnowsNothingOfItsNeighbours) {
  Pack alone(0.3), crowded = of(-5.0, 1.7);
  for (std::size_t lane = 0; lane < pack_width; ++lane) {
    Pack x = crowded;
    x.set(lane, 0.3);
    EXPECT_EQ(exp(x)[lane], exp(alone)[0]);
    EXPECT_EQ(pow(fabs(x), 1.3)[lane], pow(alone, 1.3)[0]);
    EXPECT_EQ(cbrt(x)[lane], cbrt(alone)[0]);
  }
}

TEST(Pack, FindsWhatIsNotANumber) {
  Pack x = of(1.0, 1.0);
  EXPECT_TRUE(all_finite(x));
  x.set(5, std::numeric_limits<double>::quiet_NaN());
  EXPECT_FALSE(all_finite(x));
  x.set(5, std::numeric_limits<double>::infinity());
  EXPECT_FALSE(all_finite(x));
}

TEST(Pack, CarriesSlopesInEachLane) {
  using D = Dual<2, Pack>;
  const D x = D::seed(of(0.5, 0.1), 0), y = D::seed(of(1.0, 0.2), 1);
  const D f = exp(x) * y / (1.0 + x) + fabs(x - 0.75);
  for (std::size_t lane = 0; lane < pack_width; ++lane) {
    using S = Dual<2>;
    const S a = S::seed(x.value[lane], 0), b = S::seed(y.value[lane], 1);
    const S g = exp(a) * b / (1.0 + a) + fabs(a - 0.75);
    EXPECT_NEAR(f.value[lane], g.value, 1e-14);
    EXPECT_NEAR(f.slope[0][lane], g.slope[0], 1e-14);
    EXPECT_NEAR(f.slope[1][lane], g.slope[1], 1e-14);
  }
}

}  // namespace
}  // namespace leat
