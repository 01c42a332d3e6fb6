// Flows in a network whose links each have a rising law of loss against flow: the global gradient method.
#pragma once

#include <functional>
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
  std::function<LossAndSlope(double flow)> law;  ///< head(from) - head(to) = loss(flow)
  bool one_way = false;                          ///< flow may not be negative
  bool shut = false;                             ///< carries nothing at all
};

struct Network {
  int unknown = 0;  ///< nodes with unknown head
  std::vector<NetworkLink> links;
};

struct NetworkSolution {
  bool solved = false;
  int steps = 0;              ///< Newton steps in all
  std::vector<double> heads;  ///< of the unknown nodes; NaN-free; a node cut off from all others keeps its guess
  std::vector<double> flows;  ///< of every link
  std::vector<bool> closed;   ///< one-way links that had to close
};

/// Finds flows with zero sum at every unknown node and every law met; one-way links close where they would run
/// backwards (complementarity: flow >= 0, slack >= 0, one of them zero). `guess` may be an earlier solution or empty.
NetworkSolution solve_network(const Network& network, std::span<const double> given_heads,
                              const NetworkSolution& guess = {});

}  // namespace leat::numerics
