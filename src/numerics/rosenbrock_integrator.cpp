#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>

#include "numerics/integrator.h"
#include "numerics/rodas.h"

namespace leat::numerics {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

std::span<double> as_span(VectorXd& v) {
  return {v.data(), static_cast<std::size_t>(v.size())};
}
std::span<const double> as_span(const VectorXd& v) {
  return {v.data(), static_cast<std::size_t>(v.size())};
}

/// y(from + s h) = (1 - s) y0 + s (y1 + (1 - s) (p + s q)).
struct CubicStep final : Step {
  VectorXd start, end, p, q;

  void at(double t, std::span<double> y) const override {
    const double s = (t - from) / (to - from), r = 1.0 - s;
    for (Eigen::Index i = 0; i < start.size(); ++i)
      y[static_cast<std::size_t>(i)] = r * start(i) + s * (end(i) + r * (p(i) + s * q(i)));
  }
  void slope_at(double t, std::span<double> dydt) const override {
    const double h = to - from, s = (t - from) / h, r = 1.0 - s;
    for (Eigen::Index i = 0; i < start.size(); ++i)
      dydt[static_cast<std::size_t>(i)] = (end(i) - start(i) + (r - s) * (p(i) + s * q(i)) + s * r * q(i)) / h;
  }
};

class RosenbrockIntegrator final : public Integrator {
  System system_;
  Tolerance tolerance_;
  double longest_, t_ = 0.0, h_ = 0.0;
  VectorXd f_, stage_, error_, solved_, u_[rodas::stages];
  MatrixXd jacobian_, matrix_;
  Eigen::PartialPivLU<MatrixXd> lu_;
  CubicStep step_;
  Counts counts_;

  bool rates(const VectorXd& y, VectorXd& f) {
    ++counts_.rates;
    return system_.rates(t_, as_span(y), as_span(f)) && f.allFinite();
  }

  bool slopes(const VectorXd& y) {
    ++counts_.jacobians;
    if (system_.jacobian) return system_.jacobian(t_, as_span(y), {jacobian_.data(), system_.size * system_.size});
    stage_ = y;
    for (Eigen::Index j = 0; j < y.size(); ++j) {
      const double nudge = 1e-7 * std::max(1.0, std::abs(y(j)));
      stage_(j) = y(j) + nudge;
      if (!rates(stage_, error_)) return false;
      jacobian_.col(j) = (error_ - f_) / nudge;
      stage_(j) = y(j);
    }
    return true;
  }

  /// Weighted largest error: the worst component decides, since each level matters by itself.
  double error_norm() const {
    double norm = 0.0;
    for (Eigen::Index i = 0; i < error_.size(); ++i) {
      const double scale = tolerance_.absolute[static_cast<std::size_t>(i)] +
                           tolerance_.relative * std::max(std::abs(step_.start(i)), std::abs(step_.end(i)));
      norm = std::max(norm, std::abs(error_(i)) / scale);
    }
    return norm;
  }

  /// All six stages over a step of h; false if the rates could not be had on the way.
  bool attempt(double h) {
    const Eigen::Index n = jacobian_.rows(), leading = matrix_.rows();
    matrix_ = -jacobian_.topLeftCorner(leading, leading);
    matrix_.diagonal().array() += 1.0 / (rodas::gamma * h);
    lu_.compute(matrix_);
    ++counts_.factorisations;
    for (std::size_t i = 0; i < rodas::stages; ++i) {
      if (i > 0) {
        if (i < 5) {
          stage_ = step_.start;
          for (std::size_t j = 0; j < std::min<std::size_t>(i, 4); ++j) stage_ += rodas::a[i][j] * u_[j];
        } else {
          stage_ += u_[4];
        }
        if (!rates(stage_, u_[i])) return false;
        for (std::size_t j = 0; j < i; ++j) u_[i] += (rodas::c[i][j] / h) * u_[j];
      } else {
        u_[0] = f_;
      }
      solved_ = lu_.solve(u_[i].head(leading));
      u_[i].head(leading) = solved_;
      // Followers have no slope of their own: 1/(h gamma) u = what stands there + J u of those they follow.
      u_[i].tail(n - leading) += jacobian_.bottomLeftCorner(n - leading, leading) * solved_;
      u_[i].tail(n - leading) *= rodas::gamma * h;
    }
    error_ = u_[5];
    step_.end = stage_ + u_[5];
    return step_.end.allFinite();
  }

  void bend() {
    step_.p.setZero();
    step_.q.setZero();
    for (std::size_t j = 0; j < 5; ++j) {
      step_.p += rodas::bend[0][j] * u_[j];
      step_.q += rodas::bend[1][j] * u_[j];
    }
  }

  /// A first step over which the rates' own change stays small.
  double first_step(double span) const {
    double h = std::min(span, longest_);
    for (Eigen::Index i = 0; i < f_.size(); ++i) {
      const double scale =
          tolerance_.absolute[static_cast<std::size_t>(i)] + tolerance_.relative * std::abs(step_.start(i));
      if (std::abs(f_(i)) > 0.0 && std::isfinite(scale))
        h = std::min(h, std::max(1e-3, 100.0 * scale / std::abs(f_(i))));
    }
    return h;
  }

  /// One step from step_.start that is good enough, not beyond t_stop; its length, or 0 if there is none.
  double step(double t_stop) {
    for (int tries = 0; tries <= 60; ++tries) {
      h_ = std::min(h_, longest_);
      const bool last = t_ + h_ * 1.0000001 >= t_stop;
      const double h = last ? t_stop - t_ : h_;
      const double norm = attempt(h) ? error_norm() : std::numeric_limits<double>::infinity();
      const double factor = std::clamp(0.9 * std::pow(std::max(norm, 1e-12), -0.25), 0.2, 5.0);
      if (norm <= 1.0) {
        ++counts_.steps;
        step_.from = t_;
        t_ = step_.to = last ? t_stop : t_ + h;
        if (!last || factor < 1.0) h_ = h * factor;
        return h;
      }
      ++counts_.failures;
      h_ = std::isfinite(norm) ? h * factor : 0.1 * h;
      if (h_ < 1e-13 * std::max(1.0, std::abs(t_))) return 0.0;
    }
    return 0.0;
  }

  Advance failed(std::string said) {
    Eigen::Index worst = 0;
    if (error_.size() > 0) error_.cwiseAbs().maxCoeff(&worst);
    return {false, t_, static_cast<std::size_t>(worst), std::move(said), false};
  }

 public:
  RosenbrockIntegrator(System system, Tolerance tolerance, double longest)
      : system_(std::move(system)), tolerance_(std::move(tolerance)), longest_(longest) {
    const auto n = static_cast<Eigen::Index>(system_.size);
    for (VectorXd* v : {&f_, &stage_, &error_, &step_.start, &step_.end, &step_.p, &step_.q}) v->setZero(n);
    for (VectorXd& u : u_) u.setZero(n);
    jacobian_.setZero(n, n);
    const auto leading = static_cast<Eigen::Index>(system_.size - system_.followers);
    matrix_.setZero(leading, leading);
    solved_.setZero(leading);
  }

  void start(double t, std::span<const double> y) override {
    std::copy(y.begin(), y.end(), step_.start.data());
    step_.end = step_.start;
    step_.from = step_.to = t_ = t;
    h_ = 0.0;
  }

  Advance advance(double t_stop, const StepWatch& watch) override {
    while (t_ < t_stop) {
      step_.start = step_.end;
      if (!rates(step_.start, f_) || !slopes(step_.start)) return failed("the rates cannot be had");
      if (h_ <= 0.0) h_ = first_step(t_stop - t_);
      const double from = t_;
      for (int shortened = 0;; ++shortened) {
        const double tried = step(t_stop);
        if (tried <= 0.0) return failed("the step size fell to nothing");
        bend();
        const Then then = watch ? watch(step_) : Then::go_on;
        if (then == Then::stop) return {false, t_, 0, {}, true};
        if (then == Then::go_on) break;
        if (shortened > 60) return failed("no step leads to where the state can be");
        t_ = from;
        h_ = 0.25 * tried;
      }
    }
    return {true, t_, 0, {}, false};
  }

  std::span<const double> state() const override { return as_span(step_.end); }
  Counts counts() const override { return counts_; }
};

}  // namespace

std::unique_ptr<Integrator> make_rosenbrock_integrator(System system, Tolerance tolerance, double longest) {
  return std::make_unique<RosenbrockIntegrator>(std::move(system), std::move(tolerance), longest);
}

}  // namespace leat::numerics
