// A sloping pipe from one vessel to another that runs partly full, as one law of head against flow.
#pragma once

#include "science/hydraulics/pipe_loss.h"

namespace leat::science {

/// The run and its fall per length. Of the sum of losses half a velocity head is the entry, one the exit; the rest is
/// spread over the length.
struct ReturnPipe {
  PipeRun run;
  Number<> slope;
};

/// Head above the bottom of the mouth that a return with a free end needs to carry a flow: the larger of what the mouth
/// asks for and what the barrel asks for.
///
///   mouth   critical flow into it while open, an orifice when drowned
///   barrel  from critical depth at the free end upstream, dE/dx = Sf - S0 with E = y + V^2/2g and Darcy's Sf on four
///           hydraulic radii; from where it fills on as a full pipe; plus 0.5 V^2/2g at the entry. Where the energy
///           falls below that of critical flow the pipe is steep and the mouth rules.
///
/// flow     above 0
/// slope    0 (level) and more
/// error    10 %; about the filling of the barrel, between 0.85 and 1 of its bore, real flow is unsteady
/// source   open-channel theory, from memory of Chow 1959, chapters 9 and 10
Length<> gravity_return_head(Flow<> flow, const ReturnPipe& pipe, KinematicViscosity<> viscosity,
                             Acceleration<> gravity = standard_gravity);

}  // namespace leat::science
