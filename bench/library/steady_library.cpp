// The steady state of a loop behind a C interface: what must be zero, in two forms, for another solver; and the
// project's own solve beside it. For loops without valves, siphons and held levels, whose open ends stay open.
#include <algorithm>
#include <fstream>
#include <memory>
#include <sstream>

#include "model/flow/water_run.h"
#include "model/loop/loop.h"

namespace {

using namespace leat;
using namespace leat::model;

std::string slurp(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}
std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

constexpr double kLitre = 1e-3;  ///< flows are unknowns in L/s, so that all unknowns are near 1

/// Unknowns in a row: levels in m, heads of junctions, heads at pumps' outlets, flows of pumps, flows of pipes.
struct Steady {
  Loop loop, without_mains;  ///< the second: only what runs by its own weight
  std::unique_ptr<Plumbing> plumbing, by_gravity;
  std::unique_ptr<Plumbing::Work, void (*)(Plumbing::Work*)> work{nullptr, nullptr}, idle{nullptr, nullptr};
  std::vector<science::PipeLaw> laws;
  std::vector<Length<>> levels;
  Flows flows, falling;
  std::vector<double> net;
  double water = 0.0;
  std::size_t lowest = 0;

  std::size_t vessels() const { return loop.vessels.size(); }
  std::size_t heads() const { return loop.junctions.size() + loop.pumps.size(); }
  std::size_t links() const { return loop.pumps.size() + loop.pipes.size(); }
  std::size_t size() const { return vessels() + heads() + links(); }

  void read(const double* x) {
    for (std::size_t v = 0; v < vessels(); ++v) levels[v] = Length<>(x[v]);
  }

  /// All water stays: that stands in for the balance of the lowest vessel, which the others' balances contain.
  void balance(double* r) const {
    for (std::size_t v = 0; v < vessels(); ++v) r[v] = net[v] / kLitre;
    double now = 0.0;
    for (std::size_t v = 0; v < vessels(); ++v) now += loop.vessels[v].volume_at(levels[v]).si();
    r[lowest] = (now - water) / loop.vessels[lowest].water_area().si();
  }

  /// Head at one end of a pipe, and the node it belongs to, or none.
  std::pair<double, int> end(const Pipe& pipe, const End& end, const double* heads) const {
    if (end.what == End::What::junction) return {heads[end.index], end.index};
    const int outlet = static_cast<int>(loop.junctions.size()) + end.index;
    if (end.what == End::What::pump) return {heads[outlet], outlet};
    const Length<> level = levels[at(end.index)];
    return {(pipe.outlet_level ? std::max(*pipe.outlet_level, level) : level).si(), -1};
  }
};

Steady& steady(void* handle) {
  return *static_cast<Steady*>(handle);
}

}  // namespace

extern "C" {

void* leat_steady_open(const char* path) {
  auto s = std::make_unique<Steady>();
  Problems problems;
  s->loop = make_loop(read_description(slurp(path), path, problems), problems);
  if (!problems.empty() || !s->loop.valves.empty() || !s->loop.siphons.empty()) return nullptr;
  s->without_mains = s->loop;
  s->without_mains.pumps.clear();
  s->without_mains.pipes.clear();
  s->plumbing = std::make_unique<Plumbing>(s->loop);
  s->by_gravity = std::make_unique<Plumbing>(s->without_mains);
  s->idle = s->by_gravity->make_work();
  for (const Pipe& pipe : s->loop.pipes) s->laws.emplace_back(pipe.run, s->loop.laws.viscosity, s->loop.laws.gravity);
  s->net.resize(s->vessels());
  for (std::size_t v = 0; v < s->vessels(); ++v)
    if (s->loop.vessels[v].floor < s->loop.vessels[s->lowest].floor) s->lowest = v;
  return s.release();
}

void leat_steady_close(void* handle) {
  delete static_cast<Steady*>(handle);
}

/// Vessels, unknown heads, pumps and pipes.
void leat_steady_sizes(void* handle, int* sizes) {
  const Steady& s = steady(handle);
  sizes[0] = static_cast<int>(s.vessels());
  sizes[1] = static_cast<int>(s.heads());
  sizes[2] = static_cast<int>(s.links());
}

/// Levels at rest, every vessel but the lowest `above` fuller, so that its overflow runs; one head for all and one flow
/// everywhere, those from which fsolve was quickest of nine that were tried.
void leat_steady_start(void* handle, double above, double* x) {
  Steady& s = steady(handle);
  s.levels = levels_at_rest(s.loop);
  for (std::size_t v = 0; v < s.vessels(); ++v)
    if (v != s.lowest) s.levels[v] += Length<>(above);
  s.water = water_in(s.loop, s.levels).si();
  s.work = s.plumbing->make_work();
  for (std::size_t v = 0; v < s.vessels(); ++v) x[v] = s.levels[v].si();
  std::fill_n(x + s.vessels(), s.heads(), 5.0);
  std::fill_n(x + s.vessels() + s.heads(), s.links(), 0.3);
}

/// Balances of the vessels, the network solved within: as many unknowns as vessels.
int leat_steady_levels(void* handle, const double* x, double* r) {
  Steady& s = steady(handle);
  s.read(x);
  s.plumbing->flows(s.levels, Setting{}, *s.work, s.flows);
  if (!s.flows.solved) return 1;
  s.plumbing->net(s.flows, s.net);
  s.balance(r);
  return 0;
}

/// The same with nothing solved within: balances of vessels and nodes, and the law of every pump and pipe.
int leat_steady_all(void* handle, const double* x, double* r) {
  Steady& s = steady(handle);
  s.read(x);
  const double *heads = x + s.vessels(), *flows = heads + s.heads();
  double *nodes = r + s.vessels(), *laws = nodes + s.heads();
  s.by_gravity->flows(s.levels, Setting{}, *s.idle, s.falling);
  s.by_gravity->net(s.falling, s.net);
  std::fill_n(nodes, s.heads(), 0.0);
  for (std::size_t p = 0; p < s.loop.pumps.size(); ++p) {
    const Pump& pump = s.loop.pumps[p];
    const std::size_t outlet = s.loop.junctions.size() + p;
    const Flow<> q(kLitre * flows[p]);
    s.net[at(pump.vessel)] -= q.si();
    nodes[outlet] += flows[p];
    laws[p] = s.levels[at(pump.vessel)].si() + pump.curve.head(q).si() - heads[outlet];
  }
  for (std::size_t i = 0; i < s.loop.pipes.size(); ++i) {
    const Pipe& pipe = s.loop.pipes[i];
    const double q = flows[s.loop.pumps.size() + i];
    const auto [up, from] = s.end(pipe, pipe.from, heads);
    const auto [down, to] = s.end(pipe, pipe.to, heads);
    (from >= 0 ? nodes[from] : s.net[at(pipe.from.index)]) -= from >= 0 ? q : kLitre * q;
    (to >= 0 ? nodes[to] : s.net[at(pipe.to.index)]) += to >= 0 ? q : kLitre * q;
    laws[s.loop.pumps.size() + i] = up - down - s.laws[i].at(kLitre * q).loss;
  }
  s.balance(r);
  return 0;
}

/// Flows of pumps, pipes and overflows at some levels, m3/s.
int leat_steady_flows(void* handle, const double* x, double* out) {
  Steady& s = steady(handle);
  s.read(x);
  const Flows f = s.plumbing->flows(s.levels, Setting{});
  for (const auto* part : {&f.pumps, &f.pipes, &f.overflows})
    for (const Flow<> q : *part) *out++ = q.si();
  return static_cast<int>(f.pumps.size() + f.pipes.size() + f.overflows.size());
}

/// The project's own solve from the same start. Returns whether it settled.
int leat_steady_settle(void* handle, double* x, int* steps) {
  Steady& s = steady(handle);
  s.read(x);
  const Settled settled = settle(s.loop, *s.plumbing, s.levels, Setting{});
  for (std::size_t v = 0; v < s.vessels(); ++v) x[v] = settled.levels[v].si();
  *steps = settled.steps;
  return settled.settled ? 1 : 0;
}

}  // extern "C"
