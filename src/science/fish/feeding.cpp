#include "science/fish/feeding.h"

#include <algorithm>

namespace leat::science {

// Leitritz & Lewis 1980, Trout and Salmon Culture, University of California, as reprinted by North Carolina
// Cooperative Extension: percent of body weight per day, dry pellets; one row per °F, columns by length class.
constexpr TroutTable kPrinted{{
    // clang-format off
    {2.7, 2.2, 1.7, 1.3, 1.0, 0.8, 0.7, 0.6, 0.5, 0.5, 0.4},  // 36
    {2.7, 2.3, 1.8, 1.4, 1.1, 0.9, 0.7, 0.6, 0.5, 0.5, 0.4},  // 37
    {2.9, 2.4, 2.0, 1.5, 1.2, 0.9, 0.8, 0.7, 0.6, 0.5, 0.5},  // 38
    {3.0, 2.5, 2.2, 1.7, 1.3, 0.9, 0.8, 0.7, 0.6, 0.6, 0.5},  // 39
    {3.2, 2.6, 2.2, 1.7, 1.3, 1.0, 0.9, 0.8, 0.7, 0.6, 0.5},  // 40
    {3.3, 2.8, 2.2, 1.8, 1.4, 1.1, 0.9, 0.8, 0.7, 0.6, 0.5},  // 41
    {3.5, 2.8, 2.4, 1.8, 1.4, 1.2, 0.9, 0.8, 0.7, 0.6, 0.5},  // 42
    {3.6, 3.0, 2.5, 1.9, 1.4, 1.2, 1.0, 0.9, 0.8, 0.7, 0.6},  // 43
    {3.8, 3.1, 2.5, 2.0, 1.5, 1.3, 1.0, 0.9, 0.8, 0.8, 0.6},  // 44
    {4.0, 3.3, 2.7, 2.1, 1.6, 1.3, 1.1, 1.0, 0.9, 0.8, 0.7},  // 45
    {4.1, 3.4, 2.8, 2.2, 1.7, 1.4, 1.2, 1.0, 0.9, 0.8, 0.7},  // 46
    {4.3, 3.6, 3.0, 2.3, 1.7, 1.4, 1.2, 1.0, 0.9, 0.8, 0.7},  // 47
    {4.5, 3.8, 3.0, 2.4, 1.8, 1.5, 1.3, 1.1, 1.0, 0.9, 0.8},  // 48
    {4.7, 3.9, 3.2, 2.5, 1.9, 1.5, 1.3, 1.1, 1.0, 0.9, 0.8},  // 49
    {5.2, 4.3, 3.4, 2.7, 2.0, 1.7, 1.4, 1.2, 1.1, 1.0, 0.9},  // 50
    {5.4, 4.5, 3.5, 2.8, 2.1, 1.7, 1.5, 1.3, 1.1, 1.0, 0.9},  // 51
    {5.4, 4.5, 3.6, 2.8, 2.1, 1.7, 1.5, 1.3, 1.1, 1.0, 0.9},  // 52
    {5.6, 4.7, 3.8, 2.9, 2.2, 1.8, 1.5, 1.3, 1.1, 1.1, 1.0},  // 53
    {5.8, 4.9, 3.9, 3.0, 2.3, 1.9, 1.6, 1.4, 1.3, 1.1, 1.0},  // 54
    {6.1, 5.1, 4.2, 3.2, 2.4, 2.0, 1.6, 1.4, 1.3, 1.1, 1.0},  // 55
    {6.3, 5.3, 4.3, 3.3, 2.5, 2.0, 1.7, 1.5, 1.3, 1.2, 1.0},  // 56
    {6.7, 5.5, 4.5, 3.5, 2.6, 2.1, 1.8, 1.5, 1.4, 1.2, 1.1},  // 57
    {7.0, 5.8, 4.8, 3.6, 2.7, 2.2, 1.9, 1.6, 1.4, 1.3, 1.2},  // 58
    {7.3, 6.0, 5.0, 3.7, 2.8, 2.3, 1.9, 1.7, 1.5, 1.3, 1.2},  // 59
    {7.5, 6.3, 5.1, 3.9, 3.0, 2.4, 2.0, 1.7, 1.5, 1.4, 1.3},  // 60
    {7.8, 6.5, 5.3, 4.1, 3.1, 2.5, 2.0, 1.8, 1.6, 1.4, 1.3},  // 61
    {8.1, 6.7, 5.5, 4.3, 3.2, 2.6, 2.1, 1.8, 1.6, 1.5, 1.4},  // 62
    {8.4, 7.0, 5.7, 4.5, 3.4, 2.7, 2.1, 1.9, 1.7, 1.5, 1.4},  // 63
    {8.7, 7.2, 5.9, 4.7, 3.5, 2.8, 2.2, 1.9, 1.7, 1.6, 1.5},  // 64
    {9.0, 7.5, 6.1, 4.9, 3.6, 2.9, 2.2, 2.0, 1.8, 1.6, 1.5},  // 65
    {9.3, 7.8, 6.3, 5.1, 3.8, 3.0, 2.3, 2.0, 1.8, 1.6, 1.6},  // 66
    {9.6, 9.1, 6.6, 5.3, 3.9, 3.1, 2.4, 2.1, 1.9, 1.7, 1.6},  // 67
    {9.9, 9.4, 6.9, 5.5, 4.0, 3.2, 2.5, 2.1, 2.0, 1.8, 1.7},  // 68
    // clang-format on
}};

const TroutTable trout_table_printed = kPrinted;

const TroutTable trout_table_in_use = [] {
  TroutTable table = kPrinted;
  table[67 - 36][1] = 8.1;
  table[68 - 36][1] = 8.4;
  return table;
}();

const std::array<double, trout_classes> trout_class_log_mass = [] {
  std::array<double, trout_classes - 1> border{};
  for (std::size_t i = 0; i < border.size(); ++i) border[i] = std::log(453.59237 / trout_border_counts[i]);
  std::array<double, trout_classes> middle{};
  for (std::size_t i = 1; i + 1 < middle.size(); ++i) middle[i] = 0.5 * (border[i - 1] + border[i]);
  // The open classes are taken as wide, in logarithm, as their neighbours.
  middle.front() = border.front() - 0.5 * (border[1] - border[0]);
  middle.back() = border.back() + 0.5 * (border[border.size() - 1] - border[border.size() - 2]);
  return middle;
}();

std::size_t trout_class_of_length(Length<> length) {
  const double inches = length.in(25.4 * units::millimetre);
  return inches < 1.0 ? 0 : std::min(static_cast<std::size_t>(inches), trout_classes - 1);
}

std::size_t trout_class_of_mass(Mass<> fish) {
  const double count = 0.45359237 / fish.si();
  std::size_t size_class = 0;
  while (size_class < trout_border_counts.size() && count <= trout_border_counts[size_class]) ++size_class;
  return size_class;
}

Frequency<> ration_trout_table_printed(Temperature<> water, std::size_t size_class) {
  const double row = std::round(water.celsius() * 1.8 + 32.0 - 36.0);
  const auto r = static_cast<std::size_t>(std::clamp(row, 0.0, trout_table_rows - 1.0));
  return trout_table_printed[r][size_class] * percent_per_day;
}

}  // namespace leat::science
