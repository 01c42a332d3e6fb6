// The structure of a loop's equations, worked out once.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "model/equations/equations.h"
#include "model/processes/nitrification.h"
#include "science/crops/crop.h"
#include "science/fish/species.h"

namespace leat::model {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Stones hold heat beside the water: a flooded bed less the water in it.
HeatCapacity<> stones_of(const Vessel& v) {
  if (v.kind != VesselKind::gravel_bed) return HeatCapacity<>(0.0);
  const VolumetricHeat<> stones = science::bed_heat_capacity(Number<>(v.porosity)) - v.porosity * water_heat;
  return stones * (v.area * v.depth());
}

/// Of the particles in the water that leaves a bed: gravel strains most, still water over roots lets half settle
/// (common practice, no source).
constexpr double kGravelLetsSolidsPass = 0.1, kGravelLetsAlgaePass = 0.7, kRaftBedLetsSolidsPass = 0.5;

std::vector<HeatStores> stores_of(const Loop& loop) {
  std::vector<HeatStores> stores;
  for (const Vessel& v : loop.vessels) stores.push_back(heat_stores(heat_plan(v)));
  return stores;
}

}  // namespace

/// What algae see: the open water, and the sun that a clear lid lets through. Gravel is dark.
LightPlan<> Equations::light_of(const Vessel& vessel, const BodyPlan<>& body) {
  LightPlan<> light;
  light.surface = vessel.water_area();
  if (vessel.kind == VesselKind::gravel_bed) return light;
  const Cover<>& cover = body.heat.cover;
  light.lit_share = (body.heat.open.si() + cover.transmitted * cover.area.si()) / vessel.area.si();
  light.sun_share = body.heat.sun_share * (1.0 - body.canopy) * (1.0 - water_albedo);
  return light;
}

Equations::Equations(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Forcing& forcing,
                     Slopes slopes)
    : Equations(loop, forcing, flow_paths(loop, plumbing, running), plumbing, running, slopes, Pulsed::mean) {}

Equations::Equations(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Forcing& forcing,
                     const Pulses& pulses, Pulsed how)
    : Equations(loop, forcing, pulses.paths, plumbing, running, Slopes::here, how) {
  if (how != Pulsed::resolved) return;
  const Stretch& first = pulses.stretches[pulses.at(0.0)];
  for (std::size_t b = 0; b < plan_.bodies.size(); ++b) plan_.bodies[b].usual_water = Volume<>(first.water[b]);
}

Equations::Equations(const Loop& loop, const Forcing& forcing, std::vector<FlowPath> paths, const Plumbing& plumbing,
                     const Settled& running, Slopes slopes, Pulsed how)
    : loop_(loop), forcing_(forcing), layout_(loop, stores_of(loop)), paths_(std::move(paths)), pulsed_(how) {
  inner_ = static_cast<std::size_t>(
      std::find_if(layout_.slots.begin(), layout_.slots.end(), [](const Slot& s) { return s.outside; }) -
      layout_.slots.begin());
  plan_bodies(plumbing, running);
  plan_life();
  plan_sources();
  if (pulsed_ == Pulsed::resolved)
    overflow_share_.assign(paths_.size(), 0.0);
  else
    order_paths();
  list_terms();
  if (slopes == Slopes::here) trace_pattern();
}

void Equations::plan_bodies(const Plumbing& plumbing, const Settled& running) {
  for (std::size_t v = 0; v < loop_.vessels.size(); ++v) {
    const Vessel& vessel = loop_.vessels[v];
    BodyPlan<> b;
    b.heat = heat_plan(vessel);
    b.constants.stones = stones_of(vessel);
    b.film = vessel.film_area;
    b.limestone = vessel.limestone;
    b.sludge = loop_.unsure.denitrification * vessel.sludge;
    if (vessel.kind == VesselKind::gravel_bed) {
      b.gravel = loop_.unsure.denitrification * vessel.area;
      b.constants.lets_solids_pass = kGravelLetsSolidsPass;
      b.constants.lets_algae_pass = kGravelLetsAlgaePass;
    }
    if (vessel.kind == VesselKind::raft_bed) b.constants.lets_solids_pass = kRaftBedLetsSolidsPass;
    b.usual_water = std::max(vessel.volume_at(running.levels[v]), vessel.capacity() * 0.01);
    b.capacity = vessel.capacity();
    b.gas.surface = loop_.unsure.reaeration * b.heat.gas_open_share * vessel.area;
    b.catches_rain = b.heat.open + (vessel.kind == VesselKind::gravel_bed ? b.heat.cover.area : Area<>(0.0));
    for (const AirLine& air : loop_.airs)
      if (at(air.vessel) == v) {
        const double taken = std::min(1.0, air.transfer_per_metre * air.depth.si());
        b.gas.stones_oxygen += science::exchange_flow_of_air_stone(air.flow, Number<>(taken));
        b.gas.stones_air += air.flow;
        add_air_line(b.air_lines, air);
      }
    for (std::size_t p = 0; p < loop_.pumps.size(); ++p) {
      const Pump& pump = loop_.pumps[p];
      if (at(pump.vessel) != v || running.flows.pumps[p].si() <= 0.0) continue;
      const double share = running.running.empty() ? 1.0 : std::max(running.running[p], 1e-6);
      const Flow<> q = running.flows.pumps[p] / share;
      b.pump_heat += share * pump.power.value_or(science::pump_power(q, plumbing.pump_head(pump, q), loop_.laws.density,
                                                                     Number<>(pump.efficiency)));
    }
    plan_.bodies.push_back(std::move(b));
  }
  for (const Planting& p : loop_.plantings) {
    BodyPlan<>& b = plan_.bodies[at(p.vessel)];
    const double covered = std::min(1.0, p.area.si() / loop_.vessels[at(p.vessel)].area.si());
    b.canopy = std::min(0.9, b.canopy + 0.6 * covered);  // leaves stop about six tenths over a crop's life
  }
  for (std::size_t v = 0; v < loop_.vessels.size(); ++v) {
    plan_.bodies[v].light = light_of(loop_.vessels[v], plan_.bodies[v]);
    plan_.bodies[v].light.lit_share *= loop_.unsure.algae;
  }
}

void Equations::plan_life() {
  for (std::size_t g = 0; g < loop_.fish.size(); ++g) {
    FishPlan<> plan;
    plan.count = std::max(loop_.fish[g].count, 1e-9);
    plan.usual = loop_.fish[g].mass;
    plan.matter = layout_.matter[g];
    plan.growth = loop_.fish[g].growth;
    plan.respiration = loop_.fish[g].respiration;
    const science::Species* species = science::find_species(loop_.fish[g].species);
    plan.species =
        species && species->growth && species->growth_temperatures ? species : science::find_species("rainbow trout");
    if (plan.species->feed_energy_kj_per_g)
      plan.feed_energy = science::EnergyDensity<>(plan.species->feed_energy_kj_per_g->middle() * 1e6);
    plan_.fish.push_back(plan);
  }
  for (const Planting& p : loop_.plantings) {
    CropPlan plan;
    const science::Crop* crop = science::find_crop(p.crop);
    const science::Crop* lettuce = science::find_crop("lettuce");
    const auto pick = [&](auto member) {
      return (crop && (crop->*member)()) ? (crop->*member)() : (lettuce->*member)();
    };
    plan.area = p.area;
    plan.temperatures = *pick(&science::Crop::temperatures);
    plan.to_harvest = *pick(&science::Crop::thermal_time_to_harvest);
    const science::NutrientContents contents = *pick(&science::Crop::contents);
    plan.nitrogen = contents.nitrogen;
    using namespace science::molar_mass;
    plan.minerals = {contents.phosphorus / phosphorus.si(), contents.potassium / potassium.si(),
                     contents.calcium / calcium.si(), contents.magnesium / magnesium.si(), contents.iron / iron.si()};
    if (crop && p.picked && crop->thermal_time_to_pick()) {
      plan.to_pick = *crop->thermal_time_to_pick();
      plan.pick_share = *crop->pick_share;
      plan.picks = static_cast<int>(crop->picks.value_or(1.0));
    }
    if (crop && crop->dry_share) plan.dry_share = *crop->dry_share;
    if (crop && crop->coefficients) plan.coefficients = *crop->coefficients;
    plan.light_share = 1.0 - loop_.vessels[at(p.vessel)].shade;
    crops_.push_back(plan);
  }
}

void Equations::plan_sources() {
  for (const Source& s : loop_.sources) {
    if (s.top_up == TopUp::none) continue;
    sources_.push_back({contents_of(s.water, forcing_.pressure), s.vessel, s.water.temperature});
  }
}

/// Overflows in the order of the water: an overflow's flow is what its vessel gains, so all that feeds the vessel
/// first.
void Equations::order_paths() {
  std::vector<FlowPath> ordered, waiting;
  for (const FlowPath& p : paths_) (p.by_overflow ? waiting : ordered).push_back(p);
  while (!waiting.empty()) {
    const auto ready = std::find_if(waiting.begin(), waiting.end(), [&](const FlowPath& p) {
      return std::none_of(waiting.begin(), waiting.end(),
                          [&](const FlowPath& other) { return other.to == p.from && other.from != p.from; });
    });
    // Overflows that feed each other in a ring have no first one; then their usual flows stand.
    const auto next = ready == waiting.end() ? waiting.begin() : ready;
    if (ready == waiting.end()) next->by_overflow = false;
    ordered.push_back(*next);
    waiting.erase(next);
  }
  paths_ = std::move(ordered);
  for (const FlowPath& p : paths_) {
    double all = 0.0;
    for (const FlowPath& other : paths_)
      if (other.by_overflow && other.from == p.from) all += other.flow.si();
    overflow_share_.push_back(p.by_overflow ? p.flow.si() / all : 0.0);
    if (p.by_overflow) plan_.bodies[at(p.from)].overflowing = Flow<>(all);
  }
}

void Equations::list_terms() {
  for (std::size_t b = 0; b < plan_.bodies.size(); ++b)
    for (const Process p : {Process::surface, Process::soil, Process::rain, Process::air_lines, Process::gas,
                            Process::film, Process::rotting, Process::algae, Process::limestone})
      terms_.push_back({p, b, b});
  for (std::size_t c = 0; c < crops_.size(); ++c) terms_.push_back({Process::crop, at(loop_.plantings[c].vessel), c});
  for (std::size_t g = 0; g < plan_.fish.size(); ++g) terms_.push_back({Process::fish, at(loop_.fish[g].vessel), g});
}

Contents<> contents_of(const WaterQuality& q, Pressure<> air) {
  Contents<> c = q.minerals;
  c.nitrogen_gas = gas_equilibrium(q.temperature, air).nitrogen;
  c.oxygen = q.dissolved_oxygen.si() > 0.0 ? q.dissolved_oxygen : gas_equilibrium(q.temperature, air).oxygen * 0.95;
  c.ammonia = q.ammonia;
  c.nitrite = q.nitrite;
  c.nitrate = q.nitrate;
  const Concentration<> alkalinity = alkalinity_of_charge(c);
  const auto weak = constants_of(c, q.temperature, ionic_strength_of(c, alkalinity));
  // Alkalinity is linear in the carbon: the part without carbon first, then what one mole adds.
  science::AcidBaseTotals<> totals{alkalinity, Concentration<>(0.0), c.ammonia, c.nitrite, c.phosphorus};
  const Concentration<> without = science::alkalinity_of(Number<>(q.pH), weak, totals);
  totals.inorganic_carbon = Concentration<>(1.0);
  const Concentration<> with_one = science::alkalinity_of(Number<>(q.pH), weak, totals);
  c.carbon = Concentration<>(std::max(0.0, (alkalinity - without).si() / (with_one - without).si()));
  return c;
}

void Equations::fill_water(const WaterQuality& q, std::size_t body, std::span<double> y) const {
  const BodySlots& slots = layout_.bodies[body];
  const double v = plan_.bodies[body].usual_water.si();
  const Contents<> contents = contents_of(q, forcing_.pressure);
  y[at(slots.water)] = v;
  y[at(slots.heat)] = (water_heat.si() * v + plan_.bodies[body].constants.stones.si()) * q.temperature.celsius();
  for (std::size_t i = 0; i < Contents<>::size; ++i)
    y[at(slots.carried) + i] = (contents.*Contents<>::members[i]).si() * v;
  y[at(slots.ammonia_film)] = y[at(slots.nitrite_film)] = loop_.film == Film::grown ? 1.0 : science::seed_of_film;
}

std::vector<double> Equations::initial_state() const {
  std::vector<double> y(layout_.size(), 0.0);
  for (std::size_t b = 0; b < plan_.bodies.size(); ++b) fill_water(loop_.water, b, y);
  fill_stores(y);
  for (std::size_t g = 0; g < plan_.fish.size(); ++g) {
    y[at(layout_.fish[g].biomass)] = loop_.fish[g].count * loop_.fish[g].mass.si();
    if (layout_.fish[g].count >= 0) y[at(layout_.fish[g].count)] = loop_.fish[g].count;
  }
  for (std::size_t c = 0; c < crops_.size(); ++c) plant(c, loop_.plantings[c].age, y);
  return y;
}

/// A transplant is 0.08 g dry, and has grown at the crop's pace since.
void Equations::plant(std::size_t c, Duration<> age, std::span<double> y) const {
  const double dry = loop_.plantings[c].places * 0.08e-3 * std::exp(std::min(0.12 * age.in(units::day), 4.0));
  y[at(layout_.plants[c].dry_mass)] = dry;
  y[at(layout_.plants[c].nitrogen)] = dry / crops_[c].dry_share * crops_[c].nitrogen / nitrogen_molar_kg;
  y[at(layout_.plants[c].thermal_time)] = 12.0 * age.si();
}

/// Timber between water and air; soil on a straight line from the water to the ground far out.
void Equations::fill_stores(std::span<double> y) const {
  const Surroundings<> s = forcing_.at(forcing_.start());
  const double water = loop_.water.temperature.celsius(), far = s.ground.celsius();
  for (std::size_t b = 0; b < plan_.bodies.size(); ++b) {
    const HeatPlan<>& plan = plan_.bodies[b].heat;
    std::size_t next = 0;
    for (const WallFace<>& wall : plan.walls)
      if (wall.store.si() > 0.0)
        y[at(layout_.stores[b].timber[next++])] = wall.store.si() * 0.5 * (water + s.air.celsius());
    double resistance = 0.0, all = 0.0;
    for (const Conductance<> crossing : plan.soil.crossings) all += 1.0 / crossing.si();
    for (std::size_t i = 0; i < plan.soil.layers.size(); ++i) {
      resistance += 1.0 / plan.soil.crossings[i].si();
      y[at(layout_.stores[b].soil[i])] = plan.soil.layers[i].si() * (water + (far - water) * resistance / all);
    }
  }
}

BodyState<double> Equations::body(std::size_t i, std::span<const double> y, double pH_guess) const {
  return body_state<double>(y, layout_.bodies[i], plan_.bodies[i].constants, pH_guess);
}

}  // namespace leat::model
