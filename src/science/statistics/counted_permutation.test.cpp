#include "science/statistics/counted_permutation.h"

#include <gtest/gtest.h>

#include <array>
#include <random>
#include <vector>

namespace leat::science {
namespace {

constexpr std::array kRaft = {118.0, 142.0, 96.0, 131.0, 155.0, 109.0};
constexpr std::array kGravel = {88.0, 121.0, 104.0, 97.0, 133.0, 79.0, 110.0};

/// A group of whole or broken grams, alike on every machine.
std::vector<double> some(std::size_t n, double step, std::mt19937_64& random) {
  std::vector<double> values;
  for (std::size_t i = 0; i < n; ++i) values.push_back(step * static_cast<double>(random() % 60));
  return values;
}

TEST(CountedPermutation, IsTheSameAsEveryArrangement) {
  std::mt19937_64 random(7);
  for (const double step : {1.0, 0.1, 0.01})
    for (std::size_t a = 1; a < 8; ++a) {
      const auto first = some(a, step, random), second = some(9 - a + 3, step, random);
      const auto listed = permutation_test(first, second), counted = permutation_test_counted(first, second);
      ASSERT_TRUE(listed && counted);
      EXPECT_NEAR(counted->p, listed->p, 1e-12);
      EXPECT_NEAR(counted->difference, listed->difference, 1e-9);
      EXPECT_DOUBLE_EQ(counted->arrangements, listed->arrangements);
    }
}

TEST(CountedPermutation, RaftAgainstGravel) {
  // 161 of 1716 arrangements, counted one by one by an independent program.
  EXPECT_NEAR(permutation_test_counted(kRaft, kGravel)->p, 161.0 / 1716.0, 1e-13);
}

TEST(CountedPermutation, ManyPlantsKnowNoDirection) {
  std::mt19937_64 random(3);
  const auto first = some(40, 1.0, random), second = some(45, 1.0, random);
  const auto one = permutation_test_exact(first, second), other = permutation_test_exact(second, first);
  ASSERT_TRUE(one && other);
  EXPECT_NEAR(one->p, other->p, 1e-10);
  EXPECT_NEAR(one->difference, -other->difference, 1e-9);
}

TEST(CountedPermutation, AlikeGroupsGiveOne) {
  const std::vector<double> alike(15, 4.0);
  EXPECT_NEAR(permutation_test_exact(alike, alike)->p, 1.0, 1e-12);
}

TEST(CountedPermutation, SaysWhenItCannot) {
  const std::vector<double> odd = {1.0 / 3.0, 2.0, 5.0, 1.0};
  EXPECT_FALSE(permutation_test_counted(odd, odd));
  EXPECT_FALSE(permutation_test_counted({}, odd));
}

}  // namespace
}  // namespace leat::science
