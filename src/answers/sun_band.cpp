#include "answers/sun_band.h"

#include <algorithm>

#include "answers/ahead_run.h"
#include "model/processes/heat.h"
#include "science/heat/walls.h"

namespace leat::answers {
namespace {

using namespace model;

/// Whether any bare clear wall or clear lid is left above ground.
bool lets_sun_in(const Vessel& vessel) {
  const HeatPlan<> plan = heat_plan(vessel);
  return plan.cover.transmitted * plan.cover.area.si() > 0.0 ||
         std::any_of(plan.walls.begin(), plan.walls.end(),
                     [](const WallFace<>& wall) { return wall.transmitted * wall.area.si() > 0.0; });
}

/// Indices of the vessels whose share of the sun was assumed, and matters.
std::vector<std::size_t> assumed_in(const Loop& loop) {
  std::vector<std::size_t> found;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (!lets_sun_in(loop.vessels[v])) continue;
    const std::string path = loop.vessels[v].path + ".sun_through_wall";
    if (std::any_of(loop.assumptions.begin(), loop.assumptions.end(),
                    [&](const Assumption& a) { return a.path == path; }))
      found.push_back(v);
  }
  return found;
}

AtShare at_share(const AheadAnswer& run, std::size_t vessel, double share) {
  AtShare seen{share, -1e300, 0.0};
  for (const VesselDay& day : run.vessels[vessel].days) {
    seen.highest = std::max(seen.highest, day.temperature_high.value);
    seen.mean_swing += day.swing / static_cast<double>(run.vessels[vessel].days.size());
  }
  return seen;
}

std::vector<std::size_t> told_of(const Loop& loop) {
  std::vector<std::size_t> tanks, all;
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    all.push_back(v);
    if (loop.vessels[v].kind == VesselKind::tank) tanks.push_back(v);
  }
  return tanks.empty() ? all : tanks;
}

}  // namespace

std::optional<SunBand> sun_band(const Loop& loop, const Plumbing& plumbing, const Settled& running,
                                const Weather& weather, const AheadRequest& request, const AheadAnswer& middle) {
  const std::vector<std::size_t> assumed = assumed_in(loop);
  if (assumed.empty() || !middle.finished) return std::nullopt;
  const auto run_at = [&](double share) {
    Loop other = loop;
    for (const std::size_t v : assumed) other.vessels[v].sun_through_wall = share;
    return run_ahead(other, plumbing, running, weather, request);
  };
  constexpr double least = science::sun_share_clear_polyethylene_low, most = science::sun_share_clear_polyethylene_high;
  const AheadAnswer low = run_at(least), high = run_at(most);
  if (!low.finished || !high.finished) return std::nullopt;
  SunBand band;
  for (const std::size_t v : assumed) band.assumed_for.push_back(loop.vessels[v].path);
  for (const std::size_t v : told_of(loop))
    band.vessels.push_back({loop.vessels[v].path, at_share(low, v, least),
                            at_share(middle, v, science::sun_share_clear_polyethylene), at_share(high, v, most)});
  std::stable_sort(band.vessels.begin(), band.vessels.end(),
                   [](const SunBand::Vessel& a, const SunBand::Vessel& b) { return a.width() > b.width(); });
  return band;
}

}  // namespace leat::answers
