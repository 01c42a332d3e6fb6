// Sizes in which pipe and pumps are sold.
#pragma once

#include <array>
#include <span>

#include "base/units/quantity.h"

namespace leat::science {

struct PipeSize {
  double outside_mm;
  double bore_mm;
};

/// Unplasticised PVC pressure pipe, 16 bar from 20 to 40 mm, 10 bar above. The bore is the outside less twice the wall.
///
/// source  EN ISO 1452-2, from memory; makers differ by a few tenths of a millimetre
inline std::span<const PipeSize> pressure_pipes() {
  static constexpr std::array<PipeSize, 9> kSizes{
      {{20, 17.0}, {25, 21.2}, {32, 27.2}, {40, 34.0}, {50, 45.2}, {63, 57.0}, {75, 67.8}, {90, 81.4}, {110, 101.6}}};
  return kSizes;
}

/// Waste and drain pipe.
///
/// source  bores as in the table of drop limits by Hills' rule; outsides are common practice, no source
inline std::span<const PipeSize> drain_pipes() {
  static constexpr std::array<PipeSize, 6> kSizes{
      {{32, 27.0}, {40, 36.4}, {50, 45.5}, {75, 68.5}, {110, 103.6}, {160, 152.0}}};
  return kSizes;
}

}  // namespace leat::science
