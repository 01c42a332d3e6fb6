#include "model/simulate/pulsing.h"

#include <cmath>

namespace leat::model {

Pulsing::Pulsing(const Equations& equations, const Pulses* pulses)
    : equations_(equations), pulses_(equations.pulsed() == Pulsed::mean ? nullptr : pulses) {
  if (equations.pulsed() == Pulsed::by_cycles) map_ = std::make_unique<CycleMap>(equations, *pulses);
}

void Pulsing::add_stops(double length, std::set<double>& stops) const {
  if (!pulses_ || map_) return;
  for (const double t : pulses_->beginnings(1.0, length)) {
    const auto near = stops.lower_bound(t - 1.0);
    if (near == stops.end() || *near > t + 1.0) stops.insert(t);
  }
}

bool Pulsing::take_stretch(double t) {
  const std::size_t before = stretch_;
  stretch_ = pulses_->at(t + 1.0);
  return stretch_ != before;
}

double Pulsing::least_water(std::size_t body) const {
  const bool resolved = pulses_ && !map_;
  return 0.25 * (resolved ? pulses_->stretches[stretch_].water[body] : equations_.usual_water(body).si());
}

}  // namespace leat::model
