// The loss of one pipe as a law that is cheap to ask again and again.
#pragma once

#include <vector>

#include "science/hydraulics/pipe_loss.h"

namespace leat::science {

/// pipe_loss_and_slope of one pipe in one water, Colebrook's factor tabulated against the Reynolds number: sixteen
/// cubic pieces an octave from Re 4000 up, which meet the formula in value and slope.
///
/// error   within 1e-7 of pipe_loss_and_slope to Re 1.6e7; beyond, the formula itself
class PipeLaw {
 public:
  PipeLaw() = default;
  PipeLaw(const PipeRun& pipe, KinematicViscosity<> viscosity, Acceleration<> gravity = standard_gravity);

  struct Loss {
    double loss, slope;  ///< m, s/m2
  };
  Loss at(double flow) const;
  /// The flow that a head drives, with the sign of the head.
  double flow(double head) const;

 private:
  struct Piece {
    double value, first, square, cube;  ///< f at the piece's beginning, then per width of the piece
  };
  double area_ = 1.0, ratio_ = 0.0, losses_ = 0.0, to_reynolds_ = 0.0, two_g_ = 1.0, linear_ = 0.0;
  double bridge_[4] = {};  ///< f from Re 2000 to 4000
  double rough_ = 0.0;
  std::vector<Piece> pieces_;

  struct Factor {
    double f, slope;
  };
  Factor factor(double reynolds) const;
};

}  // namespace leat::science
