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
  const Settled& running_;
  int junctions_, nodes_;
  MatrixXd shares_;  // (node, vessel): share of the node's water that comes from the vessel

  int node(const End& e) const { return e.what == End::What::junction ? e.index : junctions_ + e.index; }

  /// The end that water leaves by, seen along the true direction of the flow.
  static std::pair<End, End> along(const Pipe& pipe, double q) {
    return q >= 0.0 ? std::pair{pipe.from, pipe.to} : std::pair{pipe.to, pipe.from};
  }

 public:
  Mixing(const Loop& loop, const Settled& running)
      : loop_(loop),
        running_(running),
        junctions_(static_cast<int>(loop.junctions.size())),
        nodes_(junctions_ + static_cast<int>(loop.pumps.size())) {
    const auto vessels = static_cast<Eigen::Index>(loop.vessels.size());
    MatrixXd a = MatrixXd::Identity(nodes_, nodes_) * 1e-15, b = MatrixXd::Zero(nodes_, vessels);
    for (std::size_t p = 0; p < loop.pumps.size(); ++p) {
      const double q = running.flows.pumps[p].si();
      const int n = junctions_ + static_cast<int>(p);
      if (q <= 0.0) continue;
      a(n, n) += q;
      b(n, loop.pumps[p].vessel) += q;
    }
    for (std::size_t i = 0; i < loop.pipes.size(); ++i) {
      const double q = running.flows.pipes[i].si();
      const auto [from, to] = along(loop.pipes[i], q);
      if (to.what == End::What::vessel || q == 0.0) continue;
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
    const double q = running_.flows.pipes[pipe_index].si();
    const auto [from, to] = along(pipe, q);
    if (to.what != End::What::vessel || std::abs(q) < 1e-12) return;
    Length<> fall{};
    if (pipe.outlet_level && q > 0.0)
      fall = std::max(Length<>(0.0), *pipe.outlet_level - running_.levels[at(to.index)]);
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

std::vector<FlowPath> flow_paths(const Loop& loop, const Plumbing& plumbing, const Settled& running) {
  std::vector<FlowPath> paths;
  const Mixing mixing(loop, running);
  for (std::size_t i = 0; i < loop.pipes.size(); ++i) mixing.deliver(i, paths);
  for (std::size_t i = 0; i < loop.overflows.size(); ++i) {
    const Overflow& o = loop.overflows[i];
    const Flow<> q = running.flows.overflows[i];
    if (q.si() < 1e-12) continue;
    const Length<> landing = plumbing.standpipe_level(o, q, running.levels[at(o.to)]);
    paths.push_back({o.from, o.to, q, std::max(Length<>(0.0), o.rim - landing), true});
  }
  return paths;
}

}  // namespace leat::model
