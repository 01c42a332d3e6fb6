// Flows in a network whose links each have a rising law of loss against flow: the global gradient method.
//
// Found flows are the minimum of a convex function (the content of all links), so that Newton's steps with a search
// along each of them always lead there; sums at the nodes are kept to rounding, whatever the size of the conductances.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <vector>

namespace leat::numerics {

/// loss(flow) and its slope; the loss must rise with the flow.
struct LossAndSlope {
  double loss = 0.0, slope = 0.0;
};

/// One link. Nodes below `unknown` have unknown heads, those from `unknown` on have given heads.
struct NetworkLink {
  int from = 0, to = 0;
  bool one_way = false;    ///< flow may not be negative
  bool shut = false;       ///< carries nothing at all
  bool back_only = false;  ///< flow may not be positive
};

struct Network {
  int unknown = 0;  ///< nodes with unknown head
  std::vector<NetworkLink> links;
};

/// head(from) - head(to) = loss(flow) of the link of that number.
using LinkLaw = std::function<LossAndSlope(std::size_t link, double flow)>;

struct NetworkSolution {
  bool solved = false;
  int steps = 0;              ///< Newton steps in all
  std::vector<double> heads;  ///< of the unknown nodes; of those cut off, one that keeps what is closed closed
  std::vector<double> flows;  ///< of every link
  std::vector<bool> closed;   ///< one-way links that had to close
};

/// Solves one network again and again while its heads, laws and shut links change. It starts from the last solution, so
/// that a small change costs a step or two. One object serves one thread.
class NetworkSolver {
  class Work;
  std::unique_ptr<Work> work_;

 public:
  explicit NetworkSolver(Network network);
  ~NetworkSolver();
  NetworkSolver(NetworkSolver&&) noexcept;
  NetworkSolver& operator=(NetworkSolver&&) noexcept;

  int unknown() const;
  /// For the caller to set `shut` and `one_way` before it solves.
  std::span<NetworkLink> links();

  /// Finds flows with zero sum at every unknown node and every law met; one-way links close where they would run
  /// backwards (complementarity: flow >= 0, slack >= 0, one of them zero).
  const NetworkSolution& solve(const LinkLaw& law, std::span<const double> given_heads);

  const NetworkSolution& solution() const;

  /// How the flows of the last solution move with the head of one given node, all closures kept: one number a link.
  void slopes(int given, std::span<double> flow_slopes);
};

/// Once, from nothing.
NetworkSolution solve_network(const Network& network, const LinkLaw& law, std::span<const double> given_heads);

}  // namespace leat::numerics
