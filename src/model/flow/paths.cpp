#include "model/flow/paths.h"

#include <Eigen/Dense>
#include <algorithm>

namespace leat::model {
namespace {

using Eigen::MatrixXd;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Junctions and pump outlets, each fully mixed; vessels are the sources of what they hold.
class Mixing {
  const Loop& loop_;
  const std::vector<Length<>>& levels_;
  const Flows& flows_;
  int junctions_, pumps_, nodes_;
  MatrixXd shares_;  // (node, vessel): share of the node's water that comes from the vessel

  int node(const End& e) const {
    if (e.what == End::What::junction) return e.index;
    return junctions_ + (e.what == End::What::valve ? pumps_ : 0) + e.index;
  }
  static bool is_node(const End& e) { return e.what != End::What::vessel; }

  /// The end that water leaves by, seen along the true direction of the flow.
  static std::pair<End, End> along(const Pipe& pipe, double q) {
    return q >= 0.0 ? std::pair{pipe.from, pipe.to} : std::pair{pipe.to, pipe.from};
  }

 public:
  Mixing(const Loop& loop, const std::vector<Length<>>& levels, const Flows& flows)
      : loop_(loop),
        levels_(levels),
        flows_(flows),
        junctions_(static_cast<int>(loop.junctions.size())),
        pumps_(static_cast<int>(loop.pumps.size())),
        nodes_(junctions_ + pumps_ + static_cast<int>(loop.valves.size())) {
    const auto vessels = static_cast<Eigen::Index>(loop.vessels.size());
    MatrixXd a = MatrixXd::Identity(nodes_, nodes_) * 1e-15, b = MatrixXd::Zero(nodes_, vessels);
    for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
      const double q = flows.pumps[p].si();
      const int n = junctions_ + static_cast<int>(p);
      if (q <= 0.0) continue;
      a(n, n) += q;
      b(n, loop.pumps[p].vessel) += q;
    }
    for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
      const double q = flows.pipes[i].si();
      const auto [from, to] = along(loop.pipes[i], q);
      if (!is_node(to) || q == 0.0) continue;
      const int n = node(to);
      a(n, n) += std::abs(q);
      if (from.what == End::What::vessel)
        b(n, from.index) += std::abs(q);
      else
        a(n, node(from)) -= std::abs(q);
    }
    shares_ = nodes_ == 0 ? MatrixXd::Zero(0, vessels) : MatrixXd(a.partialPivLu().solve(b));
  }

  /// Adds the water that one pipe brings to a vessel, split by where it comes from.
  void deliver(std::size_t pipe_index, std::vector<FlowPath>& paths) const {
    const Pipe& pipe = loop_.pipes[pipe_index];
    const double q = flows_.pipes[pipe_index].si();
    const auto [from, to] = along(pipe, q);
    if (to.what != End::What::vessel || std::abs(q) < 1e-12) return;
    Length<> fall{};
    if (pipe.outlet_level && q > 0.0) fall = std::max(Length<>(0.0), *pipe.outlet_level - levels_[at(to.index)]);
    if (from.what == End::What::vessel) {
      paths.push_back({from.index, to.index, Flow<>(std::abs(q)), fall, false});
      return;
    }
    for (Eigen::Index v = 0; v < shares_.cols(); ++v)
      if (const double share = shares_(node(from), v); share > 1e-9)
        paths.push_back({static_cast<int>(v), to.index, Flow<>(std::abs(q) * share), fall, false});
  }
};

}  // namespace

std::vector<FlowPath> flow_paths(const Plumbing& plumbing, const std::vector<Length<>>& levels, const Flows& flows) {
  const Loop& loop = plumbing.loop();
  std::vector<FlowPath> paths;
  const Mixing mixing(loop, levels, flows);
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) mixing.deliver(i, paths);
  const auto fall = [&](Length<> edge, Length<> landing) { return std::max(Length<>(0.0), edge - landing); };
  const auto add = [&](const auto& list, const std::vector<Flow<>>& carried, auto drop) {
    for (std::size_t i = 0; i < list.size(); ++i)
      if (carried[i].si() >= 1e-12)
        paths.push_back({list[i].from, list[i].to, carried[i], drop(list[i], carried[i]), true});
  };
  const auto below = [&](const auto& o) { return levels[at(o.to)]; };
  add(loop.overflows, flows.overflows,
      [&](const Overflow& o, Flow<> q) { return fall(o.rim, plumbing.standpipe_level(o, q, below(o))); });
  add(loop.siphons, flows.siphons,
      [&](const Siphon& s, Flow<>) { return fall(s.outlet_level.value_or(below(s)), below(s)); });
  add(loop.drain_holes, flows.drain_holes, [&](const DrainHole& h, Flow<>) { return fall(h.level, below(h)); });
  add(loop.weirs, flows.weirs, [&](const Weir& w, Flow<>) { return fall(w.crest, below(w)); });
  add(loop.returns, flows.returns, [&](const GravityReturn& r, Flow<>) { return fall(r.outlet_level, below(r)); });
  return paths;
}

std::vector<FlowPath> flow_paths(const Loop&, const Plumbing& plumbing, const Settled& running) {
  return flow_paths(plumbing, running.levels, running.flows);
}

}  // namespace leat::model
