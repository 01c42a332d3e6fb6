// Water that a bed's plants use, from the reference evapotranspiration of the weather.
#pragma once

#include "base/units/quantity.h"
#include "science/fish/ramp.h"

namespace leat::science {

inline constexpr Velocity<> millimetre_per_day{1e-3 / 86400.0};

/// Crop coefficients at planting, at full cover, and at the end.
struct CropCoefficients {
  double initial, middle, end;
};

/// Crop coefficient by the share of the crop's time that has passed.
///
///   initial up to 0.25, rising to middle at 0.65, level to 0.85, then to end at 1
///
/// progress   thermal time so far over thermal time to harvest     0 to 1
/// source     curve of FAO Irrigation and Drainage Paper 56; shares after its stage lengths for small vegetables
template <class N>
Number<N> crop_coefficient(Number<N> progress, const CropCoefficients& kc) {
  const N rising = held_within(N((progress.si() - 0.25) / 0.40), 0.0, 1.0);
  const N fading = held_within(N((progress.si() - 0.85) / 0.15), 0.0, 1.0);
  return Number<N>(kc.initial + (kc.middle - kc.initial) * rising + (kc.end - kc.middle) * fading);
}

/// Water used by a crop.
///
///   ETc = Kc ET0 A        1 mm on 1 m2 is 1 L
///
/// coefficient   Kc
/// reference     ET0, depth per time            0 to 12 mm/d
/// bed           planted area
/// returns       volume per time
/// error         a small bed alone in the wind uses 1.1 to 1.3 times as much
/// source        Allen et al. 1998, FAO Irrigation and Drainage Paper 56
template <class N>
Flow<N> crop_water_use(Number<N> coefficient, Velocity<N> reference, Area<> bed) {
  return Flow<N>(coefficient.si() * reference.si() * bed.si());
}

}  // namespace leat::science
