#include "numerics/elimination.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
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

}  // namespace

Elimination::Elimination(const Pattern& pattern) : order_(minimum_degree(pattern)), rank_(order_.size()) {
  const std::size_t n = order_.size();
  for (std::size_t i = 0; i < n; ++i) rank_[order_[i]] = static_cast<Index>(i);
  std::vector<std::set<Index>> rows(n);
  for (std::size_t j = 0; j < n; ++j)
    for (auto k = static_cast<std::size_t>(pattern.starts[j]); k < static_cast<std::size_t>(pattern.starts[j + 1]); ++k)
      rows[rank_[static_cast<std::size_t>(pattern.rows[k])]].insert(rank_[j]);
  // What a row gets from the rows above it that it still holds.
  for (std::size_t i = 0; i < n; ++i)
    for (auto k = rows[i].begin(); *k < i; ++k) rows[i].insert(rows[*k].upper_bound(*k), rows[*k].end());
  starts_.push_back(0);
  for (std::size_t i = 0; i < n; ++i) {
    for (const Index column : rows[i]) {
      if (column == i) diagonals_.push_back(static_cast<Index>(columns_.size()));
      columns_.push_back(column);
    }
    starts_.push_back(static_cast<Index>(columns_.size()));
  }
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t p = starts_[i]; p < diagonals_[i]; ++p) {
      const std::size_t k = columns_[p];
      for (std::size_t q = diagonals_[k] + 1; q < starts_[k + 1]; ++q)
        targets_.push_back(static_cast<Index>(
            std::lower_bound(columns_.begin() + starts_[i], columns_.begin() + starts_[i + 1], columns_[q]) -
            columns_.begin()));
    }
}

std::size_t Elimination::place(std::size_t row, std::size_t column) const {
  const auto from = columns_.begin() + starts_[rank_[row]], to = columns_.begin() + starts_[rank_[row] + 1];
  return static_cast<std::size_t>(std::lower_bound(from, to, rank_[column]) - columns_.begin());
}

}  // namespace leat::numerics
