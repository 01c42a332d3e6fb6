#include "numerics/column_groups.h"

#include <gtest/gtest.h>

#include <random>
#include <set>

namespace leat::numerics {
namespace {

/// Every column once, and no row twice in a group.
void expect_apart(const Pattern& p, std::size_t columns, const std::vector<std::vector<int>>& groups) {
  std::set<int> seen;
  for (const auto& group : groups) {
    std::set<int> rows;
    for (const int j : group) {
      EXPECT_TRUE(seen.insert(j).second) << j;
      for (int k = p.starts[static_cast<std::size_t>(j)]; k < p.starts[static_cast<std::size_t>(j) + 1]; ++k)
        EXPECT_TRUE(rows.insert(p.rows[static_cast<std::size_t>(k)]).second) << j;
    }
  }
  EXPECT_EQ(seen.size(), columns);
}

TEST(ColumnGroups, OfATridiagonalMatrixAreThree) {
  Pattern p;
  p.starts.push_back(0);
  for (int j = 0; j < 20; ++j) {
    for (int i = std::max(0, j - 1); i <= std::min(19, j + 1); ++i) p.rows.push_back(i);
    p.starts.push_back(static_cast<int>(p.rows.size()));
  }
  const auto groups = group_columns(p, 20);
  expect_apart(p, 20, groups);
  EXPECT_EQ(groups.size(), 3u);
}

TEST(ColumnGroups, OfAFullMatrixAreItsColumns) {
  Pattern p{{0, 3, 6, 9}, {0, 1, 2, 0, 1, 2, 0, 1, 2}};
  EXPECT_EQ(group_columns(p, 3).size(), 3u);
  EXPECT_EQ(group_columns(p, 2).size(), 2u);
}

TEST(ColumnGroups, AreApartInRandomMatrices) {
  std::mt19937 random(1);
  for (int turn = 0; turn < 50; ++turn) {
    Pattern p;
    p.starts.push_back(0);
    for (int j = 0; j < 60; ++j) {
      for (int i = 0; i < 60; ++i)
        if (i == j || random() % 12 == 0) p.rows.push_back(i);
      p.starts.push_back(static_cast<int>(p.rows.size()));
    }
    expect_apart(p, 60, group_columns(p, 60));
  }
}

}  // namespace
}  // namespace leat::numerics
