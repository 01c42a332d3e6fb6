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

constexpr double kLeastSlope = 1e-6;  ///< a law that is flat somewhere counts as this steep in a step
constexpr double kMiss = 1e-11;       ///< head by which a law may be missed
constexpr double kBackwards = 1e-12;  ///< flow against the one way of an open link
constexpr double kDriven = 1e-11;     ///< head that would open a closed link
constexpr double kOpening = 1e-5;     ///< flow at which the search for an opened link starts

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

class NetworkSolver::Work {
  const LinkLaw* law_ = nullptr;
  std::span<const double> given_;
  std::vector<LossAndSlope> laws_, next_laws_;
  std::vector<double> next_, before_;
  std::vector<double> conductance_;  ///< of each link, as factored last; 0 where it is not open
  std::vector<bool> open_;           ///< of each link: it may carry water
  std::vector<int> part_;  ///< of each node: which of the parts that hang together; kHeld if it reaches a given head
  std::vector<std::size_t> wrong_;
  MatrixXd matrix_;
  VectorXd sums_, rise_;
  Eigen::LLT<MatrixXd> factors_;
  bool factored_ = false;
  static constexpr int kHeld = -1;

  std::size_t count() const { return network.links.size(); }
  bool unknown(int node) const { return node < network.unknown; }
  double head(int node) const { return unknown(node) ? s.heads[at(node)] : given_[at(node - network.unknown)]; }
  double drop(std::size_t l) const { return head(network.links[l].from) - head(network.links[l].to); }
  /// 1 or -1 for a link that may carry water this way only; else 0.
  static int way(const NetworkLink& link) { return link.one_way ? 1 : link.back_only ? -1 : 0; }
  bool passable(std::size_t l) const { return !network.links[l].shut && !s.closed[l]; }

  /// Parts that hang together by passable links; what reaches no given head carries nothing.
  void find_parts() {
    for (int node = 0; node < network.unknown; ++node) part_[at(node)] = node;
    const auto part = [&](int node) { return unknown(node) ? part_[at(node)] : kHeld; };
    for (bool changed = true; changed;) {
      changed = false;
      for (std::size_t l = 0; l < count(); ++l) {
        if (!passable(l)) continue;
        const auto& link = network.links[l];
        const int least = std::min(part(link.from), part(link.to));
        for (const int node : {link.from, link.to})
          if (part(node) != least) part_[at(node)] = least, changed = true;
      }
    }
    for (std::size_t l = 0; l < count(); ++l) {
      open_[l] = passable(l) && part(network.links[l].from) == kHeld;
      if (!open_[l]) s.flows[l] = 0.0;
    }
  }

  /// Laws at some flows; returns the largest miss of any, in head.
  double evaluate(const std::vector<double>& flows, std::vector<LossAndSlope>& laws) const {
    double worst = 0.0;
    for (std::size_t l = 0; l < count(); ++l)
      if (open_[l]) {
        laws[l] = (*law_)(l, flows[l]);
        worst = std::max(worst, std::abs(laws[l].loss - drop(l)));
      }
    return worst;
  }

  void factor() {
    matrix_.setZero();
    for (int node = 0; node < network.unknown; ++node)
      if (part_[at(node)] != kHeld) matrix_(node, node) = 1.0;
    for (std::size_t l = 0; l < count(); ++l) {
      const double c = conductance_[l] = open_[l] ? 1.0 / std::max(laws_[l].slope, kLeastSlope) : 0.0;
      if (!open_[l]) continue;
      const auto& link = network.links[l];
      if (unknown(link.from)) matrix_(link.from, link.from) += c;
      if (unknown(link.to)) matrix_(link.to, link.to) += c;
      if (unknown(link.from) && unknown(link.to)) {
        matrix_(link.from, link.to) -= c;
        matrix_(link.to, link.from) -= c;
      }
    }
    if (network.unknown > 0) factors_.compute(matrix_);
  }

  double rise(int node) const { return unknown(node) ? rise_(node) : 0.0; }

  /// Heads that rise until these flows balance at every node, by the conductances that were factored last; returns the
  /// largest sum there was.
  double balance(std::span<double> flows) {
    if (sums_.size() == 0) return 0.0;
    sums_.setZero();
    for (std::size_t l = 0; l < count(); ++l) {
      if (!open_[l]) continue;
      const auto& link = network.links[l];
      if (unknown(link.from)) sums_(link.from) -= flows[l];
      if (unknown(link.to)) sums_(link.to) += flows[l];
    }
    rise_ = factors_.solve(sums_);
    for (std::size_t l = 0; l < count(); ++l)
      if (open_[l]) flows[l] += (rise(network.links[l].from) - rise(network.links[l].to)) * conductance_[l];
    return sums_.cwiseAbs().maxCoeff();
  }

  void raise_heads() {
    for (int node = 0; node < network.unknown; ++node) s.heads[at(node)] += rise_(node);
  }

  /// One Newton step: flows by the linearised laws at the present heads, then the rise of heads that balances them.
  void step() {
    factor();
    for (std::size_t l = 0; l < count(); ++l)
      next_[l] = open_[l] ? s.flows[l] + (drop(l) - laws_[l].loss) * conductance_[l] : 0.0;
    balance(next_);
    raise_heads();
  }

  /// A conductance that is large beside the others leaves a sum that is large beside the flows: once more, then.
  void polish() {
    double largest = 0.0;
    for (const double q : s.flows) largest = std::max(largest, std::abs(q));
    for (int i = 0; i < 3; ++i) {
      const double sum = balance(s.flows);
      raise_heads();
      if (sum <= 4e-16 * largest) return;
    }
  }

  /// How fast the content falls along the step, some way along it.
  double fall(const std::vector<double>& flows, const std::vector<LossAndSlope>& laws, double share) const {
    double sum = 0.0;
    for (std::size_t l = 0; l < count(); ++l)
      if (open_[l]) sum += (laws[l].loss - drop(l)) * (flows[l] - before_[l]);
    return sum / share;
  }

  /// Shortens a step that went far beyond the least content along it; both ends are balanced, and so is all between.
  void search_along(double& miss) {
    double begin = 0.0;
    for (std::size_t l = 0; l < count(); ++l)
      if (open_[l]) begin += (next_[l] - before_[l]) * (next_[l] - before_[l]) / conductance_[l];
    const std::vector<double> whole = next_;
    double low = 0.0, high = 1.0, share = 1.0, at_low = -begin, slope = fall(next_, next_laws_, share);
    for (int i = 0; i < 30 && std::abs(slope) > 0.5 * begin; ++i) {
      if (slope < 0.0) {
        if (share == 1.0) return;
        low = share, at_low = slope;
      } else {
        high = share;
      }
      const double secant = low + (high - low) * at_low / (at_low - std::max(slope, 0.0));
      share = slope > 0.0 ? std::clamp(secant, low + 0.1 * (high - low), low + 0.5 * (high - low)) : 0.5 * (low + high);
      for (std::size_t l = 0; l < count(); ++l) next_[l] = before_[l] + share * (whole[l] - before_[l]);
      miss = evaluate(next_, next_laws_);
      slope = fall(next_, next_laws_, share);
    }
  }

  bool newton() {
    evaluate(s.flows, laws_);
    for (int i = 0; i < 100; ++i, ++s.steps) {
      before_ = s.flows;
      step();
      double miss = evaluate(next_, next_laws_);
      if (i > 0 && miss > kMiss) search_along(miss);  // the first step makes the balance that the search needs
      double change = 0.0, largest = 1e-9;
      for (std::size_t l = 0; l < count(); ++l) {
        change = std::max(change, std::abs(next_[l] - before_[l]));
        largest = std::max(largest, std::abs(next_[l]));
      }
      s.flows = next_;
      std::swap(laws_, next_laws_);
      if (!std::isfinite(miss)) return false;
      if (miss >= kMiss && change >= 1e-14 * largest) continue;
      polish();
      return miss < 1e-6;
    }
    return false;
  }

  /// A part that is cut off takes a head at which its closed links are rightly closed, if there is one: what stands in
  /// a stopped main is held by its lowest outlet.
  void rest_parts() {
    for (int part = 0; part < network.unknown; ++part) {
      if (part_[at(part)] != part) continue;  // none has this name: a part is called by its lowest node
      double low = -std::numeric_limits<double>::infinity(), high = -low;
      const auto inside = [&](int node) { return unknown(node) && part_[at(node)] == part; };
      for (std::size_t l = 0; l < count(); ++l) {
        const auto& link = network.links[l];
        const bool from = inside(link.from), to = inside(link.to);
        if (!s.closed[l] || link.shut || from == to) continue;
        const double loss = (*law_)(l, 0.0).loss;
        if (from == (way(link) > 0))
          high = std::min(high, from ? head(link.to) + loss : head(link.from) - loss);
        else
          low = std::max(low, from ? head(link.to) + loss : head(link.from) - loss);
      }
      const bool bounded = std::isfinite(high);
      if (!bounded && !std::isfinite(low)) continue;
      const double rest = !bounded ? low : low > high ? 0.5 * (low + high) : high;
      for (int node = 0; node < network.unknown; ++node)
        if (inside(node)) s.heads[at(node)] = rest;
    }
  }

  /// Links that break their one-way rule: open and running backwards, or closed with a driving head.
  void find_violators() {
    wrong_.clear();
    for (std::size_t l = 0; l < count(); ++l) {
      const auto& link = network.links[l];
      if (way(link) == 0 || link.shut) continue;
      const bool backwards = open_[l] && way(link) * s.flows[l] < -kBackwards;
      const bool driven = s.closed[l] && way(link) * (drop(l) - (*law_)(l, 0.0).loss) > kDriven;
      if (backwards || driven) wrong_.push_back(l);
    }
  }

  void flip(std::size_t l) {
    s.closed[l] = !s.closed[l];
    s.flows[l] = s.closed[l] ? 0.0 : way(network.links[l]) * kOpening;
  }

  /// All violators at once; when that set of closures has been seen before, the first alone, so that it cannot cycle.
  void search() {
    std::set<std::vector<bool>> seen;
    for (int round = 0; round < 200; ++round) {
      find_parts();
      if (!newton()) return;
      rest_parts();
      find_violators();
      if (wrong_.empty()) {
        s.solved = true;
        return;
      }
      if (!seen.insert(s.closed).second) wrong_.resize(1);
      for (const std::size_t l : wrong_) flip(l);
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
    conductance_.resize(count());
    open_.resize(count());
    part_.resize(at(network.unknown));
    matrix_.setZero(network.unknown, network.unknown);
    sums_.setZero(network.unknown);
    rise_.setZero(network.unknown);
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
      for (std::size_t l = 0; l < count(); ++l)
        if (way(network.links[l]) == 0) s.closed[l] = false;
      search();
      if (s.solved || !warm) return;
      begin_from_nothing();
    }
  }

  /// The matrix of the last solution is factored once for all the heads asked for. A second round takes out what the
  /// first leaves at the nodes where conductances are large, so that slopes balance as well as flows do.
  void slopes(int given, std::span<double> flow_slopes) {
    if (!factored_) factor();
    factored_ = true;
    for (std::size_t l = 0; l < count(); ++l) {
      const auto& link = network.links[l];
      flow_slopes[l] = open_[l] ? ((link.from == given) - (link.to == given)) * conductance_[l] : 0.0;
    }
    balance(flow_slopes);
    balance(flow_slopes);
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

const NetworkSolution& NetworkSolver::solution() const {
  return work_->s;
}

void NetworkSolver::slopes(int given, std::span<double> flow_slopes) {
  work_->slopes(given, flow_slopes);
}

NetworkSolution solve_network(const Network& network, const LinkLaw& law, std::span<const double> given_heads) {
  return NetworkSolver(network).solve(law, given_heads);
}

}  // namespace leat::numerics
