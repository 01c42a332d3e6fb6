// What a settled cycle does to a dissolved thing: exactly, by its one-cycle matrix, and on the mean.
#include <fmt/core.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <unsupported/Eigen/MatrixFunctions>

#include "model/flow/cycle.h"

namespace leat::model {
namespace {

using Eigen::MatrixXd;
using numerics::Then;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// dc/dt = A c with A from the flows and volumes of one moment: each vessel's inflow mixes into it. Rows add to 0.
MatrixXd mixing_rates(const Plumbing& plumbing, const std::vector<Length<>>& levels, const Flows& flows) {
  const Loop& loop = plumbing.loop();
  const auto n = static_cast<Eigen::Index>(loop.vessels.size());
  MatrixXd a = MatrixXd::Zero(n, n);
  for (const FlowPath& p : flow_paths(plumbing, levels, flows)) {
    const Vessel& to = loop.vessels[at(p.to)];
    const double water = std::max((to.water_area() * (levels[at(p.to)] - to.floor)).si(), 1e-9);
    a(p.to, p.from) += p.flow.si() / water;
    a(p.to, p.to) -= p.flow.si() / water;
  }
  return a;
}

/// One step of the three-stage Radau IIA method (order 5, L-stable) for a linear equation, all columns at once.
///
/// source  Hairer and Wanner, Solving Ordinary Differential Equations II, table 5.6
class Radau {
  Eigen::Index n_;
  MatrixXd system_, right_;
  double a_[3][3];

 public:
  static constexpr double kRoot6 = 2.449489742783178;
  static constexpr double kNodes[3] = {(4.0 - kRoot6) / 10.0, (4.0 + kRoot6) / 10.0, 1.0};

  explicit Radau(Eigen::Index n)
      : n_(n),
        a_{{(88.0 - 7.0 * kRoot6) / 360.0, (296.0 - 169.0 * kRoot6) / 1800.0, (-2.0 + 3.0 * kRoot6) / 225.0},
           {(296.0 + 169.0 * kRoot6) / 1800.0, (88.0 + 7.0 * kRoot6) / 360.0, (-2.0 - 3.0 * kRoot6) / 225.0},
           {(16.0 - kRoot6) / 36.0, (16.0 + kRoot6) / 36.0, 1.0 / 9.0}} {
    system_.resize(3 * n, 3 * n);
    right_.resize(3 * n, n);
  }

  /// c at the three nodes: c_i = c + h sum_j a_ij A_j c_j; the last is the end of the step.
  void step(double h, const MatrixXd (&rates)[3], MatrixXd& c) {
    for (int i = 0; i < 3; ++i) {
      for (int j = 0; j < 3; ++j) {
        system_.block(i * n_, j * n_, n_, n_) = -h * a_[i][j] * rates[j];
        if (i == j) system_.block(i * n_, j * n_, n_, n_).diagonal().array() += 1.0;
      }
      right_.block(i * n_, 0, n_, n_) = c;
    }
    c = system_.partialPivLu().solve(right_).bottomRows(n_);
  }
};

}  // namespace

Transport transport_over(const Plumbing& plumbing, const Cycle& cycle) {
  const auto n = static_cast<Eigen::Index>(plumbing.loop().vessels.size());
  MatrixXd c = MatrixXd::Identity(n, n);
  Radau radau(n);
  MatrixXd rates[3];
  WaterPlan plan{cycle.period};
  plan.tolerance = 1e-9;
  run_water(plumbing, cycle.start, plan, [&](const WaterStep& step) {
    const double span = (step.to - step.from).si();
    const double fastest = mixing_rates(plumbing, step.levels(step.to), step.flows(step.to)).cwiseAbs().maxCoeff();
    const int pieces = static_cast<int>(std::clamp(std::ceil(2.0 * fastest * span), 1.0, 200.0));
    for (int k = 0; k < pieces; ++k) {
      for (int i = 0; i < 3; ++i) {
        const Duration<> when = step.from + Duration<>(span * (k + Radau::kNodes[i]) / pieces);
        const std::vector<Length<>> levels = step.levels(when);
        rates[i] = mixing_rates(plumbing, levels, step.flows(when));
      }
      radau.step(span / pieces, rates, c);
    }
    return Then::go_on;
  });
  Transport t{at(static_cast<int>(n)), {}, {}};
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j) t.entries.push_back(c(i, j));
  for (const VesselCycle& v : cycle.vessels) t.volumes.push_back(v.water_at_start);
  return t;
}

std::vector<double> averaged_concentrations(const Cycle& cycle, std::vector<double> concentrations, Duration<> after) {
  const auto n = static_cast<Eigen::Index>(cycle.vessels.size());
  MatrixXd a = MatrixXd::Zero(n, n);
  for (const FlowPath& p : cycle.paths) {
    const double rate = (p.flow / cycle.vessels[at(p.to)].mean_water).si();
    a(p.to, p.from) += rate;
    a(p.to, p.to) -= rate;
  }
  const Eigen::Map<Eigen::VectorXd> c(concentrations.data(), n);
  const Eigen::VectorXd later = (a * after.si()).exp() * c;
  return {later.data(), later.data() + n};
}

namespace {

/// Within a fifth of either edge of its window a siphon may dribble, or never break, with a little less or more water.
std::string siphon_near_edge(const Plumbing& plumbing, std::size_t siphon, Flow<> inflow) {
  const Loop& loop = plumbing.loop();
  const Siphon& s = loop.siphons[siphon];
  const Flow<> low = plumbing.priming_flow(s);
  const Flow<> high = plumbing.full_flow(siphon, s.break_level, loop.vessels[at(s.to)].floor);
  if (inflow > 1.2 * low && inflow < 0.8 * high) return {};
  return fmt::format("{} is within a fifth of an edge of its window ({:.0f} to {:.0f} L/h, fed {:.0f})", s.path,
                     low.in(units::litre_per_hour), high.in(units::litre_per_hour), inflow.in(units::litre_per_hour));
}

}  // namespace

std::string why_not_averaged(const Loop& loop, const Plumbing& plumbing, const Cycle& cycle) {
  if (cycle.kind == Cycle::Kind::none) return cycle.said.empty() ? "no cycle has settled" : cycle.said;
  if (!cycle.hunting.empty()) return cycle.hunting.front() + " hunts";
  for (std::size_t i = 0; i < loop.siphons.size(); ++i) {
    if (loop.siphons[i].blocked) continue;
    const std::string said = siphon_near_edge(plumbing, i, inflow_while_fed(plumbing, cycle, loop.siphons[i].from));
    if (!said.empty()) return said;
  }
  for (std::size_t v = 0; v < loop.valves.size(); ++v)
    for (const WaterEvent& e : cycle.events)
      if (e.what == WaterChange::valve_stays && e.path == loop.valves[v].path && !loop.valves[v].stuck)
        return e.path + " does not turn each time";
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (loop.vessels[v].kind == VesselKind::gravel_bed || cycle.kind == Cycle::Kind::steady) continue;
    if (cycle.vessels[v].through.si() <= 0.0) continue;
    const double stays = (cycle.vessels[v].mean_water / cycle.vessels[v].through).si();
    if (cycle.period.si() > 0.5 * stays && cycle.kind == Cycle::Kind::periodic)
      return fmt::format("{} changes its water in {:.0f} min, and the cycle lasts {:.0f} min", loop.vessels[v].path,
                         stays / 60.0, cycle.period.si() / 60.0);
  }
  return {};
}

}  // namespace leat::model
