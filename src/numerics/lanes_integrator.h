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

/// A step's cubic: y(from + s h) = (1 - s) y0 + s (y1 + (1 - s) (p + s q)), p and q from what the stages found. What
/// only follows is taken as straight.
template <class T>
struct LanesStep {
  double from = 0.0, to = 0.0;
  std::vector<T> start, end;
  std::array<std::vector<T>, rodas::stages> found;

  T at(std::size_t i, double t) const {
    return between((t - from) / (to - from), start[i], end[i], bend(0, i), bend(1, i));
  }
  /// At a share s of a step of h, and its slope there.
  static T between(double s, const T& y0, const T& y1, const T& p, const T& q) {
    const double r = 1.0 - s;
    return r * y0 + s * (y1 + r * (p + s * q));
  }
  static T slope_between(double s, double h, const T& y0, const T& y1, const T& p, const T& q) {
    const double r = 1.0 - s;
    return (y1 - y0 + (r - s) * (p + s * q) + s * r * q) / h;
  }
  /// p and q.
  T bend(std::size_t which, std::size_t i) const {
    T sum(0.0);
    if (i < found[0].size())
      for (std::size_t j = 0; j < 5; ++j) sum = sum + rodas::bend[which][j] * found[j][i];
    return sum;
  }
};

/// Linearly implicit, one-step, of order 4(3), stiffly accurate and L-stable. The largest error of any component in any
/// lane sets the step. Allocates nothing once it is made.
///
/// Problem  size(), leading(): the last size - leading components only follow, and no error is counted in them.
///          rates(t, y, dydt), and linearise(t, y, dydt), which finds the slopes too, return false where they cannot
///          be had.
///          factor(g) prepares g - J at the point where it was linearised; solve(g, u) turns b into (g - J)^-1 b.
///          Where there is a follow(u, sum), solve is only asked for the leading components, and what follows is found
///          once a step: follow adds to `sum` what J makes of u there.
///          Time may bear on the rates in straight lines within one `advance`.
template <class T, class Problem>
class LanesIntegrator {
 public:
  LanesIntegrator(Problem& problem, Tolerance tolerance) : problem_(problem), tolerance_(std::move(tolerance)) {
    for (std::vector<T>* v : {&f_, &in_time_, &stage_, &rates_, &step_.start, &step_.end})
      v->assign(problem.size(), T(0.0));
    for (std::vector<T>* v : {&pull_, &moved_}) v->assign(solved_, T(0.0));
    for (std::vector<T>& u : step_.found) u.assign(solved_, T(0.0));
    sum_.assign(problem.size() - solved_, T(0.0));
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
      if (!watch(static_cast<const LanesStep<T>&>(step_))) return {false, t_, 0, {}, true};
    }
    return {true, t_, 0, {}, false};
  }

 private:
  static constexpr bool follows_at_once = requires(Problem p, std::span<const T> u, std::span<T> sum) {
    p.follow(u, sum);
  };

  Problem& problem_;
  Tolerance tolerance_;
  std::size_t solved_ = follows_at_once ? problem_.leading() : problem_.size();
  double t_ = 0.0, h_ = 0.0;
  std::vector<T> f_, in_time_, stage_, rates_, pull_;
  std::vector<T> moved_, sum_;  ///< the stages by their weights in the end: of u, and of the rates of what follows
  LanesStep<T> step_;
  Counts counts_;

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

  T relative_error(std::size_t i) const {
    using std::fabs;
    return fabs(step_.found[5][i]) / (tolerance_.absolute[i] + tolerance_.relative * fabs(step_.end[i]));
  }

  double error_norm() const {
    T most(0.0), sum(0.0);
    for (std::size_t i = 0; i < problem_.leading(); ++i) {
      const T relative = relative_error(i);
      most = choose(relative > most, relative, most);
      sum = sum + relative;  // what is not a number stays so in it
    }
    return all_finite(sum) ? largest(most) : std::numeric_limits<double>::infinity();
  }

  std::size_t worst() const {
    std::size_t found = 0;
    for (std::size_t i = 1; i < problem_.leading(); ++i)
      if (!(largest(relative_error(i)) <= largest(relative_error(found)))) found = i;
    return found;
  }

  /// One stage: its point, from those before it; the rates there; what they come to. False if there are no rates.
  template <std::size_t S>
  bool stage(double h, double g) {
    using namespace rodas;
    auto& u = step_.found;
    std::array<double, 5> by{};
    for (std::size_t j = 0; j < S; ++j) by[j] = c[S][j] / h;
    for (std::size_t i = 0; i < solved_; ++i) {
      T point = S == 5 ? T(stage_[i] + u[4][i]) : step_.start[i], pull(0.0);
      for (std::size_t j = 0; j < S; ++j) {
        if constexpr (S < 5) point = point + a[S][j] * u[j][i];
        pull = pull + by[j] * u[j][i];
      }
      stage_[i] = point;
      pull_[i] = pull;
    }
    if (S > 0 && !rates(t_ + at[S] * h, stage_, rates_)) return false;
    const std::vector<T>& f = S > 0 ? rates_ : f_;
    for (std::size_t i = 0; i < solved_; ++i) {
      T sum = f[i] + pull_[i];
      if constexpr (S < 4) sum = sum + (h * d[S]) * in_time_[i];
      u[S][i] = sum;
    }
    for (std::size_t i = 0; i < sum_.size(); ++i) {
      T sum = f[solved_ + i];
      if constexpr (S < 4) sum = sum + (h * d[S]) * in_time_[solved_ + i];
      sum_[i] = sum_[i] + weights[S] * sum;
    }
    problem_.solve(g, u[S]);
    return true;
  }

  /// All six stages over a step of h; false if the rates could not be had on the way.
  bool attempt(double h) {
    const double g = 1.0 / (rodas::gamma * h);
    problem_.factor(g);
    ++counts_.factorisations;
    std::fill(sum_.begin(), sum_.end(), T(0.0));
    std::copy(step_.start.begin() + static_cast<std::ptrdiff_t>(solved_), step_.start.end(),
              stage_.begin() + static_cast<std::ptrdiff_t>(solved_));
    if (!(stage<0>(h, g) && stage<1>(h, g) && stage<2>(h, g) && stage<3>(h, g) && stage<4>(h, g) && stage<5>(h, g)))
      return false;
    const auto& u = step_.found;
    for (std::size_t i = 0; i < solved_; ++i) step_.end[i] = stage_[i] + u[5][i];
    if constexpr (follows_at_once) {
      for (std::size_t i = 0; i < solved_; ++i) {
        T sum(0.0);
        for (std::size_t j = 0; j < rodas::stages; ++j) sum = sum + rodas::weights[j] * u[j][i];
        moved_[i] = sum;
      }
      problem_.follow(moved_, sum_);
      for (std::size_t i = 0; i < sum_.size(); ++i)
        step_.end[solved_ + i] = step_.start[solved_ + i] + (1.0 / g) * sum_[i];
    }
    return true;
  }

  /// Down to seven binary digits, so that what differs in its last digits alone goes by the same steps.
  static double coarse(double h) {
    int exponent = 0;
    const double digits = std::frexp(h, &exponent);
    return std::ldexp(std::floor(128.0 * digits) / 128.0, exponent);
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
        if (!last || factor < 1.0) h_ = coarse(h * factor);
        return true;
      }
      ++counts_.failures;
      h_ = coarse(std::isfinite(norm) ? h * factor : 0.1 * h);
      if (h_ < 1e-13 * std::max(1.0, std::abs(t_)) || h_ < 1e-9) return false;
    }
    return false;
  }

  Advance failed(std::string said) const { return {false, t_, worst(), std::move(said), false}; }
};

}  // namespace leat::numerics
