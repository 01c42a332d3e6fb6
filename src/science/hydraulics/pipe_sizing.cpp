#include "science/hydraulics/pipe_sizing.h"

#include "numerics/root.h"

namespace leat::science {

Length<> darcy_weisbach_diameter(Flow<> flow, Length<> head_loss, Length<> length, Length<> roughness,
                                 Number<> minor_losses, KinematicViscosity<> viscosity, Acceleration<> gravity) {
  const auto excess = [&](double log_bore) {
    const PipeRun pipe{Length<>(std::exp(log_bore)), length, roughness, minor_losses};
    return std::log(pipe_loss(flow, pipe, viscosity, gravity).si() / head_loss.si());
  };
  return Length<>(std::exp(numerics::bracketed_root(excess, std::log(1e-4), std::log(100.0), 1e-13)));
}

Flow<> hazen_williams_flow(Length<> head, Number<> coefficient, Length<> bore, Length<> length) {
  const double at_one = hazen_williams_head_loss(Flow<>(1.0), coefficient, bore, length).si();
  const double q = std::pow(std::abs(head.si()) / at_one, 1.0 / 1.852);
  return Flow<>(head.si() < 0.0 ? -q : q);
}

}  // namespace leat::science
