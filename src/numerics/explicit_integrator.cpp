#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "numerics/integrator.h"

namespace leat::numerics {
namespace {

/// Dormand and Prince's pair: stages at `at`, each from those before it by `a`; the last is the step itself, so that
/// the first of the next costs nothing. `e`: the step of order 5 less that of order 4.
namespace pair {
constexpr std::size_t stages = 7;
constexpr std::array<double, stages> at{0.0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1.0, 1.0};
constexpr double a[stages][stages - 1] = {{},
                                          {1.0 / 5},
                                          {3.0 / 40, 9.0 / 40},
                                          {44.0 / 45, -56.0 / 15, 32.0 / 9},
                                          {19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729},
                                          {9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656},
                                          {35.0 / 384, 0.0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84}};
constexpr std::array<double, stages> e{71.0 / 57600,      0.0,        -71.0 / 16695, 71.0 / 1920,
                                       -17253.0 / 339200, 22.0 / 525, -1.0 / 40};
}  // namespace pair

/// The cubic through both ends with their slopes.
struct HermiteStep final : Step {
  std::vector<double> start, end, slope_start, slope_end;

  void at(double t, std::span<double> y) const override {
    const double h = to - from, s = (t - from) / h, r = 1.0 - s;
    for (std::size_t i = 0; i < start.size(); ++i)
      y[i] = r * r * (1.0 + 2.0 * s) * start[i] + s * s * (3.0 - 2.0 * s) * end[i] +
             h * s * r * (r * slope_start[i] - s * slope_end[i]);
  }
  void slope_at(double t, std::span<double> dydt) const override {
    const double h = to - from, s = (t - from) / h, r = 1.0 - s;
    for (std::size_t i = 0; i < start.size(); ++i)
      dydt[i] = 6.0 * s * r * (end[i] - start[i]) / h + r * (1.0 - 3.0 * s) * slope_start[i] -
                s * (3.0 * r - 1.0) * slope_end[i];
  }
};

class ExplicitIntegrator final : public Integrator {
  System system_;
  Tolerance tolerance_;
  double t_ = 0.0, h_ = 0.0, fastest_ = 0.0;
  bool fresh_ = false;  ///< the slope at the end of the last step is that of a step from here
  std::array<std::vector<double>, pair::stages> k_;
  std::vector<double> stage_, before_;
  HermiteStep step_;
  std::size_t worst_ = 0;
  Counts counts_;

  bool rates(double t, std::span<const double> y, std::vector<double>& f) {
    ++counts_.rates;
    return system_.rates(t, y, f) && std::all_of(f.begin(), f.end(), [](double x) { return std::isfinite(x); });
  }
  double scale(std::size_t i, double y) const { return tolerance_.absolute[i] + tolerance_.relative * std::abs(y); }

  double first_step(double span) const {
    double h = span;
    for (std::size_t i = 0; i < stage_.size(); ++i)
      if (const double f = std::abs(k_[0][i]); f > 0.0 && tolerance_.absolute[i] < 1e20)
        h = std::min(h, std::max(1e-3, 100.0 * scale(i, step_.start[i]) / f));
    return h;
  }

  /// The error over what is allowed, or infinity.
  double attempt(double h) {
    for (std::size_t s = 1; s < pair::stages; ++s) {
      if (s == pair::stages - 1) before_ = stage_;
      for (std::size_t i = 0; i < stage_.size(); ++i) {
        double sum = 0.0;
        for (std::size_t j = 0; j < s; ++j) sum += pair::a[s][j] * k_[j][i];
        stage_[i] = step_.start[i] + h * sum;
      }
      if (!rates(t_ + pair::at[s] * h, stage_, k_[s])) return std::numeric_limits<double>::infinity();
    }
    double norm = 0.0, moved = 0.0, answered = 0.0;
    for (std::size_t i = 0; i < stage_.size(); ++i) {
      if (tolerance_.absolute[i] >= 1e20) continue;
      double error = 0.0;
      for (std::size_t j = 0; j < pair::stages; ++j) error += pair::e[j] * k_[j][i];
      const double allowed = scale(i, stage_[i]), off = std::abs(h * error) / allowed;
      if (off > norm) norm = off, worst_ = i;
      moved = std::max(moved, std::abs(stage_[i] - before_[i]) / allowed);
      answered = std::max(answered, std::abs(k_[6][i] - k_[5][i]) / allowed);
    }
    if (moved > 1e-6) fastest_ = std::max(0.8 * fastest_, answered / moved);
    return norm;
  }

  bool step(double t_stop) {
    for (int tries = 0; tries <= 60; ++tries) {
      const bool last = t_ + h_ * 1.0000001 >= t_stop;
      const double h = last ? t_stop - t_ : h_, norm = attempt(h);
      const double factor = std::clamp(0.9 * std::pow(std::max(norm, 1e-12), -0.2), 0.2, 5.0);
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

 public:
  ExplicitIntegrator(System system, Tolerance tolerance)
      : system_(std::move(system)), tolerance_(std::move(tolerance)) {
    for (auto* v : {&stage_, &before_, &step_.start, &step_.end, &step_.slope_start, &step_.slope_end})
      v->assign(system_.size, 0.0);
    for (auto& k : k_) k.assign(system_.size, 0.0);
  }

  void start(double t, std::span<const double> y) override {
    std::copy(y.begin(), y.end(), step_.end.begin());
    step_.from = step_.to = t_ = t;
    fresh_ = false;
  }

  Advance advance(double t_stop, const StepWatch& watch) override {
    while (t_ < t_stop) {
      step_.start = step_.end;
      if (fresh_)
        k_[0].swap(k_[6]);
      else if (!rates(t_, step_.start, k_[0]))
        return {false, t_, worst_, "the rates cannot be had", false};
      fresh_ = true;
      if (h_ <= 0.0) h_ = first_step(t_stop - t_);
      if (!step(t_stop)) return {false, t_, worst_, "the step size fell to nothing", false};
      step_.end = stage_;
      step_.slope_start = k_[0];
      step_.slope_end = k_[6];
      if (watch && watch(step_) == Then::stop) return {false, t_, 0, {}, true};
    }
    return {true, t_, 0, {}, false};
  }

  std::span<const double> state() const override { return step_.end; }
  Counts counts() const override { return counts_; }
  double fastest() const override { return fastest_; }
};

/// Explicit over what is short beside its fastest motion, else as the reference does it.
class ByStretches final : public Integrator {
  std::unique_ptr<Integrator> quick_, stiff_;
  bool on_quick_ = true, stiff_stands_ = false;
  double t_ = 0.0, fastest_ = 0.0;
  std::vector<double> y_;

  /// Time over which some twenty of its own motions fit: an explicit method then takes as long as an implicit one takes
  /// to find its step and order after a jump.
  static constexpr double kShort = 20.0;

  Advance leave(Integrator& one, Advance done) {
    std::copy(one.state().begin(), one.state().end(), y_.begin());
    t_ = done.time;
    return done;
  }

 public:
  ByStretches(const System& system, const Tolerance& tolerance)
      : quick_(make_explicit_integrator(system, tolerance)), stiff_(make_bdf_integrator(system, tolerance)) {}

  void start(double t, std::span<const double> y) override {
    y_.assign(y.begin(), y.end());
    t_ = t;
    stiff_stands_ = false;
    quick_->start(t, y_);
  }

  Advance advance(double t_stop, const StepWatch& watch) override {
    fastest_ = std::max(quick_->fastest(), fastest_ * 0.99);
    if ((t_stop - t_) * fastest_ <= kShort) {
      if (stiff_stands_) quick_->start(t_, y_);
      stiff_stands_ = false;
      on_quick_ = true;
      return leave(*quick_, quick_->advance(t_stop, watch));
    }
    if (!stiff_stands_) stiff_->start(t_, y_);
    stiff_stands_ = true;
    on_quick_ = false;
    return leave(*stiff_, stiff_->advance(t_stop, watch));
  }

  std::span<const double> state() const override { return on_quick_ ? quick_->state() : stiff_->state(); }
  Counts counts() const override {
    const Counts a = quick_->counts(), b = stiff_->counts();
    return {a.steps + b.steps, a.rates + b.rates, b.jacobians, b.factorisations, a.failures + b.failures};
  }
};

}  // namespace

std::unique_ptr<Integrator> make_explicit_integrator(System system, Tolerance tolerance) {
  return std::make_unique<ExplicitIntegrator>(std::move(system), std::move(tolerance));
}
std::unique_ptr<Integrator> make_integrator_by_stretches(const System& system, const Tolerance& tolerance) {
  return std::make_unique<ByStretches>(system, tolerance);
}

}  // namespace leat::numerics
