// Gaussian elimination for matrices that all have the same pattern: the order and every single operation are found
// once, so that many matrices, or many members of an ensemble side by side, only do the arithmetic.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "numerics/integrator.h"

namespace leat::numerics {

/// Solves A x = b without pivoting: for matrices whose diagonal carries them, such as 1/h - J of a stiff problem at a
/// step that follows it. What a vanishing pivot leaves is not finite.
class Elimination {
 public:
  /// Column by column; every diagonal entry must be in it. Rows and columns are taken in an order of approximate
  /// minimum degree.
  explicit Elimination(const Pattern& pattern);

  std::size_t size() const { return order_.size(); }
  /// Entries of the factors, with what fills in. The matrix is handed over in as many places, unused ones zero.
  std::size_t entries() const { return columns_.size(); }
  /// Where an entry of the pattern stands.
  std::size_t place(std::size_t row, std::size_t column) const;

  /// Turns the matrix into its factors, where it stands.
  template <class T>
  void factor(std::span<T> a) const {
    const Product* next = products_.data();
    for (std::size_t i = 0; i < size(); ++i)
      for (std::size_t p = starts_[i]; p < starts_[i + 1]; ++p) {
        T sum = a[p];
        for (const Product* end = next + counts_[p]; next != end; ++next) sum = sum - a[next->left] * a[next->above];
        a[p] = p < diagonals_[i] ? T(sum * a[diagonals_[columns_[p]]]) : p == diagonals_[i] ? T(1.0 / sum) : sum;
      }
  }

  /// Solves with the factors; `room` is as long as x.
  template <class T>
  void solve(std::span<const T> a, std::span<T> x, std::span<T> room) const {
    for (std::size_t i = 0; i < size(); ++i) {
      T sum = x[order_[i]];
      for (std::size_t p = starts_[i]; p < diagonals_[i]; ++p) sum = sum - a[p] * room[columns_[p]];
      room[i] = sum;
    }
    for (std::size_t i = size(); i-- > 0;) {
      T sum = room[i];
      for (std::size_t p = diagonals_[i] + 1; p < starts_[i + 1]; ++p) sum = sum - a[p] * room[columns_[p]];
      room[i] = sum * a[diagonals_[i]];
    }
    for (std::size_t i = 0; i < size(); ++i) x[order_[i]] = room[i];
  }

 private:
  std::vector<std::uint32_t> order_, rank_;                  ///< the i-th that is eliminated; and the other way round
  std::vector<std::uint32_t> starts_, columns_, diagonals_;  ///< of the factors, row by row, in that order
  /// What is taken off an entry: one to its left times one above it.
  struct Product {
    std::uint32_t left, above;
  };
  std::vector<Product> products_;      ///< entry by entry
  std::vector<std::uint32_t> counts_;  ///< of each entry
};

}  // namespace leat::numerics
