#include "numerics/elimination.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <random>

#include "numerics/pack.h"

namespace leat::numerics {
namespace {

/// A few entries a column beside the diagonal, which outweighs them.
Pattern random_pattern(std::size_t n, std::mt19937& random) {
  Pattern p;
  p.starts.push_back(0);
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t i = 0; i < n; ++i)
      if (i == j || random() % n < 4) p.rows.push_back(static_cast<int>(i));
    p.starts.push_back(static_cast<int>(p.rows.size()));
  }
  return p;
}

TEST(Elimination, SolvesWhatADenseSolverSolves) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> number(-1.0, 1.0);
  for (const std::size_t n : {1u, 2u, 5u, 30u, 120u}) {
    const Pattern pattern = random_pattern(n, random);
    const Elimination elimination(pattern);
    ASSERT_EQ(elimination.size(), n);
    Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(static_cast<int>(n), static_cast<int>(n));
    std::vector<double> a(elimination.entries(), 0.0), x(n), room(n);
    for (std::size_t j = 0; j < n; ++j)
      for (auto k = static_cast<std::size_t>(pattern.starts[j]); k < static_cast<std::size_t>(pattern.starts[j + 1]);
           ++k) {
        const auto i = static_cast<std::size_t>(pattern.rows[k]);
        const double value = number(random) + (i == j ? 8.0 : 0.0);
        dense(static_cast<int>(i), static_cast<int>(j)) = a[elimination.place(i, j)] = value;
      }
    Eigen::VectorXd right(static_cast<int>(n));
    for (std::size_t i = 0; i < n; ++i) right(static_cast<int>(i)) = x[i] = number(random);
    elimination.factor<double>(a);
    elimination.solve<double>(a, x, room);
    const Eigen::VectorXd expected = dense.partialPivLu().solve(right);
    for (std::size_t i = 0; i < n; ++i) EXPECT_NEAR(x[i], expected(static_cast<int>(i)), 1e-13);
  }
}

TEST(Elimination, AnArrowPointingDownFillsInNothing) {
  Pattern p;
  p.starts = {0, 4, 6, 8, 10};
  p.rows = {0, 1, 2, 3, 0, 1, 0, 2, 0, 3};  // all hang on the first
  EXPECT_EQ(Elimination(p).entries(), p.entries());
}

TEST(Elimination, PacksSolveEachLaneAsIfAlone) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> number(-1.0, 1.0);
  const std::size_t n = 25;
  const Pattern pattern = random_pattern(n, random);
  const Elimination elimination(pattern);
  std::vector<Pack> a(elimination.entries()), x(n), room(n);
  for (std::size_t j = 0; j < n; ++j)
    for (auto k = static_cast<std::size_t>(pattern.starts[j]); k < static_cast<std::size_t>(pattern.starts[j + 1]);
         ++k) {
      const auto i = static_cast<std::size_t>(pattern.rows[k]);
      a[elimination.place(i, j)] = Pack::of_each([&](std::size_t) { return number(random) + (i == j ? 8.0 : 0.0); });
    }
  for (Pack& b : x) b = Pack::of_each([&](std::size_t) { return number(random); });
  std::vector<std::vector<double>> alone;
  for (std::size_t lane = 0; lane < pack_width; ++lane) {
    std::vector<double> m, y, room_of_one(n);
    for (const Pack& entry : a) m.push_back(entry[lane]);
    for (const Pack& b : x) y.push_back(b[lane]);
    elimination.factor<double>(m);
    elimination.solve<double>(m, y, room_of_one);
    alone.push_back(y);
  }
  elimination.factor<Pack>(a);
  elimination.solve<Pack>(a, x, room);
  for (std::size_t lane = 0; lane < pack_width; ++lane)
    for (std::size_t i = 0; i < n; ++i) EXPECT_EQ(x[i][lane], alone[lane][i]);
}

}  // namespace
}  // namespace leat::numerics
