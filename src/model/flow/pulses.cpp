#include "model/flow/pulses.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace leat::model {
namespace {

using numerics::Then;

constexpr double kChange = 0.05;
constexpr int kPieces = 4;  ///< of each step of the water, whose own steps are short where it moves

/// Water that ran between two vessels within a piece of time.
struct Ran {
  double volume = 0.0, falling = 0.0;  ///< m3; times the height of its fall
  bool by_overflow = false;
};
using Pair = std::pair<int, int>;

class Cutting {
  const Plumbing& plumbing_;
  const Loop& loop_;
  const Cycle& cycle_;
  double most_ = 0.0;
  std::vector<double> little_;  ///< change of each vessel's water that begins a new stretch
  std::map<Pair, Ran> all_, here_;
  std::map<Pair, double> first_;  ///< flows in the first piece of the stretch
  std::vector<double> water_, first_water_;
  double from_ = 0.0, to_ = 0.0;
  std::vector<std::pair<Stretch, std::map<Pair, Ran>>> done_;

  std::vector<double> water_at(const std::vector<Length<>>& levels) const {
    std::vector<double> w;
    for (std::size_t v = 0; v < levels.size(); ++v)
      w.push_back(std::max((loop_.vessels[v].water_area() * (levels[v] - loop_.vessels[v].floor)).si(), 1e-6));
    return w;
  }

  bool differs(const std::map<Pair, double>& flows, const std::vector<double>& water) const {
    const auto flow = [](const std::map<Pair, double>& of, const Pair& pair) {
      const auto found = of.find(pair);
      return found == of.end() ? 0.0 : found->second;
    };
    for (const auto* side : {&flows, &first_})
      for (const auto& [pair, q] : *side)
        if (std::abs(flow(flows, pair) - flow(first_, pair)) > kChange * most_) return true;
    for (std::size_t v = 0; v < water.size(); ++v)
      if (std::abs(water[v] - first_water_[v]) > little_[v]) return true;
    return false;
  }

  void end_stretch() {
    if (to_ - from_ < 1e-9) return;
    Stretch s{from_, to_, {}, water_};
    for (double& w : s.water) w /= to_ - from_;
    done_.emplace_back(std::move(s), std::move(here_));
    here_.clear();
    first_.clear();
    from_ = to_;
    water_.clear();
  }

  /// One piece, as its middle shows it.
  void piece(double from, double to, const std::vector<Length<>>& levels, const Flows& flows) {
    std::map<Pair, double> now;
    const std::vector<FlowPath> paths = flow_paths(plumbing_, levels, flows);
    for (const FlowPath& p : paths) now[{p.from, p.to}] += p.flow.si();
    const std::vector<double> water = water_at(levels);
    if (!water_.empty() && differs(now, water)) end_stretch();
    if (water_.empty()) {
      first_ = now;
      first_water_ = water;
      water_.assign(water.size(), 0.0);
    }
    const double span = to - from;
    for (const FlowPath& p : paths)
      for (auto* into : {&here_, &all_}) {
        Ran& ran = (*into)[{p.from, p.to}];
        ran.volume += span * p.flow.si();
        ran.falling += span * p.flow.si() * p.fall.si();
        ran.by_overflow = ran.by_overflow || p.by_overflow;
      }
    for (std::size_t v = 0; v < water.size(); ++v) water_[v] += span * water[v];
    to_ = to;
  }

 public:
  Cutting(const Plumbing& plumbing, const Cycle& cycle) : plumbing_(plumbing), loop_(plumbing.loop()), cycle_(cycle) {
    for (const FlowPath& p : cycle.paths) most_ = std::max(most_, p.flow.si());
    for (const auto* list : {&cycle.most.pumps, &cycle.most.siphons, &cycle.most.overflows})
      for (const Flow<> q : *list) most_ = std::max(most_, q.si());
    for (const VesselCycle& v : cycle.vessels) little_.push_back(std::max(kChange * v.mean_water.si(), 1e-5));
  }

  void see(const WaterStep& step, bool switched) {
    if (switched) end_stretch();
    const double from = step.from.si(), piece_of = (step.to - step.from).si() / kPieces;
    for (int k = 0; k < kPieces; ++k) {
      const Duration<> middle(from + (k + 0.5) * piece_of);
      const std::vector<Length<>> levels = step.levels(middle);
      piece(from + k * piece_of, from + (k + 1) * piece_of, levels, step.flows(middle));
    }
  }

  Pulses close() {
    end_stretch();
    Pulses p;
    p.period = cycle_.period.si();
    p.phase = std::fmod(cycle_.start.clock, p.period);
    for (const auto& [pair, ran] : all_) {
      if (ran.volume < 1e-9) continue;
      p.paths.push_back({pair.first, pair.second, Flow<>(ran.volume / p.period), Length<>(ran.falling / ran.volume),
                         ran.by_overflow});
    }
    for (auto& [stretch, ran] : done_) {
      for (const FlowPath& path : p.paths) {
        const auto found = ran.find({path.from, path.to});
        stretch.flows.push_back(found == ran.end() ? 0.0 : found->second.volume / (stretch.to - stretch.from));
      }
      p.stretches.push_back(std::move(stretch));
    }
    return p;
  }
};

}  // namespace

std::size_t Pulses::at(double clock) const {
  // A moment that is a boundary but for rounding begins the stretch after it.
  const double since = clock - phase + 1e-6, within = since - period * std::floor(since / period);
  std::size_t i = stretches.size() - 1;
  while (i > 0 && stretches[i].from > within) --i;
  return i;
}

std::vector<double> Pulses::beginnings(double from, double to) const {
  std::vector<double> all;
  for (double cycle = phase + period * std::floor((from - phase) / period); cycle < to; cycle += period)
    for (const Stretch& s : stretches)
      if (const double t = cycle + s.from; t >= from && t < to) all.push_back(t);
  return all;
}

Pulses pulses_of(const Plumbing& plumbing, const Cycle& cycle) {
  Cutting cutting(plumbing, cycle);
  WaterPlan plan{cycle.period, {}, {}, true};
  std::optional<Setting> before;
  run_water(plumbing, cycle.start, plan, [&](const WaterStep& step) {
    cutting.see(step, before && !(*before == *step.setting));
    before = *step.setting;
    return Then::go_on;
  });
  return cutting.close();
}

}  // namespace leat::model
