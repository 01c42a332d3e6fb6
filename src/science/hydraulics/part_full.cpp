#include "science/hydraulics/part_full.h"

#include "numerics/root.h"

namespace leat::science {
namespace {

/// Depth below the fullest useful one at which a rising law gives the flow.
template <class Law>
Length<> depth_for(Flow<> flow, Length<> bore, Number<> fullest, Law&& law) {
  const auto excess = [&](double y) { return (law(Length<>(y)) - flow).si(); };
  return Length<>(numerics::bracketed_root(excess, 1e-9 * bore.si(), fullest.si() * bore.si(), 1e-14 * bore.si()));
}

}  // namespace

Number<> manning_circular_slope(Flow<> flow, Length<> depth, Length<> bore, Number<> n) {
  const double at_one = manning_circular_flow(depth, bore, Number<>(1.0), n).si();
  return Number<>(std::pow(flow.si() / at_one, 2));
}

Length<> manning_circular_normal_depth(Flow<> flow, Length<> bore, Number<> slope, Number<> n) {
  return depth_for(flow, bore, part_full_largest_flow().depth_ratio,
                   [&](Length<> y) { return manning_circular_flow(y, bore, slope, n); });
}

Flow<> part_full_darcy_flow(Length<> depth, Length<> bore, Number<> slope, Number<> relative_roughness,
                            KinematicViscosity<> viscosity, Acceleration<> gravity) {
  const double four_r = 4.0 * circular_section_hydraulic_radius(depth, bore).si();
  const double head = 2.0 * gravity.si() * four_r * slope.si();  // f V^2
  const auto excess = [&](double v) {
    const Number<> re(v * four_r / viscosity.si());
    return friction_factor_bridged(re, relative_roughness).si() * v * v - head;
  };
  const double fastest = std::sqrt(head / 0.001);  // f is never that small
  return circular_section_area(depth, bore) *
         Velocity<>(numerics::bracketed_root(excess, 1e-12 * fastest, fastest, 1e-14 * fastest));
}

Length<> part_full_darcy_normal_depth(Flow<> flow, Length<> bore, Number<> slope, Length<> roughness,
                                      KinematicViscosity<> viscosity, Acceleration<> gravity) {
  return depth_for(flow, bore, part_full_largest_flow(Number<>(0.5)).depth_ratio, [&](Length<> y) {
    const Number<> rough = roughness / (4.0 * circular_section_hydraulic_radius(y, bore));
    return part_full_darcy_flow(y, bore, slope, rough, viscosity, gravity);
  });
}

Number<> circular_froude(Flow<> flow, Length<> depth, Length<> bore, Acceleration<> gravity) {
  const Area<> area = circular_section_area(depth, bore);
  const double mean_depth = (area / circular_section_width(depth, bore)).si();
  return Number<>((flow / area).si() / std::sqrt(gravity.si() * mean_depth));
}

Length<> circular_critical_depth(Flow<> flow, Length<> bore, Acceleration<> gravity) {
  const auto excess = [&](double ratio) {
    const Length<> y = ratio * bore;
    const double area = circular_section_area(y, bore).si();
    return gravity.si() * area * area * area - flow.si() * flow.si() * circular_section_width(y, bore).si();
  };
  return numerics::bracketed_root(excess, 1e-6, 1.0, 1e-14) * bore;
}

Length<> circular_critical_depth_explicit(Flow<> flow, Length<> bore, Acceleration<> gravity) {
  return Length<>(1.01 * std::pow(bore.si(), -0.26) * std::pow(flow.si() * flow.si() / gravity.si(), 0.25));
}

Number<> circular_end_depth_ratio(Number<> critical_ratio) {
  const Length<> bore(1.0), yc(critical_ratio.si());
  const double area = circular_section_area(yc, bore).si();
  const double q2_over_g = std::pow(area, 3) / circular_section_width(yc, bore).si();
  const double force = q2_over_g / area + circular_section_moment(yc, bore).si();
  const double brink_area = q2_over_g / force;
  return part_full_depth_ratio(Number<>(brink_area / (std::numbers::pi / 4.0))) / critical_ratio;
}

Length<> circular_inlet_head(Flow<> flow, Length<> bore, Number<> entry_loss, Number<> orifice,
                             Acceleration<> gravity) {
  const double two_g = 2.0 * gravity.si();
  const Length<> yc = circular_critical_depth(flow, bore, gravity);
  const double vc = (flow / circular_section_area(yc, bore)).si();
  const double open = yc.si() + (1.0 + entry_loss.si()) * vc * vc / two_g;
  const double through = flow.si() / (orifice.si() * 0.25 * std::numbers::pi * bore.si() * bore.si());
  const double drowned = 0.5 * bore.si() + through * through / two_g;
  return Length<>(std::max(open, drowned));
}

}  // namespace leat::science
