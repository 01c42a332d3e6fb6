#include "science/hydraulics/gravity_return.h"

#include <algorithm>
#include <cmath>

#include "numerics/root.h"
#include "science/hydraulics/circular_section.h"
#include "science/hydraulics/part_full.h"

namespace leat::science {
namespace {

constexpr int kSteps = 24;
constexpr double kEntry = 0.5;

/// Energy along one pipe at one flow.
struct Profile {
  double flow, bore, two_g, spread;  ///< spread: fittings beside entry and exit, K per length
  Length<> roughness;
  KinematicViscosity<> viscosity;

  double velocity(double depth) const { return flow / circular_section_area(Length<>(depth), Length<>(bore)).si(); }
  double energy(double depth) const {
    const double v = velocity(depth);
    return depth + v * v / two_g;
  }
  double friction_slope(double depth) const {
    const double v = velocity(depth);
    const double four_r = 4.0 * circular_section_hydraulic_radius(Length<>(depth), Length<>(bore)).si();
    const double f =
        friction_factor_bridged(Number<>(v * four_r / viscosity.si()), Number<>(roughness.si() / four_r)).si();
    return (f / four_r + spread) * v * v / two_g;
  }
  double depth_at(double energy_there, double critical) const {
    return numerics::bracketed_root([&](double y) { return energy(y) - energy_there; }, critical, bore, 1e-9 * bore);
  }
};

}  // namespace

Length<> gravity_return_head(Flow<> flow, const ReturnPipe& pipe, KinematicViscosity<> viscosity,
                             Acceleration<> gravity) {
  const Length<> mouth = circular_inlet_head(flow, pipe.run.bore, Number<>(kEntry), Number<>(0.60), gravity);
  const double length = pipe.run.length.si(), slope = pipe.slope.si(), bore = pipe.run.bore.si();
  const double critical = circular_critical_depth(flow, pipe.run.bore, gravity).si();
  const Profile p{flow.si(),          bore,
                  2.0 * gravity.si(), std::max(0.0, pipe.run.minor_losses.si() - kEntry - 1.0) / length,
                  pipe.run.roughness, viscosity};
  const double least = p.energy(critical), full = p.energy(bore);
  double energy = least, depth = critical, x = 0.0;
  for (int i = 1; i <= kSteps; ++i) {
    // Short steps at the brink, where the surface bends.
    const double next = length * std::pow(static_cast<double>(i) / kSteps, 2), dx = next - x;
    if (energy >= full) {
      energy += (p.friction_slope(bore) - slope) * (length - x);
      depth = bore;
      break;
    }
    const double halfway = std::clamp(energy + 0.5 * dx * (p.friction_slope(depth) - slope), least, full);
    energy += dx * (p.friction_slope(p.depth_at(halfway, critical)) - slope);
    if (energy < least) return mouth;  // steep
    depth = energy >= full ? bore : p.depth_at(energy, critical);
    x = next;
  }
  const double v = p.velocity(depth);
  return std::max(mouth, Length<>(energy + kEntry * v * v / p.two_g));
}

}  // namespace leat::science
