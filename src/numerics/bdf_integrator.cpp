// All that the project knows of SUNDIALS.
#include <cvodes/cvodes.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "numerics/integrator.h"

namespace leat::numerics {
namespace {

struct ContextDeleter {
  void operator()(SUNContext c) const { SUNContext_Free(&c); }
};
using Context = std::unique_ptr<std::remove_pointer_t<SUNContext>, ContextDeleter>;
struct VectorDeleter {
  void operator()(N_Vector v) const { N_VDestroy(v); }
};
using Vector = std::unique_ptr<std::remove_pointer_t<N_Vector>, VectorDeleter>;
struct MatrixDeleter {
  void operator()(SUNMatrix m) const { SUNMatDestroy(m); }
};
using Matrix = std::unique_ptr<std::remove_pointer_t<SUNMatrix>, MatrixDeleter>;
struct SolverDeleter {
  void operator()(SUNLinearSolver s) const { SUNLinSolFree(s); }
};
using Solver = std::unique_ptr<std::remove_pointer_t<SUNLinearSolver>, SolverDeleter>;
struct CvodeDeleter {
  void operator()(void* memory) const { CVodeFree(&memory); }
};

Context make_context() {
  SUNContext context = nullptr;
  SUNContext_Create(nullptr, &context);
  return Context(context);
}

bool all_finite(std::span<const double> y) {
  return std::all_of(y.begin(), y.end(), [](double x) { return std::isfinite(x); });
}

class BdfIntegrator final : public Integrator {
  System system_;
  Tolerance tolerance_;
  Context context_ = make_context();
  Vector y_, absolute_, scratch_;
  Matrix matrix_;
  Solver solver_;
  std::unique_ptr<void, CvodeDeleter> cvode_;
  Counts done_;  // counts of the runs before the last restart, which CVODES forgets
  double t_ = 0.0;

  std::span<double> values(N_Vector v) const { return {N_VGetArrayPointer(v), system_.size}; }
  Vector make_vector() const { return Vector(N_VNew_Serial(static_cast<sunindextype>(system_.size), context_.get())); }

  static int call_rates(sunrealtype t, N_Vector y, N_Vector dydt, void* self_memory) {
    auto& self = *static_cast<BdfIntegrator*>(self_memory);
    const bool done = self.system_.rates(t, self.values(y), self.values(dydt));
    return done && all_finite(self.values(dydt)) ? 0 : 1;  // 1: recoverable, CVODES tries a smaller step
  }

  static int call_jacobian(sunrealtype t, N_Vector y, N_Vector, SUNMatrix matrix, void* self_memory, N_Vector, N_Vector,
                           N_Vector) {
    auto& self = *static_cast<BdfIntegrator*>(self_memory);
    return self.fill(t, y, matrix) ? 0 : 1;
  }

  /// The Jacobian's entries. CVODES scales the matrix in place, so a sparse one gets its pattern anew each time.
  bool fill(double t, N_Vector y, SUNMatrix matrix) {
    const Pattern& p = system_.pattern;
    const std::span<double> entries(p.empty() ? SUNDenseMatrix_Data(matrix) : SUNSparseMatrix_Data(matrix),
                                    p.empty() ? system_.size * system_.size : p.entries());
    if (!p.empty()) {
      std::copy(p.starts.begin(), p.starts.end(), SUNSparseMatrix_IndexPointers(matrix));
      std::copy(p.rows.begin(), p.rows.end(), SUNSparseMatrix_IndexValues(matrix));
    }
    return system_.jacobian(t, values(y), entries) && all_finite(entries);
  }

  struct LastStep final : Step {
    BdfIntegrator* owner = nullptr;
    void derivative(double t, int order, std::span<double> out) const {
      CVodeGetDky(owner->cvode_.get(), t, order, owner->scratch_.get());
      const auto got = owner->values(owner->scratch_.get());
      std::copy(got.begin(), got.end(), out.begin());
    }
    void at(double t, std::span<double> y) const override { derivative(t, 0, y); }
    void slope_at(double t, std::span<double> dydt) const override { derivative(t, 1, dydt); }
  };

  Counts current() const {
    Counts c;
    long unused = 0;
    CVodeGetNumSteps(cvode_.get(), &c.steps);
    CVodeGetNumRhsEvals(cvode_.get(), &c.rates);
    CVodeGetNumJacEvals(cvode_.get(), &c.jacobians);
    CVodeGetNumLinSolvSetups(cvode_.get(), &c.factorisations);
    CVodeGetNumErrTestFails(cvode_.get(), &c.failures);
    CVodeGetNumLinRhsEvals(cvode_.get(), &unused);
    c.rates += unused;
    return c;
  }

  static Counts sum(Counts a, const Counts& b) {
    a.steps += b.steps;
    a.rates += b.rates;
    a.jacobians += b.jacobians;
    a.factorisations += b.factorisations;
    a.failures += b.failures;
    return a;
  }

  Advance failure(std::string said) {
    CVodeGetEstLocalErrors(cvode_.get(), scratch_.get());
    const auto errors = values(scratch_.get());
    const auto y = values(y_.get());
    std::size_t worst = 0;
    double largest = -1.0;
    for (std::size_t i = 0; i < system_.size; ++i) {
      const double relative = std::abs(errors[i]) / (tolerance_.relative * std::abs(y[i]) + tolerance_.absolute[i]);
      if (relative > largest) {
        largest = relative;
        worst = i;
      }
    }
    return {false, t_, worst, std::move(said), false};
  }

  Advance failure(int flag) {
    std::unique_ptr<char, decltype(&std::free)> name(CVodeGetReturnFlagName(flag), &std::free);
    return failure(std::string("no step succeeds (") + name.get() + ")");
  }

 public:
  BdfIntegrator(System system, Tolerance tolerance) : system_(std::move(system)), tolerance_(std::move(tolerance)) {
    y_ = make_vector();
    absolute_ = make_vector();
    scratch_ = make_vector();
    const auto n = static_cast<sunindextype>(system_.size);
    if (system_.pattern.empty()) {
      matrix_.reset(SUNDenseMatrix(n, n, context_.get()));
      solver_.reset(SUNLinSol_Dense(y_.get(), matrix_.get(), context_.get()));
    } else {
      matrix_.reset(
          SUNSparseMatrix(n, n, static_cast<sunindextype>(system_.pattern.entries()), CSC_MAT, context_.get()));
      solver_.reset(SUNLinSol_KLU(y_.get(), matrix_.get(), context_.get()));
    }
    std::copy(tolerance_.absolute.begin(), tolerance_.absolute.end(), values(absolute_.get()).begin());
  }

  void start(double t, std::span<const double> y) override {
    std::copy(y.begin(), y.end(), values(y_.get()).begin());
    t_ = t;
    if (cvode_) {
      done_ = sum(done_, current());
      CVodeReInit(cvode_.get(), t, y_.get());
      return;
    }
    cvode_.reset(CVodeCreate(CV_BDF, context_.get()));
    CVodeInit(cvode_.get(), &call_rates, t, y_.get());
    CVodeSetErrHandlerFn(
        cvode_.get(), [](int, const char*, const char*, char*, void*) {}, nullptr);
    CVodeSVtolerances(cvode_.get(), tolerance_.relative, absolute_.get());
    CVodeSetUserData(cvode_.get(), this);
    CVodeSetLinearSolver(cvode_.get(), solver_.get(), matrix_.get());
    if (system_.jacobian) CVodeSetJacFn(cvode_.get(), &call_jacobian);
    CVodeSetMaxNumSteps(cvode_.get(), 200000);
  }

  Advance advance(double t_stop, const StepWatch& watch) override {
    LastStep step;
    step.owner = this;
    const double crumb = 1e-13 * std::max(std::abs(t_), std::abs(t_stop - t_));
    int crumbs = 0;
    while (t_ < t_stop) {
      CVodeSetStopTime(cvode_.get(), t_stop);  // forgotten by CVODES after each stop
      step.from = t_;
      const int flag = CVode(cvode_.get(), t_stop, y_.get(), &t_, CV_ONE_STEP);
      if (flag < 0) return failure(flag);
      step.to = t_;
      // Steps that creep towards a singular point succeed for ever; a run of them is a failure.
      crumbs = t_ - step.from < crumb && t_ < t_stop ? crumbs + 1 : 0;
      if (crumbs > 40) return failure("the step size fell to nothing");
      if (watch && watch(step) == Then::stop) return {false, t_, 0, {}, true};
    }
    return {true, t_, 0, {}, false};
  }

  std::span<const double> state() const override { return values(y_.get()); }
  Counts counts() const override { return cvode_ ? sum(done_, current()) : done_; }
};

}  // namespace

std::unique_ptr<Integrator> make_bdf_integrator(System system, Tolerance tolerance) {
  return std::make_unique<BdfIntegrator>(std::move(system), std::move(tolerance));
}

}  // namespace leat::numerics
