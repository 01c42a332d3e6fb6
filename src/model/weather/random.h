// Random numbers that are the same on every machine: the engine's bits are fixed by the language standard, what is made
// of them here by arithmetic that is written out (the standard's own distributions differ between libraries).
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

namespace leat::model {

class Random {
  std::mt19937_64 engine_;

 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}

  /// Above 0 and below 1.
  double uniform() { return (static_cast<double>(engine_() >> 12) + 0.5) * 0x1p-52; }

  /// Two independent normal numbers, mean 0 and spread 1 (Box and Muller 1958).
  std::array<double, 2> normals() {
    const double r = std::sqrt(-2.0 * std::log(uniform()));
    const double turn = 2.0 * std::numbers::pi * uniform();
    return {r * std::cos(turn), r * std::sin(turn)};
  }
};

}  // namespace leat::model
