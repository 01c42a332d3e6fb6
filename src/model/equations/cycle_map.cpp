#include "model/equations/cycle_map.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "model/processes/gas_exchange.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Within longer cycles sun and meals change.
constexpr double kLongestCycle = 2.0 * 3600.0;
/// Of a vessel's most water, under which what films use in it no longer goes in proportion to what it holds: beds that
/// flood and drain were 10 to 20 % off in ammonia, where steady ones are within 2 %.
constexpr double kLeastWater = 0.6;
/// How often a vessel may change its water within a cycle: then its mean no longer tells what is there.
constexpr double kMostChanges = 3.0;
/// What may change of a cycle's kinetics over the cycle, and of what falling water takes up, before it is found anew.
constexpr double kKineticsAlike = 0.01, kGainsAlike = 0.001;

/// Of what a body holds, by which a cycle may end otherwise than it began and still be near to one that repeats.
constexpr double kRepeats = 0.1;

bool alike(const Carried& a, const Carried& b, double period) {
  for (std::size_t i = 0; i < a.goes.size(); ++i)
    if (std::abs(a.goes[i] - b.goes[i]) * period > kKineticsAlike) return false;
  for (std::size_t p = 0; p < a.gains.size(); ++p)
    if (std::abs(a.gains[p] - b.gains[p]) > kGainsAlike * std::abs(b.gains[p]) ||
        std::abs(a.arrives[p] - b.arrives[p]) > kGainsAlike)
      return false;
  return true;
}

}  // namespace

std::string why_not_by_cycles(const Loop& loop, const Pulses& pulses) {
  if (pulses.period > kLongestCycle)
    return fmt::format("the cycle lasts {:.1f} h, in which sun and meals change", pulses.period / 3600.0);
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    double least = 1e300, most = 0.0;
    for (const Stretch& s : pulses.stretches) {
      least = std::min(least, s.water[v]);
      most = std::max(most, s.water[v]);
    }
    double through = 0.0;
    for (const FlowPath& p : pulses.paths)
      if (at(p.to) == v) through += p.flow.si() * pulses.period;
    if (through > kMostChanges * least)
      return fmt::format("{} changes its water {:.1f} times within each cycle", loop.vessels[v].path, through / least);
    if (least < kLeastWater * most)
      return fmt::format("{} holds between {:.0f} and {:.0f} L within each cycle", loop.vessels[v].path, 1e3 * least,
                         1e3 * most);
  }
  return {};
}

CycleMap::CycleMap(const Equations& equations, const Pulses& pulses)
    : equations_(equations), pulses_(pulses), n_(equations.layout().bodies.size()) {
  water_.assign(n_, 0.0);
  for (const Stretch& s : pulses.stretches)
    for (std::size_t v = 0; v < n_; ++v) water_[v] += s.water[v] * (s.to - s.from) / pulses.period;
  for (std::size_t i = 0; i < Contents<>::size; ++i)
    for (std::size_t to = 0; to < n_; ++to)
      for (std::size_t from = 0; from < n_; ++from)
        coupled_.push_back(
            entry(at(equations.layout().bodies[to].carried) + i, at(equations.layout().bodies[from].carried) + i));
}

/// Where the Jacobian has it; -1: never other than zero.
int CycleMap::entry(std::size_t row, std::size_t column) const {
  const numerics::Pattern& pattern = equations_.pattern();
  const auto first = pattern.rows.begin() + pattern.starts[column],
             last = pattern.rows.begin() + pattern.starts[column + 1];
  const auto found = std::lower_bound(first, last, static_cast<int>(row));
  return found == last || *found != static_cast<int>(row) ? -1 : static_cast<int>(found - pattern.rows.begin());
}

/// Of the air, for what passes on the way; -1: nothing does.
int CycleMap::account_of(Kind kind) const {
  const Accounts& out = equations_.layout().outside;
  return kind == oxygen_         ? out.air_oxygen
         : kind == carbon_       ? out.air_carbon
         : kind == nitrogen_gas_ ? out.air_nitrogen_gas
                                 : -1;
}

CycleMap::Things CycleMap::things_of(Kind kind) {
  static constexpr std::array<std::size_t, Contents<>::size> all{0, 1, 13, 2,  3,  4,  5,  6,  7,
                                                                 8, 9, 10, 11, 12, 14, 15, 16, 17};
  static constexpr std::array<std::size_t, kinds_ + 1> from{0, 1, 2, 3, 5, 14, 17, 18};
  return Things(all).subspan(from[kind], from[kind + 1] - from[kind]);
}

/// Water that falls on its way leaves or takes up gas.
void CycleMap::let_gas_pass(Carried& carried, Kind kind, std::size_t path, const BodyState<double>& from,
                            const GasEquilibrium<double>& air) const {
  const FlowPath& p = pulses_.paths[path];
  if (p.fall.si() < 1e-3) return;
  const Number<> r = science::deficit_ratio_of_fall(p.fall, from.temperature, science::fall_water::slightly_polluted,
                                                    science::fall_shape::broad_crest_high);
  const double oxygen = 1.0 - 1.0 / r.si();
  const Number<> r_carbon =
      science::deficit_ratio_carbon_dioxide(r, science::transfer_ratio_carbon_dioxide(from.temperature));
  const auto passes = [&](double share, double of_it, Concentration<> full) {
    carried.arrives[path] = 1.0 - share * of_it;
    carried.gains[path] = share * full.si();
  };
  if (kind == oxygen_) passes(oxygen, 1.0, air.oxygen);
  if (kind == nitrogen_gas_) passes(nitrogen_over_oxygen * oxygen, 1.0, air.nitrogen);
  if (kind == carbon_)
    passes(1.0 - 1.0 / r_carbon.si(), from.carbon_dioxide.si() / std::max(from.carbon.si(), 1e-9), air.carbon_dioxide);
}

/// What is used up or made within each body: the slopes less what flows out on the mean. What makes more of itself
/// counts as a source.
void CycleMap::let_go(Carried& c, Kind kind, std::span<const BodyState<double>> bodies,
                      std::span<const double> entries) const {
  const Things things = things_of(kind);
  for (std::size_t b = 0; b < n_; ++b) {
    const std::size_t first = at(equations_.layout().bodies[b].carried);
    double leaves = 0.0;
    for (const FlowPath& p : equations_.paths())
      if (at(p.from) == b) leaves += p.flow.si() / bodies[b].water.si();
    for (const std::size_t i : things)
      for (const std::size_t j : things) {
        const int e = entry(first + i, first + j);
        const double goes = (e < 0 ? 0.0 : -entries[at(e)]) - (i == j ? leaves : 0.0);
        c.goes.push_back(i == j ? std::max(goes, 0.0) : goes);
      }
  }
}

Carried CycleMap::at_mean(Kind kind, std::span<const BodyState<double>> bodies,
                          std::span<const GasEquilibrium<double>> air, std::span<const double> entries) const {
  Carried c;
  c.things = goes_by_itself(kind) ? 1 : things_of(kind).size();
  c.gains.assign(c.things * pulses_.paths.size(), 0.0);
  for (const FlowPath& p : pulses_.paths) {
    const BodyConstants& keeps = equations_.plan().bodies[at(p.from)].constants;
    c.leaves.push_back(kind == solids_ ? keeps.lets_solids_pass : kind == algae_ ? keeps.lets_algae_pass : 1.0);
  }
  for (std::size_t i = 0; i < c.things; ++i) c.arrives.insert(c.arrives.end(), c.leaves.begin(), c.leaves.end());
  for (std::size_t p = 0; p < pulses_.paths.size(); ++p)
    let_gas_pass(c, kind, p, bodies[at(pulses_.paths[p].from)], air[at(pulses_.paths[p].from)]);
  if (goes_by_itself(kind))
    c.goes.assign(n_, 0.0);
  else
    let_go(c, kind, bodies, entries);
  return c;
}

std::vector<Square> CycleMap::mean_flows(const Carried& carried) const {
  std::vector<Square> each(carried.things, Square(n_));
  const std::size_t paths = pulses_.paths.size();
  for (std::size_t i = 0; i < carried.things; ++i)
    for (std::size_t p = 0; p < paths; ++p) {
      const std::size_t from = at(pulses_.paths[p].from), to = at(pulses_.paths[p].to);
      const double rate = pulses_.paths[p].flow.si() / water_[from];
      each[i](from, from) -= carried.leaves[p] * rate;
      each[i](to, from) += carried.arrives[i * paths + p] * rate;
    }
  return each;
}

std::string CycleMap::refresh(std::span<const BodyState<double>> bodies, std::span<const GasEquilibrium<double>> air,
                              std::span<const double> entries) {
  for (int k = 0; k < kinds_; ++k) {
    const Kind kind = static_cast<Kind>(k);
    Cycle& cycle = cycles_[at(k)];
    Carried now = at_mean(kind, bodies, air, entries);
    if (!cycle.mean.empty() && (goes_by_itself(kind) || alike(now, cycle.carried, pulses_.period))) continue;
    std::string said;
    auto map = over_one_cycle(pulses_, now, said);
    if (!map) return said;
    cycle = {now, std::move(*map), mean_flows(now)};
  }
  return {};
}

/// As much of each thing as a body would hold with its mean water.
std::vector<double> CycleMap::held(Things things, std::span<const BodyState<double>> bodies) const {
  std::vector<double> m;
  for (const std::size_t thing : things)
    for (std::size_t b = 0; b < n_; ++b) m.push_back((bodies[b].*Contents<>::members[thing]).si() * water_[b]);
  return m;
}

/// What comes whatever is there.
std::vector<double> CycleMap::sources(Kind kind, Things things, const std::vector<double>& m,
                                      std::span<const double> before) const {
  const std::vector<double>& goes = cycles_[kind].carried.goes;
  const std::size_t k = things.size();
  std::vector<double> s(n_ * k);
  for (std::size_t b = 0; b < n_; ++b)
    for (std::size_t i = 0; i < k; ++i) {
      s[i * n_ + b] = before[at(equations_.layout().bodies[b].carried) + things[i]];
      for (std::size_t j = 0; j < k; ++j) s[i * n_ + b] += goes[(b * k + i) * k + j] * m[j * n_ + b];
    }
  return s;
}

/// Returns how much more of them there is then, per second.
double CycleMap::take_together(Kind kind, Things things, std::span<const BodyState<double>> bodies,
                               std::span<const double> before, std::span<double> dydt) const {
  const OneCycle& map = cycles_[kind].map;
  const std::vector<double> m = held(things, bodies), s = sources(kind, things, m, before);
  double more = 0.0;
  for (std::size_t i = 0; i < m.size(); ++i) {
    const std::size_t slot = at(equations_.layout().bodies[i % n_].carried) + things[i / n_];
    double rate = before[slot] - s[i] + map.taken_up[i];
    for (std::size_t j = 0; j < m.size(); ++j) rate += map.own(i, j) * m[j] + map.shared(i, j) * s[j];
    more += rate - dydt[slot];
    dydt[slot] = rate;
  }
  return more;
}

void CycleMap::take(std::span<const BodyState<double>> bodies, std::span<const double> before,
                    std::span<double> dydt) const {
  for (int k = 0; k < kinds_; ++k) {
    const Kind kind = static_cast<Kind>(k);
    const Things things = things_of(kind);
    if (goes_by_itself(kind)) {
      for (std::size_t i = 0; i < things.size(); ++i) take_together(kind, things.subspan(i, 1), bodies, before, dydt);
      continue;
    }
    const double more = take_together(kind, things, bodies, before, dydt);
    if (const int account = account_of(kind); account >= 0) dydt[at(account)] -= more;
  }
}

void CycleMap::add_slopes(std::span<double> entries) const {
  for (int k = 0; k < kinds_; ++k) {
    const Cycle& cycle = cycles_[at(k)];
    const Things things = things_of(static_cast<Kind>(k));
    for (std::size_t i = 0; i < things.size(); ++i) {
      const std::size_t own = goes_by_itself(static_cast<Kind>(k)) ? 0 : i;
      const int account = account_of(static_cast<Kind>(k));
      for (std::size_t from = 0; from < n_; ++from) {
        double more = 0.0;
        for (std::size_t to = 0; to < n_; ++to) {
          const double slope = cycle.map.own(own * n_ + to, own * n_ + from) - cycle.mean[own](to, from);
          entries[at(coupled_[(things[i] * n_ + to) * n_ + from])] += slope;
          more += slope;
        }
        if (account >= 0)
          entries[at(entry(at(account), at(equations_.layout().bodies[from].carried) + things[i]))] -= more;
      }
    }
  }
}

std::vector<CycleMap::Range> CycleMap::oxygen(std::span<const BodyState<double>> bodies,
                                              std::span<const double> before) const {
  const OneCycle& map = cycles_[oxygen_].map;
  const Things things = things_of(oxygen_);
  const std::vector<double> m = held(things, bodies), s = sources(oxygen_, things, m, before);
  std::vector<double> start(m.size()), now(m.size());
  const auto sum = [&](const Square& a, const std::vector<double>& x, const Square& b, const std::vector<double>& plus,
                       std::vector<double>& into) {
    for (std::size_t i = 0; i < m.size(); ++i) {
      into[i] = plus[i];
      for (std::size_t j = 0; j < m.size(); ++j) into[i] += a(i, j) * x[j] + b(i, j) * s[j];
    }
  };
  sum(map.start_by_mean, m, map.start_by_source, map.start_taken_up, start);
  std::vector<Range> ranges(n_, {1e300, -1e300});
  for (std::size_t k = 0; k < pulses_.stretches.size(); ++k) {
    sum(map.later[k], start, map.later_by_source[k], map.later_taken_up[k], now);
    const auto& after = pulses_.stretches[(k + 1) % pulses_.stretches.size()];
    const bool ends = k + 1 == pulses_.stretches.size();
    for (std::size_t b = 0; b < n_; ++b) {
      if (ends && std::abs(now[b] - start[b]) > kRepeats * m[b]) return {};
      const double c = now[b] / (0.5 * (pulses_.stretches[k].water[b] + after.water[b]));
      ranges[b] = {std::min(ranges[b].low, c), std::max(ranges[b].high, c)};
    }
  }
  return ranges;
}

}  // namespace leat::model
