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
  Plumbing::Work* work = nullptr;

  static std::vector<Length<>> lengths(const VectorXd& levels) {
    std::vector<Length<>> at;
    for (const double level : levels) at.emplace_back(level);
    return at;
  }

  VectorXd operator()(const VectorXd& levels) const {
    Flows flows;
    plumbing.flows(lengths(levels), setting, *work, flows);
    const std::vector<Flow<>> net = plumbing.net(flows);
    VectorXd rates(levels.size());
    for (std::size_t v = 0; v < net.size(); ++v)
      rates(static_cast<Eigen::Index>(v)) = net[v].si() / loop.vessels[v].water_area().si();
    return rates;
  }

  /// The rates must have been asked for at these levels just before.
  MatrixXd slopes(const VectorXd& levels) const {
    MatrixXd j(levels.size(), levels.size());
    const auto size = static_cast<std::size_t>(j.size());
    plumbing.slopes(lengths(levels), setting, *work, {j.data(), size});
    for (Eigen::Index v = 0; v < levels.size(); ++v) {
      const auto vessel = static_cast<std::size_t>(v);
      const auto outside = plumbing.outside_slopes(vessel, levels(v), setting);
      j(v, v) += outside.top_up - outside.spill;
    }
    for (Eigen::Index v = 0; v < levels.size(); ++v) {
      const Vessel& vessel = loop.vessels[static_cast<std::size_t>(v)];
      j.row(v) *= vessel.held_level ? 0.0 : 1.0 / vessel.water_area().si();
    }
    return j;
  }
};

/// Heights at which the plumbing changes: open pipe ends under water, the levels at which pumps suck air, and floors.
std::vector<std::pair<std::size_t, double>> edges(const Loop& loop) {
  std::vector<std::pair<std::size_t, double>> all;
  for (const Pipe& pipe : loop.pipes)
    if (pipe.to.what == End::What::vessel && pipe.outlet_level)
      all.emplace_back(static_cast<std::size_t>(pipe.to.index), pipe.outlet_level->si());
  for (const Pump& pump : loop.pumps) all.emplace_back(static_cast<std::size_t>(pump.vessel), pump.dry_run_level.si());
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) all.emplace_back(v, loop.vessels[v].floor.si());
  return all;
}

/// Share of a step that may be taken so that no falling level passes an edge: it lands on it.
double share_to_edge(const std::vector<std::pair<std::size_t, double>>& all, const VectorXd& levels,
                     const VectorXd& step) {
  double share = 1.0;
  for (const auto& [v, height] : all) {
    const double now = levels(static_cast<Eigen::Index>(v)), then = now + step(static_cast<Eigen::Index>(v));
    if (now > height && then < height) share = std::min(share, (now - height) / (now - then));
  }
  return share;
}

/// Where a vessel left to itself stops draining; a siphon bed where its siphon breaks.
std::optional<Length<>> lowest_way_out(const Loop& loop, int v) {
  std::optional<Length<>> lowest;
  const auto see = [&](const auto& list, auto height) {
    for (const auto& o : list)
      if (o.from == v) lowest = std::min(lowest.value_or(height(o)), height(o));
  };
  see(loop.overflows, [](const Overflow& o) { return o.rim; });
  see(loop.siphons, [](const Siphon& s) { return s.break_level; });
  see(loop.drain_holes, [](const DrainHole& h) { return h.level; });
  see(loop.weirs, [](const Weir& w) { return w.crest; });
  see(loop.returns, [](const GravityReturn& r) { return r.inlet_level; });
  return lowest;
}

}  // namespace

Settled settle(const Loop& loop, const Plumbing& plumbing, std::vector<Length<>> start, const Setting& asked) {
  Setting setting = asked;
  setting.tripped.resize(loop.pumps.size(), false);
  const auto heights = edges(loop);
  const auto n = static_cast<Eigen::Index>(start.size());
  VectorXd levels(n);
  for (Eigen::Index v = 0; v < n; ++v) levels(v) = start[static_cast<std::size_t>(v)].si();
  const auto work = plumbing.make_work();
  const LevelRates rates_of{loop, plumbing, setting, work.get()};
  Settled result;
  double dt = 1.0;
  for (; result.steps < 4000 && !result.settled; ++result.steps) {
    // A pump that has sucked air stays off: with so little water it would only start and stop for ever.
    for (std::size_t p = 0; p < loop.pumps.size(); ++p)
      if (levels(loop.pumps[p].vessel) <= loop.pumps[p].dry_run_level.si() + 1e-12)
        setting.tripped[p] = setting.tripped[p] || setting.power;
    const VectorXd rates = rates_of(levels);
    if (rates.cwiseAbs().maxCoeff() < 1e-13) {
      result.settled = true;
      break;
    }
    // (1/dt - J) dz = f: the water of all vessels together does not change, because the areas' sum of f is zero.
    MatrixXd a = -rates_of.slopes(levels);
    a.diagonal().array() += 1.0 / dt;
    const VectorXd step = a.partialPivLu().solve(rates);
    const double largest = step.cwiseAbs().maxCoeff();
    if (!(largest < 0.05)) {
      dt *= 0.3;
      continue;
    }
    const double share = share_to_edge(heights, levels, step);
    const VectorXd next = levels + share * step;
    const bool better = rates_of(next).cwiseAbs().maxCoeff() < 2.0 * rates.cwiseAbs().maxCoeff();
    if (!better && share == 1.0 && dt > 1e-3) {
      dt *= 0.3;
      continue;
    }
    levels = next;
    dt = std::min(dt * 1.8, 1e7);
    if (largest < 1e-10 && dt > 1e5) result.settled = true;
  }
  for (Eigen::Index v = 0; v < n; ++v) result.levels.emplace_back(levels(v));
  result.flows = plumbing.flows(result.levels, setting);
  result.tripped = setting.tripped;
  return result;
}

std::vector<Length<>> levels_at_rest(const Loop& loop) {
  std::vector<Length<>> levels;
  std::size_t lowest = 0;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const Vessel& vessel = loop.vessels[v];
    if (vessel.floor < loop.vessels[lowest].floor) lowest = v;
    const Length<> level = lowest_way_out(loop, static_cast<int>(v)).value_or(vessel.floor + 0.6 * vessel.depth());
    levels.push_back(vessel.held_level.value_or(vessel.level_at_rest.value_or(level)));
  }
  if (loop.total_water && !loop.vessels[lowest].held_level) {
    Volume<> others{};
    for (std::size_t v = 0; v < levels.size(); ++v)
      if (v != lowest) others += loop.vessels[v].volume_at(levels[v]);
    const Vessel& vessel = loop.vessels[lowest];
    levels[lowest] = std::max(vessel.floor, vessel.level_at(*loop.total_water - others));
  }
  return levels;
}

}  // namespace leat::model
