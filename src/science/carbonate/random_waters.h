// Waters for the tests of acidity.
#pragma once

#include <cmath>
#include <random>

#include "science/carbonate/acidity.h"

namespace leat::science {

/// Waters from clean rain to absurd: some totals missing, alkalinity of either sign or made to fit a pH.
class Waters {
  std::mt19937_64 random_{20240517};

 public:
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11) * 0x1p-53;
  }
  double spread(double low_power, double high_power) {
    return between(0, 1) < 0.15 ? 0.0 : std::pow(10.0, between(low_power, high_power));
  }
  struct Water {
    MixedConstants<> k;
    AcidBaseTotals<> totals;
  };
  Water next(bool from_acidity) {
    Water w;
    w.k = mixed_constants(Temperature<>::from_celsius(between(0, 40)), Concentration<>(std::pow(10.0, between(-3, 2))));
    w.totals = {Concentration<>(0.0), Concentration<>(spread(-6, 2)), Concentration<>(spread(-6, 1.5)),
                Concentration<>(spread(-6, 1)), Concentration<>(spread(-6, 1))};
    if (from_acidity)
      w.totals.alkalinity = alkalinity_of(Number<>(between(acidity_low, acidity_high)), w.k, w.totals);
    else
      w.totals.alkalinity = Concentration<>((between(0, 1) < 0.3 ? -1.0 : 1.0) * spread(-6, 2));
    return w;
  }
};

}  // namespace leat::science
