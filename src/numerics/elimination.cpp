#include "numerics/elimination.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <numeric>
#include <set>

namespace leat::numerics {
namespace {

using Index = std::uint32_t;

std::vector<Index> minimum_degree(const Pattern& pattern) {
  const auto n = static_cast<int>(pattern.starts.size() - 1);
  std::vector<Eigen::Triplet<double>> entries;
  for (int j = 0; j < n; ++j)
    for (int k = pattern.starts[static_cast<std::size_t>(j)]; k < pattern.starts[static_cast<std::size_t>(j) + 1]; ++k)
      entries.emplace_back(pattern.rows[static_cast<std::size_t>(k)], j, 1.0);
  Eigen::SparseMatrix<double> matrix(n, n);
  matrix.setFromTriplets(entries.begin(), entries.end());
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> found;
  Eigen::AMDOrdering<int>()(matrix, found);
  std::vector<Index> order;
  for (int i = 0; i < n; ++i) order.push_back(static_cast<Index>(found.indices()[i]));
  return order;
}

std::vector<Index> ranks(const std::vector<Index>& order) {
  std::vector<Index> rank(order.size());
  for (std::size_t i = 0; i < order.size(); ++i) rank[order[i]] = static_cast<Index>(i);
  return rank;
}

/// Rows of the factors, with what fills in.
std::vector<std::set<Index>> filled(const Pattern& pattern, const std::vector<Index>& order) {
  const std::vector<Index> rank = ranks(order);
  std::vector<std::set<Index>> rows(order.size());
  for (std::size_t j = 0; j < order.size(); ++j)
    for (auto k = static_cast<std::size_t>(pattern.starts[j]); k < static_cast<std::size_t>(pattern.starts[j + 1]); ++k)
      rows[rank[static_cast<std::size_t>(pattern.rows[k])]].insert(rank[j]);
  // What a row gets from the rows above it that it still holds.
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (auto k = rows[i].begin(); *k < i; ++k) rows[i].insert(rows[*k].upper_bound(*k), rows[*k].end());
  return rows;
}

/// The same elimination in another order: rows that do not wait for each other come one after the other, so that a
/// machine works on several at a time. Nothing more fills in.
std::vector<Index> side_by_side(const Pattern& pattern, const std::vector<Index>& order) {
  const std::vector<std::set<Index>> rows = filled(pattern, order);
  std::vector<Index> waits(order.size(), 0), sorted(order.size());
  for (Index i = 0; i < rows.size(); ++i)
    for (const Index k : rows[i])
      if (k < i) waits[i] = std::max(waits[i], waits[k] + 1);
  for (bool changed = true; changed;) {  // what a row above holds of this one counts as well
    changed = false;
    for (Index i = 0; i < rows.size(); ++i)
      for (const Index k : rows[i])
        if (const Index first = std::min(i, k), last = std::max(i, k); first != last && waits[last] <= waits[first]) {
          waits[last] = waits[first] + 1;
          changed = true;
        }
  }
  std::iota(sorted.begin(), sorted.end(), Index{0});
  std::stable_sort(sorted.begin(), sorted.end(), [&](Index a, Index b) { return waits[a] < waits[b]; });
  for (Index& i : sorted) i = order[i];
  return sorted;
}

}  // namespace

Elimination::Elimination(const Pattern& pattern)
    : order_(side_by_side(pattern, minimum_degree(pattern))), rank_(ranks(order_)) {
  const std::size_t n = order_.size();
  const std::vector<std::set<Index>> rows = filled(pattern, order_);
  starts_.push_back(0);
  for (std::size_t i = 0; i < n; ++i) {
    for (const Index column : rows[i]) {
      if (column == i) diagonals_.push_back(static_cast<Index>(columns_.size()));
      columns_.push_back(column);
    }
    starts_.push_back(static_cast<Index>(columns_.size()));
  }
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t p = starts_[i]; p < starts_[i + 1]; ++p) {
      const std::size_t before = products_.size();
      for (std::size_t left = starts_[i]; left < std::min<std::size_t>(p, diagonals_[i]); ++left) {
        const std::size_t k = columns_[left];
        const auto from = columns_.begin() + diagonals_[k] + 1, to = columns_.begin() + starts_[k + 1];
        if (const auto found = std::lower_bound(from, to, columns_[p]); found != to && *found == columns_[p])
          products_.push_back({static_cast<Index>(left), static_cast<Index>(found - columns_.begin())});
      }
      counts_.push_back(static_cast<Index>(products_.size() - before));
    }
}

std::size_t Elimination::place(std::size_t row, std::size_t column) const {
  const auto from = columns_.begin() + starts_[rank_[row]], to = columns_.begin() + starts_[rank_[row] + 1];
  return static_cast<std::size_t>(std::lower_bound(from, to, rank_[column]) - columns_.begin());
}

}  // namespace leat::numerics
