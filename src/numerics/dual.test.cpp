#include "numerics/dual.h"

#include <gtest/gtest.h>

namespace leat {
namespace {

template <class F>
void expect_slope(F f, double x) {
  const auto d = f(Dual<2>::seed(x, 1));
  const double h = 1e-6 * (1.0 + std::abs(x));
  const double difference = (f(Dual<2>(x + h)).value - f(Dual<2>(x - h)).value) / (2.0 * h);
  EXPECT_NEAR(d.slope[1], difference, 1e-6 * (1.0 + std::abs(difference)));
  EXPECT_EQ(d.slope[0], 0.0);
}

TEST(Dual, SlopesMatchDifferences) {
  using std::exp, std::log, std::sqrt, std::pow, std::sin, std::cos, std::tanh, std::cbrt, std::log10;
  for (const double x : {0.3, 1.7, 4.2}) {
    expect_slope([](auto v) { return exp(-v * v) / (1.0 + v); }, x);
    expect_slope([](auto v) { return log(v) * sqrt(v) + log10(v); }, x);
    expect_slope([](auto v) { return pow(v, 2.7) - cbrt(v); }, x);
    expect_slope([](auto v) { return sin(v) * cos(v) + tanh(v); }, x);
    expect_slope([](auto v) { return pow(2.35, v) + abs(1.0 - v); }, x);
  }
}

}  // namespace
}  // namespace leat
