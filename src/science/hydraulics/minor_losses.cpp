#include "science/hydraulics/minor_losses.h"

#include <algorithm>
#include <array>
#include <string>

namespace leat::science {
namespace {

constexpr std::string_view kManual = "EPANET 2.2 User Manual, table of minor loss coefficients";
constexpr std::string_view kCrane = "Crane TP-410, as worked in open notebooks";

constexpr std::array kFittings = {
    Fitting{"entry", 0.5, "out of a vessel, edge square and flush", kManual, "seen"},
    Fitting{"projecting entry", 1.0, "out of a vessel, pipe stands into the water", kCrane, "seen"},
    Fitting{"exit", 1.0, "into a vessel, or into air", kManual, "seen"},
    Fitting{"elbow", 0.9, "90 degree elbow, short radius", kManual, "seen"},
    Fitting{"medium elbow", 0.8, "90 degree elbow, medium radius", kManual, "seen"},
    Fitting{"long elbow", 0.6, "90 degree elbow, long radius", kManual, "seen"},
    Fitting{"45 elbow", 0.4, "45 degree elbow", kManual, "seen"},
    Fitting{"return bend", 2.2, "180 degree bend, closed", kManual, "seen"},
    Fitting{"tee run", 0.6, "straight through a tee", kManual, "seen"},
    Fitting{"tee branch", 1.8, "round the corner of a tee", kManual, "seen"},
    Fitting{"gate valve", 0.2, "gate valve, open", kManual, "seen"},
    Fitting{"ball valve", 0.1, "ball valve, open, full bore", "Idelchik", "memory"},
    Fitting{"globe valve", 10.0, "globe valve, open", kManual, "seen"},
    Fitting{"angle valve", 5.0, "angle valve, open", kManual, "seen"},
    Fitting{"check valve", 2.5, "swing check valve, open", kManual, "seen"},
};

std::string plainly(std::string_view name) {
  std::string plain(name);
  std::replace_if(
      plain.begin(), plain.end(), [](char c) { return c == '_' || c == '-'; }, ' ');
  return plain;
}

/// Straight lines through points; past the ends the outer lines go on.
double between(std::span<const double> xs, std::span<const double> ys, double x) {
  std::size_t i = 0;
  while (i + 2 < xs.size() && x > xs[i + 1]) ++i;
  return ys[i] + (ys[i + 1] - ys[i]) * (x - xs[i]) / (xs[i + 1] - xs[i]);
}

struct TeeShares {
  double flow, area;
};

TeeShares shares_of(const ConvergingTee& tee) {
  return {tee.branch_flow.si() / (tee.branch_flow.si() + tee.run_flow.si()),
          std::pow(tee.branch.si() / tee.run.si(), 2)};
}

double angle_factor(double degrees) {
  static constexpr std::array angles = {30.0, 45.0, 60.0, 90.0}, factors = {1.74, 1.41, 1.0, 0.0};
  return between(angles, factors, std::clamp(degrees, 30.0, 90.0));
}

}  // namespace

std::span<const Fitting> fittings() {
  return kFittings;
}

const Fitting* find_fitting(std::string_view name) {
  const std::string wanted = plainly(name);
  const auto found =
      std::find_if(kFittings.begin(), kFittings.end(), [&](const Fitting& f) { return f.name == wanted; });
  return found == kFittings.end() ? nullptr : &*found;
}

const std::vector<std::string_view>& fitting_names() {
  static const std::vector<std::string_view> names = [] {
    std::vector<std::string_view> all;
    for (const Fitting& f : kFittings) all.push_back(f.name);
    return all;
  }();
  return names;
}

Number<> minor_loss_tee_converging_branch(const ConvergingTee& tee) {
  const auto [y, b] = shares_of(tee);
  const double c = b <= 0.35 ? 1.0 : y <= 0.4 ? 0.9 * (1.0 - y) : 0.55;
  const double f = angle_factor(tee.angle.si());
  return Number<>(c * (1.0 + y * y / (b * b) - 2.0 * (1.0 - y) * (1.0 - y) - f * y * y / b));
}

Number<> minor_loss_tee_converging_run(const ConvergingTee& tee) {
  const auto [y, b] = shares_of(tee);
  if (tee.angle.si() >= 75.0) return Number<>(1.55 * y - y * y);
  const double f = angle_factor(std::min(tee.angle.si(), 60.0));
  return Number<>(1.0 - (1.0 - y) * (1.0 - y) - f * y * y / b);
}

Number<> minor_loss_ball_valve(Number<> turned) {
  static constexpr std::array degrees = {0.0, 40.0, 70.0};
  static const std::array logs = {std::log(0.1), std::log(5.0), std::log(200.0)};
  return Number<>(std::exp(between(degrees, logs, std::max(turned.si(), 0.0))));
}

}  // namespace leat::science
