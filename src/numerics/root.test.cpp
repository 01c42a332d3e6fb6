#include "numerics/root.h"

#include <gtest/gtest.h>

namespace leat::numerics {
namespace {

TEST(BracketedRoot, FindsSteepFlatAndEndRoots) {
  EXPECT_NEAR(bracketed_root([](double x) { return x * x - 2.0; }, 0.0, 2.0, 1e-14), std::sqrt(2.0), 1e-13);
  EXPECT_NEAR(bracketed_root([](double x) { return std::pow(x, 9.0) - 1e-9; }, 0.0, 2.0, 1e-13), 0.1, 1e-12);
  EXPECT_NEAR(bracketed_root([](double x) { return std::tanh(50.0 * (x - 0.3)); }, -10.0, 10.0, 1e-13), 0.3, 1e-12);
  EXPECT_EQ(bracketed_root([](double x) { return x; }, 0.0, 1.0, 1e-12), 0.0);
}

TEST(BracketedRoot, WithoutASignChangeGivesTheNearerEnd) {
  EXPECT_EQ(bracketed_root([](double x) { return 1.0 + x; }, 0.0, 1.0, 1e-12), 0.0);
}

}  // namespace
}  // namespace leat::numerics
