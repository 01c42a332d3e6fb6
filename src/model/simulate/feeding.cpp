#include "model/simulate/feeding.h"

#include <algorithm>

#include "science/fish/potential.h"
#include "science/nitrogen/organic_decay.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Faeces of so much feed a second lie in the gravel; without any, everywhere.
void lay_faeces(const Loop& loop, const Layout& layout, double fed, const FishMatter& m, Temperature<> water,
                std::span<double> y) {
  const bool gravel = std::any_of(loop.vessels.begin(), loop.vessels.end(),
                                  [](const Vessel& v) { return v.kind == VesselKind::gravel_bed; });
  const auto weight = [&](const Vessel& v) { return gravel && v.kind != VesselKind::gravel_bed ? 0.0 : v.area.si(); };
  double all = 0.0;
  for (const Vessel& v : loop.vessels) all += weight(v);
  const double feed = fed / science::decay_rate(science::particles, water).si();  // kg whose faeces lie there
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const BodySlots& slots = layout.bodies[v];
    const double here = feed * weight(loop.vessels[v]) / all;
    y[at(slots.solids_carbon())] += here * m.feed_carbon * (1.0 - m.digestible_carbon);
    y[at(slots.solids_nitrogen())] += here * m.feed_nitrogen * (1.0 - m.digestible_nitrogen);
    y[at(slots.solids_phosphorus())] += here * m.solid_phosphorus;
  }
}

}  // namespace

void start_as_fed_before(const Loop& loop, const Equations& equations, std::span<double> y) {
  const Layout& layout = equations.layout();
  for (std::size_t g = 0; g < loop.fish.size(); ++g) {
    const FishGroup& group = loop.fish[g];
    const Mass<> biomass(y[at(layout.fish[g].biomass)]);
    if (group.meals.empty() || biomass.si() <= 0.0) continue;
    const BodyState<double> water = equations.body(at(group.vessel), y, 7.0);
    const Ration ration = ration_of(group, biomass, water.temperature, water.oxygen);
    const double fed = ration.a_day.si() * ration.eaten_share / 86400.0;  // kg/s
    const double stage = science::meal_stage_rate(science::ammonia_peak_time(water.temperature)).si();
    for (const int slot : layout.fish[g].gut) y[at(slot)] = fed / stage;
    if (loop.film == Film::grown) lay_faeces(loop, layout, fed, layout.matter[g], water.temperature, y);
  }
}

Ration ration_of(const FishGroup& group, Mass<> biomass, Temperature<> water, Concentration<> oxygen) {
  const science::Species* species = science::find_species(group.species);
  const science::Species& s =
      species && species->growth && species->appetite() ? *species : *science::find_species("rainbow trout");
  const Mass<> one = biomass / std::max(group.count, 1e-9);
  const Density<> oxygen_mass = oxygen * science::molar_mass::oxygen;
  Ration r;
  r.by_rule = group.growth * science::ration_potential(s, water, one, oxygen_mass);
  r.by_table = science::ration_trout_table(water, one);
  if (!group.feed) {
    r.a_day = Mass<>(r.by_rule.si() * biomass.si() * units::day.si());
    return r;
  }
  r.a_day = Mass<>(group.feed->si() * units::day.si());
  const Density<> full = s.oxygen_appetite_full.value_or(*s.oxygen_target),
                  none = s.oxygen_appetite_none.value_or(0.6 * *s.oxygen_min);
  r.eaten_share = std::clamp(
      science::appetite_temperature(water, *s.appetite()).si() * science::appetite_oxygen(oxygen_mass, none, full).si(),
      0.0, 1.0);
  return r;
}

}  // namespace leat::model
