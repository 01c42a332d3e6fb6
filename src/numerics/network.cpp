#include "numerics/network.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <set>

namespace leat::numerics {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

class Solver {
  const Network& network_;
  std::span<const double> given_;
  NetworkSolution& s_;
  std::vector<LossAndSlope> laws_;

  std::size_t links() const { return network_.links.size(); }
  bool open(std::size_t l) const { return !network_.links[l].shut && !s_.closed[l]; }

  double head(int node) const {
    return node < network_.unknown ? s_.heads[static_cast<std::size_t>(node)]
                                   : given_[static_cast<std::size_t>(node - network_.unknown)];
  }

  double drop(std::size_t l) const { return head(network_.links[l].from) - head(network_.links[l].to); }

  void evaluate_laws(const std::vector<double>& flows) {
    double steepest = 0.0;
    for (std::size_t l = 0; l < links(); ++l)
      if (open(l)) {
        laws_[l] = network_.links[l].law(flows[l]);
        steepest = std::max(steepest, laws_[l].slope);
      }
    for (LossAndSlope& law : laws_) law.slope = std::max(law.slope, 1e-6 * steepest + 1e-12);
  }

  /// Largest miss of any law, in head. After a full step the node sums are zero to rounding.
  double miss(const std::vector<double>& flows) const {
    double worst = 0.0;
    for (std::size_t l = 0; l < links(); ++l)
      if (open(l)) worst = std::max(worst, std::abs(network_.links[l].law(flows[l]).loss - drop(l)));
    return worst;
  }

  /// One Newton step: heads from the linearised laws, then flows from the heads.
  std::vector<double> step() {
    const auto n = static_cast<Eigen::Index>(network_.unknown);
    MatrixXd a = MatrixXd::Zero(n, n);
    VectorXd f = VectorXd::Zero(n);
    const auto add = [&](int node, int other, double conductance, double flow_out) {
      if (node >= network_.unknown) return;
      a(node, node) += conductance;
      f(node) -= flow_out;
      if (other < network_.unknown)
        a(node, other) -= conductance;
      else
        f(node) += conductance * given_[static_cast<std::size_t>(other - network_.unknown)];
    };
    for (std::size_t l = 0; l < links(); ++l) {
      if (!open(l)) continue;
      const auto& link = network_.links[l];
      const double conductance = 1.0 / laws_[l].slope;
      const double at_equal_heads = s_.flows[l] - laws_[l].loss * conductance;
      add(link.from, link.to, conductance, at_equal_heads);
      add(link.to, link.from, conductance, -at_equal_heads);
    }
    for (Eigen::Index i = 0; i < n; ++i)
      if (a(i, i) == 0.0) {  // cut off from everything: keep its head
        a(i, i) = 1.0;
        f(i) = s_.heads[static_cast<std::size_t>(i)];
      }
    const VectorXd h = a.ldlt().solve(f);
    for (Eigen::Index i = 0; i < n; ++i) s_.heads[static_cast<std::size_t>(i)] = h(i);
    std::vector<double> flows(links(), 0.0);
    for (std::size_t l = 0; l < links(); ++l)
      if (open(l)) flows[l] = s_.flows[l] - (laws_[l].loss - drop(l)) / laws_[l].slope;
    return flows;
  }

  bool newton() {
    double best = std::numeric_limits<double>::infinity();
    for (int i = 0; i < 100; ++i, ++s_.steps) {
      evaluate_laws(s_.flows);
      const std::vector<double> before = s_.flows;
      std::vector<double> next = step();
      double now = miss(next);
      for (int halvings = 0; now > best && halvings < 6; ++halvings) {
        for (std::size_t l = 0; l < links(); ++l) next[l] = 0.5 * (next[l] + before[l]);
        now = miss(next);
      }
      double change = 0.0, largest = 1e-9;
      for (std::size_t l = 0; l < links(); ++l) {
        change = std::max(change, std::abs(next[l] - before[l]));
        largest = std::max(largest, std::abs(next[l]));
      }
      s_.flows = next;
      best = std::max(now, 1e-12);
      if (now < 1e-11 || change < 1e-13 * largest) return now < 1e-6;
    }
    return miss(s_.flows) < 1e-7;
  }

  /// Links that break their one-way rule: open and running backwards, or closed with a driving head.
  std::vector<std::size_t> violators() const {
    std::vector<std::size_t> found;
    for (std::size_t l = 0; l < links(); ++l) {
      const auto& link = network_.links[l];
      if (!link.one_way || link.shut) continue;
      const bool backwards = !s_.closed[l] && s_.flows[l] < -1e-12;
      const bool driven = s_.closed[l] && drop(l) - link.law(0.0).loss > 1e-9;
      if (backwards || driven) found.push_back(l);
    }
    return found;
  }

  void flip(std::size_t l) {
    s_.closed[l] = !s_.closed[l];
    s_.flows[l] = s_.closed[l] ? 0.0 : 1e-5;
  }

 public:
  Solver(const Network& network, std::span<const double> given, NetworkSolution& s)
      : network_(network), given_(given), s_(s) {
    laws_.resize(links());
  }

  void run() {
    std::set<std::vector<bool>> seen;
    for (int round = 0; round < 200; ++round) {
      if (!newton()) return;
      const auto wrong = violators();
      if (wrong.empty()) {
        s_.solved = true;
        return;
      }
      // All at once; when that set of closures has been seen before, one at a time so that it cannot cycle.
      if (seen.insert(s_.closed).second)
        for (const std::size_t l : wrong) flip(l);
      else
        flip(wrong[static_cast<std::size_t>(round) % wrong.size()]);
    }
  }
};

}  // namespace

NetworkSolution solve_network(const Network& network, std::span<const double> given_heads,
                              const NetworkSolution& guess) {
  NetworkSolution s;
  const std::size_t links = network.links.size(), unknown = static_cast<std::size_t>(network.unknown);
  double mean = 0.0;
  for (const double h : given_heads) mean += h / static_cast<double>(given_heads.size());
  s.heads = guess.heads.size() == unknown ? guess.heads : std::vector<double>(unknown, mean);
  s.flows = guess.flows.size() == links ? guess.flows : std::vector<double>(links, 1e-4);
  s.closed = guess.closed.size() == links ? guess.closed : std::vector<bool>(links, false);
  for (std::size_t l = 0; l < links; ++l)
    if (network.links[l].shut || s.closed[l]) s.flows[l] = 0.0;
  Solver(network, given_heads, s).run();
  return s;
}

}  // namespace leat::numerics
