#include "science/hydraulics/pump_scaling.h"

#include <algorithm>

#include "numerics/root.h"

namespace leat::science {

QuadraticCurve pump_curve_fit_quadratic(std::span<const PumpPoint> points) {
  const double n = static_cast<double>(points.size());
  double x_mean = 0.0, y_mean = 0.0;
  for (const PumpPoint& p : points) {
    x_mean += p.flow.si() * p.flow.si() / n;
    y_mean += p.head.si() / n;
  }
  double xx = 0.0, xy = 0.0;
  for (const PumpPoint& p : points) {
    const double dx = p.flow.si() * p.flow.si() - x_mean;
    xx += dx * dx;
    xy += dx * (p.head.si() - y_mean);
  }
  return {Length<>(y_mean - xy / xx * x_mean), HeadPerFlowSquared<>(xy / xx)};
}

Flow<> pump_operating_flow(const PumpCurve& curve, Length<> lift, const PipeRun& pipe, KinematicViscosity<> viscosity,
                           Acceleration<> gravity) {
  if (lift >= curve.shutoff()) return Flow<>(0.0);
  const auto spare = [&](double q) {
    return (curve.head(Flow<>(q)) - lift - pipe_loss(Flow<>(q), pipe, viscosity, gravity)).si();
  };
  const double most = std::max(curve.flow_at(lift).si(), 0.0);
  return Flow<>(numerics::bracketed_root(spare, 0.0, most, 1e-13 * most));
}

}  // namespace leat::science
