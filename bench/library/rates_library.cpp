// The project's own rates and reference integrator behind a C interface, so that other integrators can be given the
// very same problem. Time is in seconds since the start; meals add a fixed mass of feed to the first gut of each group.
#include <cstring>
#include <ctime>
#include <fstream>
#include <limits>
#include <memory>
#include <sstream>

#include "model/equations/lanes_problem.h"
#include "model/equations/side_by_side.h"
#include "model/simulate/simulate.h"
#include "numerics/integrator.h"
#include "numerics/lanes_integrator.h"

namespace {

using namespace leat;
using namespace leat::model;

std::string slurp(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

/// One loop under its weather, ready to be asked for rates.
struct Peer {
  Loop loop;
  std::unique_ptr<Plumbing> plumbing;
  Settled running;
  Weather weather;
  std::unique_ptr<Forcing> forcing;
  std::unique_ptr<Equations> equations;
  std::vector<double> guess;
  Scratch<double> work;
  Scratch<JacobianDual> dual_work;
  std::vector<JacobianDual> room;
  Instant start;

  std::unique_ptr<JacobianPlan> jacobian;

  /// A meal, and pH's first guesses from there on: a solver restarts here anyhow, and every one is given the same.
  void feed(double* y, double kg) {
    for (const FishSlots& f : equations->layout().fish) y[f.gut[0]] += kg;
    for (std::size_t b = 0; b < guess.size(); ++b)
      guess[b] = equations->body(b, std::span<const double>(y, equations->layout().size()), guess[b]).pH.si();
  }
};

/// Where a run is stopped, in hours: at the meals, every 12 h from the sixth, and at the end.
std::vector<int> stops_of(int hours) {
  std::vector<int> stops;
  for (int h = 6; h < hours; h += 12) stops.push_back(h);
  stops.push_back(hours);
  return stops;
}

/// Writes down the hours that a step ends at or passes, from what the step says of the state there.
struct HoursWritten {
  double* hourly;
  std::size_t size;
  int next = 1;

  template <class At>
  void pass(double to, At&& at) {
    for (; 3600.0 * next <= to; ++next)
      at(3600.0 * next, std::span<double>(hourly + static_cast<std::size_t>(next - 1) * size, size));
  }
};

/// The one-step integrator over the same hours and meals: of one loop, or of eight in lanes, the first of which is
/// told.
template <class T>
double run_lanes(Peer& p, LanesProblem<T>& problem, int hours, double relative, int each_hour, double meal_kg,
                 double* hourly, long* steps) {
  const std::clock_t clock = std::clock();
  const Layout& layout = p.equations->layout();
  numerics::LanesIntegrator<T, LanesProblem<T>> integrator(problem, tolerance(layout, relative));
  std::vector<T> y;
  for (const double x : p.equations->initial_state()) y.push_back(T(x));
  integrator.start(0.0, y);
  HoursWritten written{hourly, y.size()};
  const auto first_of = [](const T& x) {
    if constexpr (std::same_as<T, double>)
      return x;
    else
      return x[0];
  };
  const auto watch = [&](const numerics::LanesStep<T>& step) {
    written.pass(step.to, [&](double t, std::span<double> out) {
      for (std::size_t i = 0; i < out.size(); ++i) out[i] = first_of(step.at(i, t));
    });
    return true;
  };
  for (const int stop : stops_of(hours)) {
    for (int h = each_hour ? written.next : stop; h <= stop; ++h)
      if (!integrator.advance(3600.0 * h, watch).reached) return -1.0;
    if (stop == hours) break;
    std::copy(integrator.state().begin(), integrator.state().end(), y.begin());
    for (const FishSlots& f : layout.fish) y[static_cast<std::size_t>(f.gut[0])] += T(meal_kg);
    for (std::size_t b = 0; b < layout.bodies.size(); ++b)
      problem.guesses()[b] = body_state<T>(std::span<const T>(y), layout.bodies[b],
                                           p.equations->plan().bodies[b].constants, problem.guesses()[b])
                                 .pH.si();
    integrator.jump(y, 900.0);
  }
  *steps = integrator.counts().steps;
  return static_cast<double>(std::clock() - clock) / CLOCKS_PER_SEC;
}

}  // namespace

extern "C" {

void* leat_open(const char* loop_path, const char* daily_path, int year, int month, int day, int days) {
  auto p = std::make_unique<Peer>();
  Problems problems;
  p->loop = make_loop(read_description(slurp(loop_path), loop_path, problems), problems);
  WeatherSources sources;
  sources.daily = read_daily_record(slurp(daily_path), daily_path, "", problems);
  if (!problems.empty()) return nullptr;
  const CivilDate first{year, month, day};
  p->plumbing = std::make_unique<Plumbing>(p->loop);
  p->running = settle(p->loop, *p->plumbing, levels_at_rest(p->loop), Setting{});
  p->weather = assemble_weather(p->loop.site.place, sources, first, days);
  p->forcing = std::make_unique<Forcing>(p->loop.site, p->weather);
  p->equations = std::make_unique<Equations>(p->loop, *p->plumbing, p->running, *p->forcing);
  p->guess = p->equations->neutral_guesses();
  p->work = p->equations->scratch<double>();
  p->dual_work = p->equations->scratch<JacobianDual>();
  p->start = p->loop.site.place.clock.instant({first, 0.0});
  p->jacobian = std::make_unique<JacobianPlan>(*p->equations);
  return p.release();
}

void leat_close(void* handle) {
  delete static_cast<Peer*>(handle);
}

int leat_size(void* handle) {
  return static_cast<int>(static_cast<Peer*>(handle)->equations->layout().size());
}

void leat_start(void* handle, double* y) {
  auto& p = *static_cast<Peer*>(handle);
  p.guess = p.equations->neutral_guesses();
  const auto start = p.equations->initial_state();
  std::memcpy(y, start.data(), start.size() * sizeof(double));
}

/// Typical sizes, and 1 for the outside accounts, which no error is counted in.
void leat_scales(void* handle, double* nominal, double* outside) {
  const auto& slots = static_cast<Peer*>(handle)->equations->layout().slots;
  for (std::size_t i = 0; i < slots.size(); ++i) {
    nominal[i] = slots[i].nominal;
    outside[i] = slots[i].outside ? 1.0 : 0.0;
  }
}

void leat_feed(void* handle, double* y, double kg) {
  static_cast<Peer*>(handle)->feed(y, kg);
}

int leat_rates(void* handle, double t, const double* y, double* dydt) {
  auto& p = *static_cast<Peer*>(handle);
  const std::size_t n = p.equations->layout().size();
  return p.equations->rates<double>({p.start.seconds + t}, std::span<const double>(y, n), p.guess, p.work,
                                    std::span<double>(dydt, n))
             ? 0
             : 1;
}

/// Runs CVODES over `hours`, stopped at the meals alone, and writes the state of every hour (before the meal). Returns
/// seconds of the processor, or -1 when it failed.
double leat_run_cvodes(void* handle, int hours, double relative, int dense, double meal_kg, double* hourly,
                       long* steps) {
  auto& p = *static_cast<Peer*>(handle);
  const std::size_t n = p.equations->layout().size();
  numerics::System system{n, [&](double t, std::span<const double> y, std::span<double> d) {
                            return p.equations->rates<double>({p.start.seconds + t}, y, p.guess, p.work, d);
                          }};
  if (!dense) {
    system.pattern = p.equations->pattern();
    system.jacobian = [&](double t, std::span<const double> y, std::span<double> entries) {
      return p.equations->jacobian({p.start.seconds + t}, y, p.guess, p.dual_work, p.room, entries);
    };
  }
  const std::clock_t clock = std::clock();
  auto integrator = numerics::make_bdf_integrator(system, tolerance(p.equations->layout(), relative));
  p.guess = p.equations->neutral_guesses();
  std::vector<double> y = p.equations->initial_state();
  integrator->start(0.0, y);
  HoursWritten written{hourly, n};
  const auto watch = [&](const numerics::Step& step) {
    written.pass(step.to, [&](double t, std::span<double> out) { step.at(t, out); });
    return numerics::Then::go_on;
  };
  for (const int stop : stops_of(hours)) {
    if (!integrator->advance(3600.0 * stop, watch).reached) return -1.0;
    if (stop == hours) break;
    std::copy(integrator->state().begin(), integrator->state().end(), y.begin());
    p.feed(y.data(), meal_kg);
    integrator->start(3600.0 * stop, y);
  }
  *steps = integrator->counts().steps;
  return static_cast<double>(std::clock() - clock) / CLOCKS_PER_SEC;
}

/// The same by the one-step integrator: lanes 1, or 8 of equal members. `each_hour`: it is stopped at every hour, and
/// the state there is its own, not read between two.
double leat_run_lanes(void* handle, int hours, double relative, int lanes, int each_hour, double meal_kg,
                      double* hourly, long* steps) {
  auto& p = *static_cast<Peer*>(handle);
  if (lanes == 1) {
    LanesProblem<double> problem(*p.equations, *p.jacobian, p.equations->plan(), p.forcing->hours());
    return run_lanes(p, problem, hours, relative, each_hour, meal_kg, hourly, steps);
  }
  PlansOfLanes<Pack> plans;
  std::array<const Forcing*, pack_width> forcings;
  plans.fill(&p.equations->plan());
  forcings.fill(p.forcing.get());
  LanesProblem<Pack> problem(*p.equations, *p.jacobian, side_by_side<Pack>(plans),
                             hours_side_by_side<Pack>(forcings, p.start));
  return run_lanes(p, problem, hours, relative, each_hour, meal_kg, hourly, steps);
}

// ---- the same for deSolve, whose solvers call compiled rates of one fixed form

static Peer* deSolve_peer = nullptr;

void leat_desolve_open(char** loop, char** daily, int* days, int* size) {
  deSolve_peer = static_cast<Peer*>(leat_open(*loop, *daily, 2015, 3, 10, *days));
  *size = deSolve_peer ? leat_size(deSolve_peer) : 0;
}
void leat_desolve_start(double* y, double* nominal, double* outside) {
  leat_start(deSolve_peer, y);
  leat_scales(deSolve_peer, nominal, outside);
}
void leat_desolve_feed(double* y, double* kg) {
  leat_feed(deSolve_peer, y, *kg);
}
void leat_desolve_rates(int*, double* t, double* y, double* dydt, double*, int*) {
  if (leat_rates(deSolve_peer, *t, y, dydt) != 0) dydt[0] = std::numeric_limits<double>::quiet_NaN();
}

}  // extern "C"
