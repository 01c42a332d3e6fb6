#include "science/hydraulics/draining.h"

#include <algorithm>
#include <limits>

#include "numerics/root.h"

namespace leat::science {
namespace {

double outflow_coefficient(const Draining& tank, Acceleration<> gravity) {
  return orifice_flow(Length<>(1.0), tank.hole, tank.coefficient, gravity).si();
}

/// The inflow holds the level at (Qin/c)^2, which is never reached but for 0, and never crossed.
bool never_arrives(double x0, double x1, double x_held) {
  if (x1 < x0) return x_held > 0.0 && x1 <= x_held;
  return x1 > x0 && x1 >= x_held;
}

}  // namespace

Duration<> tank_drain_time(const Draining& tank, Length<> from, Length<> to, Acceleration<> gravity) {
  const double c = outflow_coefficient(tank, gravity), held = tank.inflow.si() / c;
  const double x0 = std::sqrt(from.si()), x1 = std::sqrt(to.si());
  if (never_arrives(x0, x1, held)) return Duration<>(std::numeric_limits<double>::infinity());
  const double bent = held > 0.0 ? held * std::log((x0 - held) / (x1 - held)) : 0.0;
  return Duration<>(2.0 * tank.vessel.si() / c * (x0 - x1 + bent));
}

Duration<> tank_drain_time_ode(const Draining& tank, Length<> from, Length<> to, Acceleration<> gravity) {
  const double c = outflow_coefficient(tank, gravity);
  const auto rate = [&](double h) { return (tank.inflow.si() - c * std::sqrt(std::max(h, 0.0))) / tank.vessel.si(); };
  const auto after = [&](double h, double dt) {
    const double k1 = rate(h), k2 = rate(h + 0.5 * dt * k1), k3 = rate(h + 0.5 * dt * k2), k4 = rate(h + dt * k3);
    return h + dt / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
  };
  const double goal = to.si(), sign = goal < from.si() ? -1.0 : 1.0;
  double t = 0.0, h = from.si();
  for (int i = 0; i < 1000000; ++i) {
    const double left = goal - h;
    if (sign * rate(h) <= 0.0) break;
    const double dt = 0.02 * std::max(std::abs(left), 1e-3 * from.si()) / std::abs(rate(h)) + 1e-9;
    const double next = after(h, dt);
    if (sign * (next - goal) >= 0.0) {
      const auto miss = [&](double part) { return after(h, part) - goal; };
      return Duration<>(t + numerics::bracketed_root(miss, 0.0, dt, 1e-12 * dt));
    }
    t += dt;
    h = next;
  }
  return Duration<>(std::numeric_limits<double>::infinity());
}

}  // namespace leat::science
