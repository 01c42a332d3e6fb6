#include "model/flow/one_cycle.h"

#include <fmt/core.h>

#include <Eigen/Dense>
#include <cmath>

namespace leat::model {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Within a cycle what is there may grow by itself, slowly; by more than this share it may not.
constexpr double kGrows = 0.1;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// exp(A h), its integral over h, and the integral of that.
struct Exponential {
  MatrixXd end, once, twice;
};

/// By a series over a short part of the time, doubled until it is reached.
Exponential exponential(const MatrixXd& a, double h) {
  const double size = (a * h).cwiseAbs().rowwise().sum().maxCoeff();
  const int doublings = size > 0.25 ? static_cast<int>(std::ceil(std::log2(size / 0.25))) : 0;
  const double piece = std::ldexp(h, -doublings);
  const MatrixXd x = a * piece, one = MatrixXd::Identity(a.rows(), a.cols());
  MatrixXd series = one;  // of sum x^k 2! / (k + 2)!, from its end
  for (int k = 8; k >= 1; --k) series = one + x * series / (k + 2.0);
  Exponential e;
  e.twice = series * (0.5 * piece * piece);
  e.once = one * piece + a * e.twice;
  e.end = one + a * e.once;
  for (int i = 0; i < doublings; ++i) {
    e.twice = 2.0 * e.twice + e.once * e.once;
    e.once = e.end * e.once + e.once;
    e.end = e.end * e.end;
  }
  return e;
}

Eigen::Index size_of(const Pulses& pulses, const Carried& carried) {
  return static_cast<Eigen::Index>(pulses.vessels() * carried.things);
}

/// What goes within the vessels, 1/s.
MatrixXd going(const Pulses& pulses, const Carried& carried) {
  const std::size_t n = pulses.vessels(), k = carried.things;
  MatrixXd g = MatrixXd::Zero(size_of(pulses, carried), size_of(pulses, carried));
  for (std::size_t v = 0; v < n; ++v)
    for (std::size_t i = 0; i < k; ++i)
      for (std::size_t j = 0; j < k; ++j)
        g(static_cast<Eigen::Index>(i * n + v), static_cast<Eigen::Index>(j * n + v)) =
            carried.goes[(v * k + i) * k + j];
  return g;
}

/// What the water of one stretch moves, 1/s.
MatrixXd moving(const Pulses& pulses, const Stretch& stretch, const Carried& carried) {
  MatrixXd a = MatrixXd::Zero(size_of(pulses, carried), size_of(pulses, carried));
  const std::size_t paths = pulses.paths.size();
  for (std::size_t i = 0; i < carried.things; ++i)
    for (std::size_t p = 0; p < paths; ++p) {
      const FlowPath& path = pulses.paths[p];
      const double rate = stretch.flows[p] / stretch.water[at(path.from)];
      const auto first = static_cast<Eigen::Index>(i * pulses.vessels());
      a(first + path.from, first + path.from) -= carried.leaves[p] * rate;
      a(first + path.to, first + path.from) += carried.arrives[i * paths + p] * rate;
    }
  return a;
}

Square square(const MatrixXd& m) {
  Square s(static_cast<std::size_t>(m.rows()));
  for (Eigen::Index i = 0; i < m.rows(); ++i)
    for (Eigen::Index j = 0; j < m.cols(); ++j) s(at(static_cast<int>(i)), at(static_cast<int>(j))) = m(i, j);
  return s;
}
std::vector<double> numbers(const VectorXd& v) {
  return {v.data(), v.data() + v.size()};
}

/// What the paths take up in one stretch, per second.
VectorXd taken_up(const Pulses& pulses, const Stretch& stretch, const Carried& carried) {
  VectorXd g = VectorXd::Zero(size_of(pulses, carried));
  const std::size_t paths = pulses.paths.size();
  for (std::size_t i = 0; i < carried.things; ++i)
    for (std::size_t p = 0; p < paths; ++p)
      g(static_cast<Eigen::Index>(i * pulses.vessels()) + pulses.paths[p].to) +=
          carried.gains[i * paths + p] * stretch.flows[p];
  return g;
}

/// Means and ends over the cycle, by what was there (P, Q), by steady sources (S, R) and by what is taken up (s, r).
struct Cumulated {
  MatrixXd p, q, s, r;
  VectorXd taken, taken_mean;
};

Cumulated cumulate(const Pulses& pulses, const Carried& carried, OneCycle& out) {
  const Eigen::Index n = size_of(pulses, carried);
  const MatrixXd goes = going(pulses, carried);
  const MatrixXd none = MatrixXd::Zero(n, n);
  Cumulated c{MatrixXd::Identity(n, n), none, none, none, VectorXd::Zero(n), VectorXd::Zero(n)};
  for (const Stretch& stretch : pulses.stretches) {
    const Exponential e = exponential(moving(pulses, stretch, carried) - goes, stretch.to - stretch.from);
    const VectorXd g = taken_up(pulses, stretch, carried);
    c.q += e.once * c.p;
    c.r += e.once * c.s + e.twice;
    c.taken_mean += e.once * c.taken + e.twice * g;
    c.p = (e.end * c.p).eval();
    c.s = (e.end * c.s + e.once).eval();
    c.taken = (e.end * c.taken + e.once * g).eval();
    out.later.push_back(square(c.p));
    out.later_by_source.push_back(square(c.s));
    out.later_taken_up.push_back(numbers(c.taken));
  }
  c.q /= pulses.period;
  c.r /= pulses.period;
  c.taken_mean /= pulses.period;
  return c;
}

/// Takes from each vessel's own entry what rounding has made or lost of a thing in all vessels together.
void keep_books(MatrixXd& m, std::size_t vessels, std::size_t things, double kept) {
  const auto n = static_cast<Eigen::Index>(vessels), k = static_cast<Eigen::Index>(things);
  for (Eigen::Index column = 0; column < n * k; ++column)
    for (Eigen::Index i = 0; i < k; ++i) {
      const double sum = m.col(column).segment(i * n, n).sum();
      m(i * n + column % n, column) -= sum - (i == column / n ? kept : 0.0);
    }
}

/// Nothing passes to or from the air on the way.
bool keeps_all(const Carried& carried) {
  const std::size_t paths = carried.leaves.size();
  for (std::size_t i = 0; i < carried.arrives.size(); ++i)
    if (carried.arrives[i] != carried.leaves[i % paths]) return false;
  return true;
}

}  // namespace

std::optional<OneCycle> over_one_cycle(const Pulses& pulses, const Carried& carried, std::string& said) {
  OneCycle out;
  const Cumulated c = cumulate(pulses, carried, out);
  const Eigen::Index n = size_of(pulses, carried);
  const Eigen::PartialPivLU<MatrixXd> lu(c.q);
  if (!(lu.rcond() > 1e-4)) {
    said =
        "the means over a cycle do not tell what was there when it began: a vessel is emptied and filled anew in each";
    return std::nullopt;
  }
  const MatrixXd back = lu.inverse();
  const MatrixXd all = (c.p - MatrixXd::Identity(n, n)) * back / pulses.period;
  if (Eigen::EigenSolver<MatrixXd>(all, false).eigenvalues().real().maxCoeff() * pulses.period > kGrows) {
    said = "the means over a cycle run away by themselves";
    return std::nullopt;
  }
  MatrixXd own = all + going(pulses, carried), shared = c.s / pulses.period - all * c.r;
  if (keeps_all(carried)) {
    keep_books(own, pulses.vessels(), carried.things, 0.0);
    keep_books(shared, pulses.vessels(), carried.things, 1.0);
  }
  out.own = square(own);
  out.shared = square(shared);
  out.taken_up = numbers(c.taken / pulses.period - all * c.taken_mean);
  out.start_by_mean = square(back);
  out.start_by_source = square(-back * c.r);
  out.start_taken_up = numbers(-back * c.taken_mean);
  return out;
}

}  // namespace leat::model
