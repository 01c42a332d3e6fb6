#include <array>
#include <cmath>
#include <cstddef>

#include "science/crops/lettuce_one_state.h"
#include "science/crops/lettuce_two_state.h"

namespace leat::science {
namespace {

template <std::size_t Size>
std::array<double, Size> stepped(const std::array<double, Size>& y, double step, const std::array<double, Size>& rate) {
  std::array<double, Size> moved = y;
  for (std::size_t i = 0; i < Size; ++i) moved[i] += step * rate[i];
  return moved;
}

/// Classical Runge-Kutta over a span in equal steps of at most 300 s.
template <std::size_t Size, class Rate>
std::array<double, Size> integrated(std::array<double, Size> y, double span, Rate&& rate) {
  const int steps = static_cast<int>(std::ceil(span / 300.0));
  const double h = steps > 0 ? span / steps : 0.0;
  for (int n = 0; n < steps; ++n) {
    const auto k1 = rate(y), k2 = rate(stepped(y, 0.5 * h, k1));
    const auto k3 = rate(stepped(y, 0.5 * h, k2)), k4 = rate(stepped(y, h, k3));
    for (std::size_t i = 0; i < Size; ++i) y[i] += h / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]);
  }
  return y;
}

}  // namespace

ArealMass<> dry_mass_one_state(ArealMass<> start, Duration<> span, Temperature<> air, Density<> carbon, Flux<> global,
                               const LettuceOneState& model) {
  const auto rate = [&](const std::array<double, 1>& y) {
    return std::array{growth_rate_one_state(ArealMass<>(y[0]), air, carbon, global, model).si()};
  };
  return ArealMass<>(integrated(std::array{start.si()}, span.si(), rate)[0]);
}

LettuceMasses dry_masses_two_state(LettuceMasses start, Duration<> span, Temperature<> air, Number<> carbon, Flux<> par,
                                   const LettuceTwoState& model) {
  const auto rate = [&](const std::array<double, 2>& y) {
    const auto r = growth_rate_two_state(air, carbon, par, ArealMass<>(y[0]), ArealMass<>(y[1]), model);
    return std::array{r.store.si(), r.structure.si()};
  };
  const auto end = integrated(std::array{start.store.si(), start.structure.si()}, span.si(), rate);
  return {ArealMass<>(end[0]), ArealMass<>(end[1])};
}

}  // namespace leat::science
