#include "model/flow/follow.h"

#include <fmt/core.h>

#include <algorithm>

#include "numerics/integrator.h"
#include "numerics/root.h"

namespace leat::model {
namespace {

/// A pipe whose open end is under water, so that it may run backwards until the level has fallen to it.
struct DrownedEnd {
  std::size_t pipe, vessel;
  double height;
};

/// One stretch between two edges: the set of drowned ends does not change within it.
class Following {
  const Loop& loop_;
  const Plumbing& plumbing_;
  Setting setting_;
  std::vector<DrownedEnd> drowned_;

  std::vector<Length<>> as_levels(std::span<const double> y) const {
    std::vector<Length<>> levels;
    for (const double z : y) levels.emplace_back(z);
    return levels;
  }

  bool rates(std::span<const double> y, std::span<double> d) const {
    const Flows flows = plumbing_.flows(as_levels(y), setting_);
    if (!flows.solved) return false;
    const auto net = plumbing_.net(flows);
    for (std::size_t v = 0; v < y.size(); ++v) d[v] = net[v].si() / loop_.vessels[v].water_area().si();
    return true;
  }

  void note_drowned(const std::vector<Length<>>& levels) {
    drowned_.clear();
    setting_.drowned.assign(loop_.pipes.size(), false);
    for (std::size_t i = 0; i < loop_.pipes.size(); ++i) {
      const Pipe& pipe = loop_.pipes[i];
      if (pipe.to.what != End::What::vessel || !pipe.outlet_level) continue;
      const auto v = static_cast<std::size_t>(pipe.to.index);
      if (levels[v] <= *pipe.outlet_level) continue;
      setting_.drowned[i] = true;
      drowned_.push_back({i, v, pipe.outlet_level->si()});
    }
  }

 public:
  Following(const Loop& loop, const Plumbing& plumbing, const Setting& setting)
      : loop_(loop), plumbing_(plumbing), setting_(setting) {}

  Followed run(std::vector<Length<>> levels, double span, const LevelWatch& watch) {
    Followed result;
    std::vector<double> y, room(levels.size());
    for (const Length<> z : levels) y.push_back(z.si());
    double t = 0.0;
    auto integrator = numerics::make_bdf_integrator(
        {y.size(), [this](double, std::span<const double> state, std::span<double> d) { return rates(state, d); }, {}},
        {1e-8, std::vector<double>(y.size(), 1e-9)});
    while (t < span) {
      note_drowned(as_levels(y));
      integrator->start(t, y);
      double edge = span;
      std::size_t freed = drowned_.size();
      const auto done = integrator->advance(span, [&](const numerics::Step& step) {
        if (edge < span) return;
        for (std::size_t k = 0; k < drowned_.size(); ++k) {
          const auto over = [&](double at) {
            step.at(at, room);
            return room[drowned_[k].vessel] - drowned_[k].height;
          };
          if (over(step.to) >= 0.0) continue;
          edge = numerics::bracketed_root(over, step.from, step.to, 1e-7);
          freed = k;
          step.at(edge, y);
          return;
        }
        if (watch)
          watch(Duration<>(step.from), Duration<>(step.to), [&](Duration<> at) {
            step.at(at.si(), room);
            return as_levels(room);
          });
      });
      if (!done.reached) break;
      if (freed == drowned_.size()) {
        y.assign(integrator->state().begin(), integrator->state().end());
        t = span;
        break;
      }
      t = edge;
      y[drowned_[freed].vessel] = drowned_[freed].height;
      result.edges.push_back(fmt::format("{} draws air after {:.1f} s", loop_.pipes[drowned_[freed].pipe].path, t));
    }
    result.finished = t >= span;
    result.reached = Duration<>(t);
    result.levels = as_levels(y);
    return result;
  }
};

}  // namespace

Followed follow_levels(const Loop& loop, const Plumbing& plumbing, const std::vector<Length<>>& start,
                       const Setting& setting, Duration<> span, const LevelWatch& watch) {
  return Following(loop, plumbing, setting).run(start, span.si(), watch);
}

}  // namespace leat::model
