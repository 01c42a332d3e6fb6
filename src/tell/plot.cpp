#include "tell/plot.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace leat::tell {
namespace {

/// U+2800 and up, as UTF-8.
std::string braille(unsigned dots) {
  const unsigned code = 0x2800 + dots;
  return {static_cast<char>(0xE0 | (code >> 12)), static_cast<char>(0x80 | ((code >> 6) & 0x3F)),
          static_cast<char>(0x80 | (code & 0x3F))};
}

/// Bit of a dot in its cell: two across, four down.
unsigned bit_of(std::size_t x, std::size_t y) {
  static constexpr unsigned bits[4][2] = {{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}};
  return bits[y][x];
}

class Canvas {
  std::size_t columns_, rows_;
  std::vector<unsigned> cells_;

 public:
  Canvas(std::size_t columns, std::size_t rows) : columns_(columns), rows_(rows), cells_(columns * rows, 0u) {}
  void dot(std::size_t x, std::size_t y) { cells_[(y / 4) * columns_ + x / 2] |= bit_of(x % 2, y % 4); }
  std::string row(std::size_t r) const {
    std::string line;
    for (std::size_t c = 0; c < columns_; ++c) line += braille(cells_[r * columns_ + c]);
    return line;
  }
  std::size_t width() const { return columns_ * 2; }
  std::size_t height() const { return rows_ * 4; }
};

}  // namespace

std::string braille_plot(const std::vector<double>& values, std::size_t columns, std::size_t rows) {
  double low = 1e300, high = -1e300;
  for (const double v : values)
    if (std::isfinite(v)) {
      low = std::min(low, v);
      high = std::max(high, v);
    }
  if (low > high) return {};
  if (high - low < 1e-9) {
    low -= 0.5;
    high += 0.5;
  }
  Canvas canvas(columns, rows);
  std::size_t last_y = 0;
  bool have_last = false;
  for (std::size_t x = 0; x < canvas.width(); ++x) {
    const double position =
        static_cast<double>(x) / static_cast<double>(canvas.width() - 1) * static_cast<double>(values.size() - 1);
    const double v = values[static_cast<std::size_t>(std::lround(position))];
    if (!std::isfinite(v)) {
      have_last = false;
      continue;
    }
    const auto y =
        static_cast<std::size_t>(std::lround((high - v) / (high - low) * static_cast<double>(canvas.height() - 1)));
    const std::size_t from = have_last ? std::min(last_y, y) : y, to = have_last ? std::max(last_y, y) : y;
    for (std::size_t k = from; k <= to; ++k) canvas.dot(x, k);
    last_y = y;
    have_last = true;
  }
  std::string out;
  for (std::size_t r = 0; r < rows; ++r) {
    const std::string scale = r == 0          ? fmt::format("{:7.1f}", std::abs(high) < 0.05 ? 0.0 : high)
                              : r + 1 == rows ? fmt::format("{:7.1f}", std::abs(low) < 0.05 ? 0.0 : low)
                                              : std::string(7, ' ');
    out += fmt::format("  {} {}\n", scale, canvas.row(r));
  }
  return out;
}

}  // namespace leat::tell
