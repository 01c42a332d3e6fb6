// A row of numbers, read one after another, that decides everything about a generated thing. Zero is always the
// plainest choice, and what is read past the end is zero, so that a shorter or smaller row makes a plainer thing.
#pragma once

#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

namespace leat::random {

inline constexpr std::uint32_t kRange = 1u << 20;  ///< numbers lie below it

class Choices {
  std::span<const std::uint32_t> numbers_;
  std::size_t next_ = 0;

 public:
  explicit Choices(std::span<const std::uint32_t> numbers) : numbers_(numbers) {}

  /// 0 to 1, 1 not reached.
  double share() { return next_ < numbers_.size() ? static_cast<double>(numbers_[next_++] % kRange) / kRange : 0.0; }
  /// 0 to n - 1.
  int below(int n) { return static_cast<int>(share() * n); }
  int between(int low, int high) { return low + below(high - low + 1); }
  bool chance(double probability) { return share() > 1.0 - probability; }
  double evenly(double low, double high) { return low + (high - low) * share(); }
  double by_size(double low, double high) { return low * std::pow(high / low, share()); }
  template <class T>
  const T& one_of(const std::vector<T>& list) {
    return list[static_cast<std::size_t>(below(static_cast<int>(list.size())))];
  }
};

}  // namespace leat::random
