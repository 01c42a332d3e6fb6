#include "numerics/network.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace leat::numerics {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

class NetworkSolver::Work {
  const LinkLaw* law_ = nullptr;
  std::span<const double> given_;
  std::vector<LossAndSlope> laws_, next_laws_;
  std::vector<double> next_, before_, next_heads_;
  std::vector<std::size_t> wrong_;
  MatrixXd matrix_;
  VectorXd sums_, heads_;
  Eigen::LDLT<MatrixXd> factors_;
  bool factored_ = false;

  std::size_t count() const { return network.links.size(); }
  bool open(std::size_t l) const { return !network.links[l].shut && !s.closed[l]; }

  double head(int node) const {
    return node < network.unknown ? s.heads[at(node)] : given_[at(node - network.unknown)];
  }
  double drop(std::size_t l) const { return head(network.links[l].from) - head(network.links[l].to); }

  /// Laws at some flows; returns the largest miss of any, in head. After a full step the node sums are zero to
  /// rounding.
  double evaluate(const std::vector<double>& flows, std::vector<LossAndSlope>& laws) {
    double worst = 0.0;
    for (std::size_t l = 0; l < count(); ++l)
      if (open(l)) {
        laws[l] = (*law_)(l, flows[l]);
        worst = std::max(worst, std::abs(laws[l].loss - drop(l)));
      }
    return worst;
  }

  void floor_slopes() {
    double steepest = 0.0;
    for (std::size_t l = 0; l < count(); ++l)
      if (open(l)) steepest = std::max(steepest, std::min(laws_[l].slope, 1e9));
    for (LossAndSlope& law : laws_) law.slope = std::max(law.slope, 1e-6 * steepest + 1e-12);
  }

  void assemble() {
    matrix_.setZero();
    for (std::size_t l = 0; l < count(); ++l) {
      if (!open(l)) continue;
      const auto& link = network.links[l];
      const double conductance = 1.0 / laws_[l].slope;
      const bool from = link.from < network.unknown, to = link.to < network.unknown;
      if (from) matrix_(link.from, link.from) += conductance;
      if (to) matrix_(link.to, link.to) += conductance;
      if (from && to) {
        matrix_(link.from, link.to) -= conductance;
        matrix_(link.to, link.from) -= conductance;
      }
    }
  }

  /// One Newton step: heads from the linearised laws, then flows from the heads.
  void step() {
    floor_slopes();
    assemble();
    sums_.setZero();
    const auto add = [&](int node, int other, double conductance, double flow_out) {
      if (node >= network.unknown) return;
      sums_(node) -= flow_out;
      if (other >= network.unknown) sums_(node) += conductance * given_[at(other - network.unknown)];
    };
    for (std::size_t l = 0; l < count(); ++l) {
      if (!open(l)) continue;
      const auto& link = network.links[l];
      const double conductance = 1.0 / laws_[l].slope;
      const double at_equal_heads = s.flows[l] - laws_[l].loss * conductance;
      add(link.from, link.to, conductance, at_equal_heads);
      add(link.to, link.from, conductance, -at_equal_heads);
    }
    for (Eigen::Index i = 0; i < sums_.size(); ++i)
      if (matrix_(i, i) == 0.0) {  // cut off from everything: keep its head
        matrix_(i, i) = 1.0;
        sums_(i) = s.heads[static_cast<std::size_t>(i)];
      }
    if (sums_.size() == 1) {
      heads_(0) = sums_(0) / matrix_(0, 0);
    } else if (sums_.size() > 1) {
      factors_.compute(matrix_);
      heads_ = factors_.solve(sums_);
    }
    for (Eigen::Index i = 0; i < sums_.size(); ++i) s.heads[static_cast<std::size_t>(i)] = heads_(i);
    for (std::size_t l = 0; l < count(); ++l)
      next_[l] = open(l) ? s.flows[l] - (laws_[l].loss - drop(l)) / laws_[l].slope : 0.0;
  }

  bool newton() {
    double best = std::numeric_limits<double>::infinity();
    evaluate(s.flows, laws_);
    for (int i = 0; i < 100; ++i, ++s.steps) {
      before_ = s.flows;
      step();
      double now = evaluate(next_, next_laws_);
      for (int halvings = 0; now > best && halvings < 6; ++halvings) {
        for (std::size_t l = 0; l < count(); ++l) next_[l] = 0.5 * (next_[l] + before_[l]);
        now = evaluate(next_, next_laws_);
      }
      double change = 0.0, largest = 1e-9;
      for (std::size_t l = 0; l < count(); ++l) {
        change = std::max(change, std::abs(next_[l] - before_[l]));
        largest = std::max(largest, std::abs(next_[l]));
      }
      s.flows = next_;
      std::swap(laws_, next_laws_);
      best = std::max(now, 1e-12);
      if (now < 1e-11 || change < 1e-13 * largest) return now < 1e-6;
    }
    return best < 1e-7;
  }

  /// Links that break their one-way rule: open and running backwards, or closed with a driving head.
  void find_violators() {
    wrong_.clear();
    for (std::size_t l = 0; l < count(); ++l) {
      const auto& link = network.links[l];
      if (!link.one_way || link.shut) continue;
      const bool backwards = !s.closed[l] && s.flows[l] < -1e-12;
      const bool driven = s.closed[l] && drop(l) - (*law_)(l, 0.0).loss > 1e-9;
      if (backwards || driven) wrong_.push_back(l);
    }
  }

  void flip(std::size_t l) {
    s.closed[l] = !s.closed[l];
    s.flows[l] = s.closed[l] ? 0.0 : 1e-5;
  }

  void search() {
    std::set<std::vector<bool>> seen;
    for (int round = 0; round < 200; ++round) {
      if (!newton()) return;
      find_violators();
      if (wrong_.empty()) {
        s.solved = true;
        return;
      }
      // All at once; when that set of closures has been seen before, one at a time so that it cannot cycle.
      if (seen.insert(s.closed).second)
        for (const std::size_t l : wrong_) flip(l);
      else
        flip(wrong_[static_cast<std::size_t>(round) % wrong_.size()]);
    }
  }

  void begin_from_nothing() {
    double mean = 0.0;
    for (const double h : given_) mean += h / static_cast<double>(given_.size());
    s.heads.assign(at(network.unknown), mean);
    s.flows.assign(count(), 1e-4);
    s.closed.assign(count(), false);
  }

 public:
  Network network;
  NetworkSolution s;

  explicit Work(Network n) : network(std::move(n)) {
    laws_.resize(count());
    next_laws_.resize(count());
    next_.resize(count());
    matrix_.setZero(network.unknown, network.unknown);
    sums_.setZero(network.unknown);
    heads_.setZero(network.unknown);
  }

  void solve(const LinkLaw& law, std::span<const double> given) {
    factored_ = false;
    law_ = &law;
    given_ = given;
    const bool warm = s.solved;
    if (!warm) begin_from_nothing();
    for (int attempt = 0; attempt < 2; ++attempt) {
      s.solved = false;
      s.steps = 0;
      for (std::size_t l = 0; l < count(); ++l) {
        const auto& link = network.links[l];
        if (!link.one_way) s.closed[l] = false;
        if (link.shut || s.closed[l])
          s.flows[l] = 0.0;
        else if (s.flows[l] == 0.0)
          s.flows[l] = 1e-5;
      }
      search();
      if (s.solved || !warm) return;
      begin_from_nothing();
    }
  }

  /// The matrix of the last solution is factored once for all the heads asked for.
  void slopes(int given, std::span<double> flow_slopes) {
    if (!factored_) {
      floor_slopes();
      assemble();
      for (Eigen::Index i = 0; i < sums_.size(); ++i)
        if (matrix_(i, i) == 0.0) matrix_(i, i) = 1.0;
      if (sums_.size() > 0) factors_.compute(matrix_);
      factored_ = true;
    }
    sums_.setZero();
    for (std::size_t l = 0; l < count(); ++l) {
      if (!open(l)) continue;
      const auto& link = network.links[l];
      if (link.to == given && link.from < network.unknown) sums_(link.from) += 1.0 / laws_[l].slope;
      if (link.from == given && link.to < network.unknown) sums_(link.to) += 1.0 / laws_[l].slope;
    }
    if (sums_.size() > 0) heads_ = factors_.solve(sums_);
    const auto rise = [&](int node) { return node < network.unknown ? heads_(node) : node == given ? 1.0 : 0.0; };
    for (std::size_t l = 0; l < count(); ++l)
      flow_slopes[l] = open(l) ? (rise(network.links[l].from) - rise(network.links[l].to)) / laws_[l].slope : 0.0;
  }
};

NetworkSolver::NetworkSolver(Network network) : work_(std::make_unique<Work>(std::move(network))) {}
NetworkSolver::~NetworkSolver() = default;
NetworkSolver::NetworkSolver(NetworkSolver&&) noexcept = default;
NetworkSolver& NetworkSolver::operator=(NetworkSolver&&) noexcept = default;

int NetworkSolver::unknown() const {
  return work_->network.unknown;
}

std::span<NetworkLink> NetworkSolver::links() {
  return work_->network.links;
}

const NetworkSolution& NetworkSolver::solve(const LinkLaw& law, std::span<const double> given_heads) {
  work_->solve(law, given_heads);
  return work_->s;
}

void NetworkSolver::slopes(int given, std::span<double> flow_slopes) {
  work_->slopes(given, flow_slopes);
}

NetworkSolution solve_network(const Network& network, const LinkLaw& law, std::span<const double> given_heads) {
  return NetworkSolver(network).solve(law, given_heads);
}

}  // namespace leat::numerics
