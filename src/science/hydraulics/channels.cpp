#include "science/hydraulics/channels.h"

namespace leat::science {
namespace {

double friction_slope(const Channel& channel, Flow<> flow, Length<> depth, Number<> n) {
  const double area = channel_area(channel, depth).si();
  const double radius = area / channel_perimeter(channel, depth).si();
  return std::pow(n.si() * flow.si() / (area * std::pow(radius, 2.0 / 3.0)), 2);
}

}  // namespace

Area<> channel_area(const Channel& channel, Length<> depth) {
  return depth * (channel.width + channel.lean.si() * depth);
}

Length<> channel_perimeter(const Channel& channel, Length<> depth) {
  return channel.width + 2.0 * std::sqrt(1.0 + channel.lean.si() * channel.lean.si()) * depth;
}

Length<> channel_specific_energy(const Channel& channel, Flow<> flow, Length<> depth, Acceleration<> gravity) {
  const double v = (flow / channel_area(channel, depth)).si();
  return depth + Length<>(v * v / (2.0 * gravity.si()));
}

Length<> direct_step_distance(const Channel& channel, Flow<> flow, Number<> slope, Number<> n, Length<> from,
                              Length<> to, int steps, Acceleration<> gravity) {
  double x = 0.0;
  Length<> y1 = from;
  for (int i = 1; i <= steps; ++i) {
    const Length<> y2 = from + static_cast<double>(i) / steps * (to - from);
    const Length<> rise =
        channel_specific_energy(channel, flow, y2, gravity) - channel_specific_energy(channel, flow, y1, gravity);
    const double mean = 0.5 * (friction_slope(channel, flow, y1, n) + friction_slope(channel, flow, y2, n));
    x += rise.si() / (slope.si() - mean);
    y1 = y2;
  }
  return Length<>(x);
}

}  // namespace leat::science
