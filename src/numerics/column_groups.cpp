#include "numerics/column_groups.h"

#include <algorithm>
#include <numeric>

namespace leat::numerics {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

std::vector<std::vector<int>> group_columns(const Pattern& pattern, std::size_t columns) {
  const auto first = [&](int j) { return pattern.rows.begin() + pattern.starts[at(j)]; };
  const auto last = [&](int j) { return pattern.rows.begin() + pattern.starts[at(j) + 1]; };
  const int rows = pattern.rows.empty() ? 0 : *std::max_element(pattern.rows.begin(), pattern.rows.end()) + 1;
  std::vector<int> order(columns);
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return last(a) - first(a) > last(b) - first(b); });
  std::vector<std::vector<int>> groups;
  std::vector<std::vector<bool>> taken;  // rows of each group
  for (const int j : order) {
    std::size_t g = 0;
    while (g < groups.size() && std::any_of(first(j), last(j), [&](int row) { return taken[g][at(row)]; })) ++g;
    if (g == groups.size()) groups.emplace_back(), taken.emplace_back(at(rows), false);
    groups[g].push_back(j);
    std::for_each(first(j), last(j), [&](int row) { taken[g][at(row)] = true; });
  }
  return groups;
}

}  // namespace leat::numerics
