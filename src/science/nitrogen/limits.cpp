#include "science/nitrogen/limits.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leat::science {
namespace {

/// acid + base limbs of the criteria: low/(1 + 10^(pk - pH)) + high/(1 + 10^(pH - pk)).
double limbs(double low, double high, double pk, double ph) {
  return low / (1.0 + std::pow(10.0, pk - ph)) + high / (1.0 + std::pow(10.0, ph - pk));
}

double mussel_term(double ph) {
  return 0.7249 * limbs(0.0114, 1.6181, 7.204, ph);
}

double warmth(double t_c) {
  return 23.12 * std::pow(10.0, 0.036 * (20.0 - t_c));
}

}  // namespace

Density<> ammonia_limit_acute_salmonids_1999(Number<> acidity) {
  return limbs(0.275, 39.0, 7.204, acidity.si()) * milligram_per_litre;
}

Density<> ammonia_limit_acute_salmonids(Number<> acidity, Temperature<> water) {
  const Density<> mussels = mussel_term(acidity.si()) * warmth(water.celsius()) * milligram_per_litre;
  return std::min(ammonia_limit_acute_salmonids_1999(acidity), mussels);
}

Density<> ammonia_limit_acute(Number<> acidity, Temperature<> water) {
  return mussel_term(acidity.si()) * std::min(51.93, warmth(water.celsius())) * milligram_per_litre;
}

Density<> ammonia_limit_chronic(Number<> acidity, Temperature<> water) {
  const double t_c = std::max(water.celsius(), 7.0);
  return 0.8876 * limbs(0.0278, 1.1994, 7.688, acidity.si()) * 2.126 * std::pow(10.0, 0.028 * (20.0 - t_c)) *
         milligram_per_litre;
}

NitriteLimits nitrite_limits(Density<> chloride) {
  constexpr std::array mean = {0.02, 0.04, 0.06, 0.08, 0.10, 0.20};
  const double steps = std::clamp(chloride.in(milligram_per_litre) / 2.0, 0.0, 5.0);
  const Density<> m = mean[static_cast<std::size_t>(steps)] * milligram_per_litre;
  return {m, 3.0 * m};
}

}  // namespace leat::science
