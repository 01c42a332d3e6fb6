#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "numerics/integrator.h"

namespace leat::numerics {
namespace {

TEST(BdfIntegrator, StiffDecayMeetsItsClosedForm) {
  // y0' = -1000 (y0 - cos t); y1' = -y1.
  System s{2,
           [](double t, auto y, auto d) {
             d[0] = -1000.0 * (y[0] - std::cos(t));
             d[1] = -y[1];
             return true;
           },
           {}};
  auto integrator = make_bdf_integrator(s, {1e-8, {1e-10, 1e-10}});
  const double start[] = {0.0, 1.0};
  integrator->start(0.0, start);
  ASSERT_TRUE(integrator->advance(2.0).reached);
  EXPECT_NEAR(integrator->state()[1], std::exp(-2.0), 1e-7);
  EXPECT_NEAR(integrator->state()[0], std::cos(2.0) + 1e-3 * std::sin(2.0), 1e-5);
}

TEST(BdfIntegrator, StopsExactlyAndNeverLooksBeyond) {
  double latest = 0.0;
  System s{1,
           [&](double t, auto, auto d) {
             latest = std::max(latest, t);
             d[0] = 1.0;
             return true;
           },
           {}};
  auto integrator = make_bdf_integrator(s, {1e-6, {1e-9}});
  const double start[] = {0.0};
  integrator->start(0.0, start);
  const Advance a = integrator->advance(3.3);
  EXPECT_TRUE(a.reached);
  EXPECT_EQ(a.time, 3.3);
  EXPECT_LE(latest, 3.3);
}

TEST(BdfIntegrator, DenseOutputFollowsTheStep) {
  System s{1,
           [](double, auto y, auto d) {
             d[0] = -y[0];
             return true;
           },
           {}};
  auto integrator = make_bdf_integrator(s, {1e-9, {1e-12}});
  const double start[] = {1.0};
  integrator->start(0.0, start);
  integrator->advance(1.0, [](const Step& step) {
    double y = 0.0, slope = 0.0;
    const double middle = 0.5 * (step.from + step.to);
    step.at(middle, {&y, 1});
    step.slope_at(middle, {&slope, 1});
    EXPECT_NEAR(y, std::exp(-middle), 1e-6);
    EXPECT_NEAR(slope, -std::exp(-middle), 1e-4);
  });
}

TEST(BdfIntegrator, SaysWhereItGaveUp) {
  System s{2,
           [](double t, auto, auto d) {
             d[0] = 0.0;
             d[1] = 1.0 / (1.0 - t);
             return t < 1.0;
           },
           {}};
  auto integrator = make_bdf_integrator(s, {1e-6, {1e-9, 1e-9}});
  const double start[] = {1.0, 0.0};
  integrator->start(0.0, start);
  const Advance a = integrator->advance(2.0);
  EXPECT_FALSE(a.reached);
  EXPECT_LE(a.time, 1.0);
  EXPECT_GT(a.time, 0.5);
  EXPECT_FALSE(a.said.empty());
}

}  // namespace
}  // namespace leat::numerics
