// One stiff problem for several members at once: the same steps for all, each member's numbers in a lane of its own.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <span>
#include <vector>

#include "numerics/integrator.h"
#include "numerics/rodas.h"

namespace leat::numerics {

/// A step's cubic: y(from + s h) = (1 - s) y0 + s (y1 + (1 - s) (p + s q)).
template <class T>
struct LanesStep {
  double from = 0.0, to = 0.0;
  std::vector<T> start, end, p, q;

  T at(std::size_t i, double t) const {
    const double s = (t - from) / (to - from), r = 1.0 - s;
    return r * start[i] + s * (end[i] + r * (p[i] + s * q[i]));
  }
  T slope_at(std::size_t i, double t) const {
    const double h = to - from, s = (t - from) / h, r = 1.0 - s;
    return (end[i] - start[i] + (r - s) * (p[i] + s * q[i]) + s * r * q[i]) / h;
  }
};

/// Linearly implicit, one-step, of order 4(3), stiffly accurate and L-stable. The largest error of any component in any
/// lane sets the step. Allocates nothing once it is made.
///
/// Problem  size(), leading(): the last size - leading components only follow, and no error is counted in them.
///          rates(t, y, dydt), and linearise(t, y, dydt), which finds the slopes too, return false where they cannot
///          be had.
///          factor(g) prepares g - J at the point where it was linearised; solve(g, u) turns b into (g - J)^-1 b.
///          Time may bear on the rates in straight lines within one `advance`.
template <class T, class Problem>
class LanesIntegrator {
 public:
  LanesIntegrator(Problem& problem, Tolerance tolerance) : problem_(problem), tolerance_(std::move(tolerance)) {
    for (std::vector<T>* v : {&f_, &in_time_, &stage_, &step_.start, &step_.end, &step_.p, &step_.q})
      v->assign(problem.size(), T(0.0));
    for (std::vector<T>& u : u_) u.assign(problem.size(), T(0.0));
  }

  void start(double t, std::span<const T> y) {
    std::copy(y.begin(), y.end(), step_.end.begin());
    step_.from = step_.to = t_ = t;
    h_ = 0.0;
  }
  /// Goes on from another state at the same time, with a first step of at most `longest`.
  void jump(std::span<const T> y, double longest) {
    std::copy(y.begin(), y.end(), step_.end.begin());
    h_ = std::min(h_, longest);
  }
  std::span<const T> state() const { return step_.end; }
  Counts counts() const { return counts_; }

  /// To exactly t_stop, never evaluating beyond it; watch(step) sees every step and returns whether to go on.
  template <class Watch>
  Advance advance(double t_stop, Watch&& watch) {
    while (t_ < t_stop) {
      step_.start.swap(step_.end);
      if (!linearise(t_stop)) {
        step_.start.swap(step_.end);
        return failed("the rates cannot be had");
      }
      if (!step(t_stop)) {
        step_.start.swap(step_.end);
        return failed("the step size fell to nothing");
      }
      set_bend();
      if (!watch(static_cast<const LanesStep<T>&>(step_))) return {false, t_, 0, {}, true};
    }
    return {true, t_, 0, {}, false};
  }

 private:
  Problem& problem_;
  Tolerance tolerance_;
  double t_ = 0.0, h_ = 0.0;
  std::vector<T> f_, in_time_, stage_;
  std::array<std::vector<T>, rodas::stages> u_;
  LanesStep<T> step_;
  Counts counts_;
  std::size_t worst_ = 0;

  bool rates(double t, std::span<const T> y, std::span<T> f) {
    ++counts_.rates;
    return problem_.rates(t, y, f);
  }

  bool linearise(double t_stop) {
    ++counts_.jacobians;
    if (!problem_.linearise(t_, step_.start, f_)) return false;
    if (h_ <= 0.0) h_ = first_step(t_stop - t_);
    const double ahead = 1e-5 * std::min(h_, t_stop - t_);
    if (!rates(t_ + ahead, step_.start, in_time_)) return false;
    for (std::size_t i = 0; i < in_time_.size(); ++i) in_time_[i] = (in_time_[i] - f_[i]) * (1.0 / ahead);
    return true;
  }

  double scale(std::size_t i, double y) const { return tolerance_.absolute[i] + tolerance_.relative * std::abs(y); }

  /// A first step over which the rates' own change stays small.
  double first_step(double span) const {
    double h = span;
    for (std::size_t i = 0; i < problem_.leading(); ++i) {
      using std::fabs;
      const double f = largest(fabs(f_[i]));
      if (f > 0.0) h = std::min(h, std::max(1e-3, 100.0 * scale(i, smallest(fabs(step_.start[i]))) / f));
    }
    return h;
  }

  double error_norm() {
    using std::fabs;
    double norm = 0.0;
    for (std::size_t i = 0; i < problem_.leading(); ++i) {
      const double relative =
          largest(fabs(u_[5][i]) / (tolerance_.absolute[i] + tolerance_.relative * fabs(step_.end[i])));
      if (!(relative <= norm)) {
        norm = relative == relative ? relative : std::numeric_limits<double>::infinity();
        worst_ = i;
      }
    }
    return norm;
  }

  /// All six stages over a step of h; false if the rates could not be had on the way.
  bool attempt(double h) {
    using namespace rodas;
    const std::size_t n = problem_.size();
    const double g = 1.0 / (gamma * h);
    problem_.factor(g);
    ++counts_.factorisations;
    for (std::size_t s = 0; s < stages; ++s) {
      if (s > 0) {
        for (std::size_t i = 0; i < n; ++i) {
          if (s == 5) {
            stage_[i] = stage_[i] + u_[4][i];
            continue;
          }
          T sum = step_.start[i];
          for (std::size_t j = 0; j < s; ++j) sum = sum + a[s][j] * u_[j][i];
          stage_[i] = sum;
        }
        if (!rates(t_ + at[s] * h, stage_, u_[s])) return false;
      }
      for (std::size_t i = 0; i < n; ++i) {
        T sum = s > 0 ? u_[s][i] : f_[i];
        for (std::size_t j = 0; j < s; ++j) sum = sum + (c[s][j] / h) * u_[j][i];
        u_[s][i] = s < 4 ? T(sum + (h * d[s]) * in_time_[i]) : sum;
      }
      problem_.solve(g, u_[s]);
    }
    for (std::size_t i = 0; i < n; ++i) step_.end[i] = stage_[i] + u_[5][i];
    return true;
  }

  void set_bend() {
    for (std::size_t i = 0; i < problem_.size(); ++i) {
      step_.p[i] = step_.q[i] = T(0.0);
      for (std::size_t j = 0; j < 5; ++j) {
        step_.p[i] = step_.p[i] + rodas::bend[0][j] * u_[j][i];
        step_.q[i] = step_.q[i] + rodas::bend[1][j] * u_[j][i];
      }
    }
  }

  bool step(double t_stop) {
    for (int tries = 0; tries <= 60; ++tries) {
      const bool last = t_ + h_ * 1.0000001 >= t_stop;
      const double h = last ? t_stop - t_ : h_;
      const double norm = attempt(h) ? error_norm() : std::numeric_limits<double>::infinity();
      const double factor = std::clamp(0.9 * std::pow(std::max(norm, 1e-12), -0.25), 0.2, 5.0);
      if (norm <= 1.0) {
        ++counts_.steps;
        step_.from = t_;
        t_ = step_.to = last ? t_stop : t_ + h;
        if (!last || factor < 1.0) h_ = h * factor;
        return true;
      }
      ++counts_.failures;
      h_ = std::isfinite(norm) ? h * factor : 0.1 * h;
      if (h_ < 1e-13 * std::max(1.0, std::abs(t_)) || h_ < 1e-9) return false;
    }
    return false;
  }

  Advance failed(std::string said) const { return {false, t_, worst_, std::move(said), false}; }
};

}  // namespace leat::numerics
