// Loss factors K of fittings: a table of names, and those that follow from sizes.
#pragma once

#include <cmath>
#include <span>
#include <string_view>
#include <vector>

#include "base/units/quantity.h"
#include "science/hydraulics/gravity.h"

namespace leat::science {

/// A fitting by name. K is on the velocity in its own bore.
struct Fitting {
  std::string_view name;
  double k;
  std::string_view meaning;
  std::string_view source;
  std::string_view provenance;  ///< seen, memory or common practice
};

std::span<const Fitting> fittings();
/// The fitting of that name, or nullptr. Blanks, '_' and '-' are alike.
const Fitting* find_fitting(std::string_view name);
const std::vector<std::string_view>& fitting_names();

/// Head lost in fittings: h = K V^2/2g, with the sign of the velocity.
template <class N>
Length<N> minor_head_loss(Velocity<N> velocity, Number<> k, Acceleration<> gravity = standard_gravity) {
  using std::abs;
  return Length<N>(k.si() * velocity.si() * abs(velocity.si()) / (2.0 * gravity.si()));
}

/// The same K on the velocity in another bore: K2 = K1 (D2/D1)^4.
inline Number<> minor_loss_change_basis(Number<> k, Length<> from, Length<> to) {
  return Number<>(k.si() * std::pow(to.si() / from.si(), 4));
}

/// Sudden widening: K = (1 - A1/A2)^2 on the velocity in the narrow bore.
/// source   Borda and Carnot, as in Crane TP-410
inline Number<> minor_loss_sudden_expansion(Length<> narrow, Length<> wide) {
  const double beta2 = std::pow(narrow.si() / wide.si(), 2);
  return Number<>((1.0 - beta2) * (1.0 - beta2));
}

/// Sudden narrowing: K = 0.5 (1 - A2/A1) on the velocity in the narrow bore.
/// source   Crane TP-410
inline Number<> minor_loss_sudden_contraction(Length<> wide, Length<> narrow) {
  return Number<>(0.5 * (1.0 - std::pow(narrow.si() / wide.si(), 2)));
}

/// A barbed insert in a hose, on the velocity in the insert: a narrowing and a widening.
/// source   memory of common texts
inline Number<> minor_loss_barbed_insert(Length<> hose, Length<> insert) {
  return minor_loss_sudden_contraction(hose, insert) + minor_loss_sudden_expansion(insert, hose);
}

/// K = f (L/D) of a fitting stated as a length of straight pipe.
inline Number<> minor_loss_from_equivalent_length(Number<> friction_factor, Number<> diameters) {
  return Number<>(friction_factor.si() * diameters.si());
}

/// A lift check valve, straight pattern, on the velocity in the pipe; the seat is often narrower.
///
///   K = (600 f + (1-b)/2 + (1-b)^2) / b^2,   b = area of the seat over the pipe's; 600 f when they are alike
///
/// rough_factor   friction factor of clean steel pipe of this bore, fully rough
/// source         Crane TP-410 (2009), as in the open library fluids
inline Number<> minor_loss_lift_check(Number<> rough_factor, Length<> seat, Length<> pipe) {
  const double b = std::pow(seat.si() / pipe.si(), 2);
  return Number<>((600.0 * rough_factor.si() + 0.5 * (1.0 - b) + (1.0 - b) * (1.0 - b)) / (b * b));
}

/// K of a valve stated by Kv: K = 1.6e9 D^4/Kv^2, D in m, Kv the flow in m3/h at a loss of 1 bar.
/// source   Crane TP-410
inline Number<> minor_loss_from_kv(Flow<> kv, Length<> bore) {
  const double kv_m3_h = kv.in(units::cubic_metre_per_hour);
  return Number<>(1.6e9 * std::pow(bore.si(), 4) / (kv_m3_h * kv_m3_h));
}

/// Two flows that meet in a tee. K is on the velocity after the tee.
struct ConvergingTee {
  Length<> run, branch;             ///< bores
  Flow<> run_flow, branch_flow;     ///< the run's after the tee is the sum of both
  Number<> angle = Number<>(90.0);  ///< between branch and run, degrees
};

/// For the water that comes by the branch. Negative where the run drags it along.
///
///   K = C (1 + (y/b)^2 - 2 (1-y)^2 - F y^2/b),   y = share of the flow, b = area over the run's
///   C = 1 for b <= 0.35, else 0.9 (1-y) for y <= 0.4, else 0.55
///   F = 1.74, 1.41, 1, 0 at 30, 45, 60, 90 degrees, straight lines between
///
/// error    none stated
/// beyond   angles are held to 30 to 90; C has a step at b = 0.35
/// source   Crane TP-410 (2009), chapter 2, as in the open library fluids
Number<> minor_loss_tee_converging_branch(const ConvergingTee& tee);

/// For the water that goes straight through.
///
///   K = 1.55 y - y^2 from 75 degrees up, else 1 - (1-y)^2 - F y^2/b
///
/// source   Crane TP-410 (2009), chapter 2, as in the open library fluids
Number<> minor_loss_tee_converging_run(const ConvergingTee& tee);

/// A ball valve turned from open (0 degrees) towards shut (90): ln K straight between 0.1 at 0, 5 at 40, 200 at 70.
///
/// beyond   above 70 degrees the last line goes on
/// source   memory of Idelchik
Number<> minor_loss_ball_valve(Number<> turned);

}  // namespace leat::science
