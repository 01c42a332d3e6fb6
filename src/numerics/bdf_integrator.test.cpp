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
    return Then::go_on;
  });
}

TEST(BdfIntegrator, SparseAndDenseMatricesGiveTheSameRun) {
  // A chain of stores, each draining into the next; the last one is fed back slowly.
  const std::size_t n = 30;
  System dense{n, [](double, auto y, auto d) {
                 for (std::size_t i = 0; i < y.size(); ++i) {
                   const double in = i == 0 ? 0.01 * y[y.size() - 1] : (1.0 + static_cast<double>(i)) * y[i - 1];
                   d[i] = in - (2.0 + static_cast<double>(i)) * y[i];
                 }
                 return true;
               }};
  System sparse = dense;
  sparse.pattern.starts.push_back(0);
  for (int j = 0; j < static_cast<int>(n); ++j) {
    for (int i = 0; i < static_cast<int>(n); ++i)
      if (i == j || i == j + 1 || (i == 0 && j == static_cast<int>(n) - 1)) sparse.pattern.rows.push_back(i);
    sparse.pattern.starts.push_back(static_cast<int>(sparse.pattern.rows.size()));
  }
  const auto entry = [](int i, int j) {
    if (i == j) return -(2.0 + i);
    return i == 0 ? 0.01 : 1.0 + i;
  };
  sparse.jacobian = [&](double, auto, auto values) {
    for (int j = 0, k = 0; j < static_cast<int>(n); ++j)
      for (; k < sparse.pattern.starts[static_cast<std::size_t>(j) + 1]; ++k)
        values[static_cast<std::size_t>(k)] = entry(sparse.pattern.rows[static_cast<std::size_t>(k)], j);
    return true;
  };
  std::vector<double> start(n, 0.0);
  start[0] = 1.0;
  std::vector<std::vector<double>> ends;
  for (System* system : {&dense, &sparse}) {
    auto integrator = make_bdf_integrator(*system, {1e-9, std::vector<double>(n, 1e-12)});
    integrator->start(0.0, start);
    ASSERT_TRUE(integrator->advance(1.0).reached);
    ends.emplace_back(integrator->state().begin(), integrator->state().end());
  }
  for (std::size_t i = 0; i < n; ++i) EXPECT_NEAR(ends[0][i], ends[1][i], 1e-8);
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
