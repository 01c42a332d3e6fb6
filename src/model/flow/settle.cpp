// Levels that stay: with the pumps running, or after they have stopped.
#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "model/flow/plumbing.h"

namespace leat::model {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Levels and their rates as plain vectors, so that an implicit step can be written as algebra.
struct LevelRates {
  const Loop& loop;
  const Plumbing& plumbing;
  const Setting& setting;

  VectorXd operator()(const VectorXd& levels) const {
    std::vector<Length<>> at(loop.vessels.size());
    for (std::size_t v = 0; v < at.size(); ++v) at[v] = Length<>(levels(static_cast<Eigen::Index>(v)));
    const std::vector<Flow<>> net = plumbing.net(plumbing.flows(at, setting));
    VectorXd rates(levels.size());
    for (std::size_t v = 0; v < at.size(); ++v)
      rates(static_cast<Eigen::Index>(v)) = net[v].si() / loop.vessels[v].water_area().si();
    return rates;
  }

  MatrixXd slopes(const VectorXd& levels, const VectorXd& rates) const {
    const double nudge = 1e-7;
    MatrixXd j(levels.size(), levels.size());
    for (Eigen::Index v = 0; v < levels.size(); ++v) {
      VectorXd moved = levels;
      moved(v) += nudge;
      j.col(v) = ((*this)(moved)-rates) / nudge;
    }
    return j;
  }
};

}  // namespace

Settled settle(const Loop& loop, const Plumbing& plumbing, std::vector<Length<>> start, const Setting& setting) {
  const auto n = static_cast<Eigen::Index>(start.size());
  VectorXd levels(n);
  for (Eigen::Index v = 0; v < n; ++v) levels(v) = start[static_cast<std::size_t>(v)].si();
  const LevelRates rates_of{loop, plumbing, setting};
  Settled result;
  double dt = 1.0;
  for (; result.steps < 4000 && !result.settled; ++result.steps) {
    const VectorXd rates = rates_of(levels);
    if (rates.cwiseAbs().maxCoeff() < 1e-13) {
      result.settled = true;
      break;
    }
    // (1/dt - J) dz = f: the water of all vessels together does not change, because the areas' sum of f is zero.
    MatrixXd a = -rates_of.slopes(levels, rates);
    a.diagonal().array() += 1.0 / dt;
    const VectorXd step = a.partialPivLu().solve(rates);
    const double largest = step.cwiseAbs().maxCoeff();
    if (!(largest < 0.05)) {
      dt *= 0.3;
      continue;
    }
    const VectorXd next = levels + step;
    const bool better = rates_of(next).cwiseAbs().maxCoeff() < 2.0 * rates.cwiseAbs().maxCoeff();
    if (!better && dt > 1e-3) {
      dt *= 0.3;
      continue;
    }
    levels = next;
    dt = std::min(dt * 1.8, 1e7);
    if (largest < 1e-10 && dt > 1e5) result.settled = true;
  }
  for (Eigen::Index v = 0; v < n; ++v) result.levels.emplace_back(levels(v));
  result.flows = plumbing.flows(result.levels, setting);
  return result;
}

std::vector<Length<>> levels_at_rest(const Loop& loop) {
  std::vector<Length<>> levels;
  std::size_t lowest = 0;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const Vessel& vessel = loop.vessels[v];
    if (vessel.floor < loop.vessels[lowest].floor) lowest = v;
    Length<> level = vessel.floor + 0.6 * vessel.depth();
    for (const Overflow& o : loop.overflows)
      if (static_cast<std::size_t>(o.from) == v) level = o.rim;
    levels.push_back(vessel.held_level.value_or(vessel.level_at_rest.value_or(level)));
  }
  if (loop.total_water) {
    Volume<> others{};
    for (std::size_t v = 0; v < levels.size(); ++v)
      if (v != lowest) others += loop.vessels[v].volume_at(levels[v]);
    const Vessel& vessel = loop.vessels[lowest];
    levels[lowest] = std::max(vessel.floor, vessel.level_at(*loop.total_water - others));
  }
  return levels;
}

}  // namespace leat::model
