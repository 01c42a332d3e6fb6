#include "science/statistics/ranks.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

namespace leat::science {
namespace {

/// By hand: 1 - 6 sum d^2 / (n (n^2 - 1)) without ties.
TEST(RankCorrelation, ByHand) {
  EXPECT_DOUBLE_EQ(rank_correlation({1, 2, 3, 4, 5}, {2, 1, 4, 3, 5}), 0.8);
  EXPECT_DOUBLE_EQ(rank_correlation({1, 2, 3, 4}, {0.1, 5, 5.1, 900}), 1.0);
  EXPECT_DOUBLE_EQ(rank_correlation({1, 2, 3, 4}, {4, 3, 2, 1}), -1.0);
  EXPECT_NEAR(rank_correlation({1, 1, 2, 3}, {1, 2, 3, 4}), 0.948683298050514, 1e-12);  // 4.5 / sqrt(4.5 * 5)
  EXPECT_EQ(rank_correlation({1, 1, 1}, {1, 2, 3}), 0.0);
}

/// Pairs of normal numbers with a given correlation.
std::pair<std::vector<double>, std::vector<double>> pairs(std::size_t n, double r, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::vector<double> x(n), y(n);
  for (std::size_t i = 0; i < n; ++i) {
    x[i] = normal(random);
    y[i] = r * x[i] + std::sqrt(1.0 - r * r) * normal(random);
  }
  return {x, y};
}

/// Of many samples the interval holds the true rank correlation about as often as it says: 6 / pi asin(r / 2) for
/// normal numbers. 300 of 0.9: by chance good to 0.05 (three standard deviations).
TEST(RankCorrelation, ItsIntervalHoldsTheTruthAsOftenAsItSays) {
  const double r = 0.6, truth = 6.0 / std::acos(-1.0) * std::asin(r / 2.0);
  int held = 0;
  for (std::uint64_t s = 0; s < 300; ++s) {
    const auto [x, y] = pairs(80, r, 1000 + s);
    const Interval i = rank_correlation_interval(x, y, 0.9, s, 200);
    held += i.low <= truth && truth <= i.high;
  }
  EXPECT_GE(held, 255);
  EXPECT_LE(held, 285);
}

TEST(RankCorrelation, ItsIntervalNarrowsWithTheRootOfTheNumberAndRepeats) {
  const auto [x, y] = pairs(100, 0.5, 3);
  const auto [u, v] = pairs(1600, 0.5, 3);
  const auto width = [](const Interval& i) { return i.high - i.low; };
  const Interval few = rank_correlation_interval(x, y, 0.9, 1), many = rank_correlation_interval(u, v, 0.9, 1);
  EXPECT_NEAR(width(few) / width(many), 4.0, 0.8);
  EXPECT_EQ(few.low, rank_correlation_interval(x, y, 0.9, 1).low);
  const Interval sure = rank_correlation_interval(x, x, 0.9, 1);
  EXPECT_DOUBLE_EQ(sure.low, 1.0);
  EXPECT_DOUBLE_EQ(sure.high, 1.0);
}

std::vector<std::vector<double>> columns(std::size_t rows, std::size_t count, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::vector<std::vector<double>> all(rows, std::vector<double>(count));
  for (std::size_t c = 0; c < count; ++c) {
    std::vector<std::size_t> order(rows);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::shuffle(order.begin(), order.end(), random);
    for (std::size_t r = 0; r < rows; ++r)
      all[r][c] = std::exp(0.1 * static_cast<double>(order[r]));  // far from normal
  }
  return all;
}
std::vector<double> column(const std::vector<std::vector<double>>& rows, std::size_t c) {
  std::vector<double> values;
  for (const auto& row : rows) values.push_back(row[c]);
  return values;
}
std::vector<double> sorted(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values;
}

TEST(CorrelateByRank, ReachesWhatIsWantedAndKeepsWhatStandsInEachColumn) {
  for (const std::size_t n : {50u, 200u, 1000u}) {
    const auto before = columns(n, 5, n);
    auto after = before;
    ASSERT_TRUE(correlate_by_rank(after, {{0, 2, 0.6}, {2, 3, -0.4}}));
    const double near = n < 100 ? 0.05 : 0.02;
    const auto reached = [&](std::size_t a, std::size_t b) {
      return rank_correlation(column(after, a), column(after, b));
    };
    EXPECT_NEAR(reached(0, 2), 0.6, near) << n;
    EXPECT_NEAR(reached(2, 3), -0.4, near) << n;
    EXPECT_NEAR(reached(0, 3), 0.0, near) << n << ": what is not wanted is taken out where it came by chance";
    for (std::size_t c = 0; c < 5; ++c) EXPECT_EQ(sorted(column(after, c)), sorted(column(before, c)));
    EXPECT_EQ(column(after, 1), column(before, 1)) << "in no pair";
    EXPECT_EQ(column(after, 4), column(before, 4)) << "in no pair";
  }
}

TEST(CorrelateByRank, FewRowsStillGoTheWayThatIsWanted) {
  double sum = 0.0;
  for (std::uint64_t s = 0; s < 200; ++s) {
    auto rows = columns(4, 3, s);
    ASSERT_TRUE(correlate_by_rank(rows, {{0, 1, 0.7}}));
    sum += rank_correlation(column(rows, 0), column(rows, 1));
  }
  EXPECT_NEAR(sum / 200.0, 0.7, 0.2);
}

TEST(CorrelateByRank, RefusesWhatExcludesItself) {
  const auto before = columns(50, 3, 1);
  auto after = before;
  EXPECT_FALSE(correlate_by_rank(after, {{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, -0.9}}));
  EXPECT_EQ(after, before);
}

}  // namespace
}  // namespace leat::science
