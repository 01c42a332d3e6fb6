#include "science/fish/rationed_growth.h"

#include <algorithm>
#include <cmath>

namespace leat::science {

Mass<> fish_mass_on_ration(const Species& species, Mass<> start, Frequency<> ration, EnergyDensity<> feed,
                           Temperature<> water, Duration<> span) {
  const auto slope = [&](double log_mass) {
    const Mass<> fish(std::exp(log_mass));
    const Power<> digested(ration.si() * fish.si() * feed.si());
    return growth_on_ration(digested, water, fish, growth_potential(species, water, fish)).gain.si();
  };
  // Midpoint steps of a quarter day on the logarithm of mass: a day changes it by a few hundredths at most.
  const int steps = std::max(1, static_cast<int>(std::ceil(span.si() / (0.25 * units::day.si()))));
  const double h = span.si() / steps;
  double log_mass = std::log(start.si());
  for (int i = 0; i < steps; ++i) log_mass += h * slope(log_mass + 0.5 * h * slope(log_mass));
  return Mass<>(std::exp(log_mass));
}

}  // namespace leat::science
