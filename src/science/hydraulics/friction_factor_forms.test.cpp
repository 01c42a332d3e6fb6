#include "science/hydraulics/friction_factor_forms.h"

#include <gtest/gtest.h>

namespace leat::science {
namespace {

/// Largest difference from Colebrook, as a share, over the form's range.
template <class Form>
double worst(Form form, double re_low, double rough_low, double rough_high) {
  double most = 0.0;
  for (double re = re_low; re <= 1e8; re *= 1.25)
    for (double rr = rough_low; rr <= rough_high; rr *= 1.5) {
      const double exact = friction_factor_colebrook(Number<>(re), Number<>(rr)).si();
      most = std::max(most, std::abs(form(Number<>(re), Number<>(rr)).si() / exact - 1.0));
    }
  return most;
}

TEST(FrictionForms, StayWithinTheErrorTheyState) {
  EXPECT_LT(worst(friction_factor_zigrang_sylvester_2<double>, 4e3, 4e-5, 0.05), 0.0012);
  EXPECT_LT(worst(friction_factor_swamee_jain<double>, 4e3, 1e-6, 0.05), 0.034);
  EXPECT_LT(worst(friction_factor_swamee_jain<double>, 4e3, 1e-6, 0.001), 0.0195);
  EXPECT_LT(worst(friction_factor_churchill<double>, 4e3, 1e-6, 0.05), 0.032);
}

TEST(FrictionForms, ColebrookLiesBetweenItsTwoLimits) {
  for (const double rr : {1e-5, 1e-4, 1e-3, 0.03}) {
    const double rough = friction_factor_rough(Number<>(rr)).si();
    EXPECT_NEAR(friction_factor_colebrook(Number<>(1e10), Number<>(rr)).si(), rough, 0.002 * rough);
    for (double re = 4e3; re < 1e8; re *= 3.0) {
      const double f = friction_factor_colebrook(Number<>(re), Number<>(rr)).si();
      EXPECT_GT(f, rough);
      EXPECT_GT(f, friction_factor_smooth(Number<>(re)).si());
    }
  }
}

TEST(FrictionForms, TransitionCubicJoinsItsNeighbours) {
  for (const double rr : {0.0, 6e-5, 1e-3}) {
    EXPECT_NEAR(friction_factor_transition_cubic(Number<>(2000.0), Number<>(rr)).si(), 0.032, 1e-12);
    const double end = std::pow(-2.0 * std::log10(rr / 3.7 + 5.74 / std::pow(4000.0, 0.9)), -2.0);
    EXPECT_NEAR(friction_factor_transition_cubic(Number<>(4000.0), Number<>(rr)).si(), end, 1e-6);
  }
}

TEST(FrictionForms, ChurchillIsLaminarWhenSlow) {
  EXPECT_NEAR(friction_factor_churchill(Number<>(500.0), Number<>(1e-4)).si(), 64.0 / 500.0, 1e-6);
}

}  // namespace
}  // namespace leat::science
