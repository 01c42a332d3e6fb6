#include "answers/ahead_run.h"

#include <algorithm>

#include "answers/in_water.h"

namespace leat::answers {
namespace {

using namespace model;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Turns one trajectory into the plain rows of the answer.
class Telling {
  const Loop& loop_;
  const Equations& equations_;
  const Forcing& forcing_;
  const Trajectory& run_;
  AheadAnswer& a_;

  double local_hour(Instant t) const { return loop_.site.place.clock.local(t).hour; }

  /// Which day of the answer each hour's sample belongs to; the first sample of a day is its midnight.
  std::vector<std::size_t> day_of_ = days_of_hours();

  std::vector<std::size_t> days_of_hours() const {
    std::vector<std::size_t> days;
    std::size_t d = 0;
    for (const Instant hour : run_.hours) {
      const CivilDate date = loop_.site.place.clock.local(hour).date;
      while (d + 1 < run_.days.size() && run_.days[d].date < date) ++d;
      days.push_back(d);
    }
    return days;
  }

  void start_day(VesselDay& day, const BodyDay& seen) const {
    day.temperature_low = {seen.temperature.low + 273.15, local_hour(seen.temperature.low_at)};
    day.temperature_high = {seen.temperature.high + 273.15, local_hour(seen.temperature.high_at)};
    day.swing = seen.temperature.swing();
    day.oxygen_low = {seen.oxygen.low, local_hour(seen.oxygen.low_at)};
    day.pH_low = 99.0;
    day.pH_high = -99.0;
  }

  void add_sample(VesselDay& day, const BodyState<double>& s, Instant t, double weight) const {
    day.ammonia += s.ammonia.si() * weight;
    day.nitrite += s.nitrite.si() * weight;
    day.nitrate += s.nitrate.si() * weight;
    if (s.unionised_ammonia.si() > day.unionised_ammonia_high.value)
      day.unionised_ammonia_high = {s.unionised_ammonia.si(), local_hour(t)};
    const GasEquilibrium<double> full = gas_equilibrium(s.temperature, forcing_.pressure);
    const double pressure =
        science::total_gas_pressure(Number<>((s.oxygen / full.oxygen).si()),
                                    Number<>((s.nitrogen_gas / full.nitrogen).si()), s.temperature, forcing_.pressure)
            .si();
    if (pressure > day.gas_pressure_high.value) day.gas_pressure_high = {pressure, local_hour(t)};
    day.pH_low = std::min(day.pH_low, s.pH.si());
    day.pH_high = std::max(day.pH_high, s.pH.si());
    day.carbon_dioxide_high = std::max(day.carbon_dioxide_high, s.carbon_dioxide.si());
    day.alkalinity = s.alkalinity.si();
  }

  VesselAhead vessel(std::size_t v) const {
    VesselAhead r;
    r.path = loop_.vessels[v].path;
    r.dry = equations_.usual_water(v) < 0.05 * loop_.vessels[v].capacity();
    r.days.resize(run_.days.size());
    for (std::size_t d = 0; d < run_.days.size(); ++d) start_day(r.days[d], run_.days[d].bodies[v]);
    std::vector<double> samples(run_.days.size(), 0.0);
    for (std::size_t h = 0; h < run_.hours.size(); ++h) samples[day_of_[h]] += 1.0;
    for (std::size_t h = 0; h < run_.hours.size(); ++h) {
      const BodyState<double> s = equations_.body(v, run_.states[h], run_.pH[h][v]);
      const std::size_t d = day_of_[h];
      add_sample(r.days[d], s, run_.hours[h], 1.0 / samples[d]);
      r.hourly_temperature.push_back(s.temperature.kelvin());
      r.hourly_oxygen.push_back(s.oxygen.si());
    }
    for (VesselDay& day : r.days) {
      const auto warm = Temperature<>::from_kelvin(0.5 * (day.temperature_low.value + day.temperature_high.value));
      day.oxygen_low_share = day.oxygen_low.value / gas_equilibrium(warm, forcing_.pressure).oxygen.si();
    }
    return r;
  }

  /// A slot at the end of each day.
  std::vector<double> day_ends(int slot) const {
    std::vector<double> ends(run_.days.size(), run_.states.front()[at(slot)]);
    for (std::size_t h = 1; h < run_.hours.size(); ++h) ends[day_of_[h - 1]] = run_.states[h][at(slot)];
    return ends;
  }

  /// Nitrogen that was cut out of a planting, less that of the seedlings set in its place.
  double cut_away(std::size_t planting) const {
    const CropPlan& crop = equations_.crop(planting);
    std::vector<double> seedlings(equations_.layout().size(), 0.0);
    equations_.plant(planting, Duration<>(0.0), seedlings);
    double sum = 0.0;
    for (const Harvest& h : run_.harvests)
      if (h.planting == planting)
        sum += h.fresh.si() * crop.nitrogen / nitrogen_molar_kg -
               (h.whole ? seedlings[at(equations_.layout().plants[planting].nitrogen)] : 0.0);
    return sum;
  }

  void tell_life() const {
    const Layout& layout = equations_.layout();
    for (std::size_t g = 0; g < loop_.fish.size(); ++g) {
      const FishGroup& group = loop_.fish[g];
      FishAhead f{group.path, group.species, group.count, {}, {}, group.mass.si()};
      const std::vector<double> biomass = day_ends(layout.fish[g].biomass);
      f.counts.assign(run_.days.size(), group.count);
      if (layout.fish[g].count >= 0) f.counts = day_ends(layout.fish[g].count);
      for (std::size_t d = 0; d < biomass.size(); ++d)
        f.mean_mass.push_back(
            layout.fish[g].count >= 0 && f.counts[d] < 0.5 ? 0.0 : biomass[d] / std::max(f.counts[d], 1e-9));
      f.fed.assign(run_.days.size(), 0.0);
      for (std::size_t d = 0; d < run_.days.size(); ++d) f.fed[d] = run_.days[d].fed_kg[g];
      a_.fish.push_back(std::move(f));
    }
    for (std::size_t c = 0; c < loop_.plantings.size(); ++c) {
      const PlantSlots& slots = layout.plants[c];
      PlantsAhead p{loop_.plantings[c].path, loop_.plantings[c].crop, {}, 0.0, {}, {}};
      for (const Harvest& h : run_.harvests)
        if (h.planting == c) p.harvests.push_back({loop_.site.place.clock.local(h.when).date, h.fresh.si(), h.whole});
      for (const double dry : day_ends(slots.dry_mass)) p.fresh_mass.push_back(dry / equations_.crop(c).dry_share);
      p.nitrogen_taken = run_.states.back()[at(slots.nitrogen)] - run_.states.front()[at(slots.nitrogen)] + cut_away(c);
      const std::vector<double> warmth = day_ends(slots.thermal_time);
      for (std::size_t d = 0; d < warmth.size() && !p.ready_in_days; ++d)
        if (warmth[d] >= equations_.crop(c).to_harvest.si()) p.ready_in_days = static_cast<int>(d) + 1;
      a_.plants.push_back(std::move(p));
    }
  }

  static void add_line(std::vector<LedgerLine>& lines, const std::string& account, double amount) {
    for (LedgerLine& line : lines)
      if (line.account == account) {
        line.amount += amount;
        return;
      }
    lines.push_back({account, amount});
  }

  /// What part of the loop a slot belongs to.
  static std::string part_of(const std::string& path) {
    const std::string word = path.substr(path.rfind('.') + 1);
    if (path.starts_with("fish.")) return "in fish";
    if (path.starts_with("planting.")) return "in plants";
    if (word.starts_with("solids")) return "in solids";
    if (word == "algae") return "in algae";
    return word.starts_with("heat_") ? "in timber and ground" : "in the water";
  }

  void tell_water() const {
    std::vector<std::vector<double>> ends(run_.days.size(), run_.states.front());
    for (std::size_t h = 1; h < run_.hours.size(); ++h) ends[day_of_[h - 1]] = run_.states[h];
    a_.in_water = in_water(loop_, equations_, run_.states.front(), ends);
  }

  void tell_books() const {
    const Layout& layout = equations_.layout();
    for (const Ledger ledger : kLedgers) {
      const auto l = static_cast<std::size_t>(ledger);
      LedgerTable t{ledger, 0.0, 0.0, {}, {}, run_.books.closure[l]};
      for (std::size_t i = 0; i < layout.slots.size(); ++i) {
        const Slot& slot = layout.slots[i];
        if (slot.contents[l] == 0.0) continue;
        const double start = slot.contents[l] * run_.books.opening[i], end = slot.contents[l] * run_.books.closing[i];
        if (slot.outside) {
          add_line(t.lines, slot.path.substr(8, slot.path.rfind('.') - 8), start - end);  // outside.NAME.ledger
        } else {
          add_line(t.kept, part_of(slot.path), end - start);
          t.stock_start += start;
          t.stock_end += end;
        }
      }
      a_.books.push_back(std::move(t));
    }
  }

 public:
  Telling(const Loop& loop, const Equations& equations, const Forcing& forcing, const Trajectory& run, AheadAnswer& a)
      : loop_(loop), equations_(equations), forcing_(forcing), run_(run), a_(a) {}

  void tell() const {
    a_.counts = run_.counts;
    a_.states = equations_.layout().size();
    a_.finished = run_.finished;
    a_.said = run_.said;
    if (run_.days.empty()) return;  // it stopped within its first step: there is nothing but the reason
    for (const Day& day : run_.days) a_.dates.push_back(day.date);
    for (std::size_t v = 0; v < loop_.vessels.size(); ++v) a_.vessels.push_back(vessel(v));
    tell_life();
    tell_water();
    tell_books();
    a_.happenings = run_.happenings;
    a_.deeds = run_.deeds;
    a_.moved = run_.moved;
  }
};

}  // namespace

namespace {

Instant start_of(const Loop& loop, const AheadRequest& request) {
  return loop.site.place.clock.instant({request.first, 0.0});
}
Instant end_of(const Loop& loop, const AheadRequest& request) {
  return loop.site.place.clock.instant({request.first.plus_days(request.days), 0.0});
}

RunOptions options_of(const AheadRequest& request) {
  RunOptions options;
  options.resow = request.resow;
  options.given = request.given;
  options.given_until = request.given_until;
  options.hold_alkalinity = request.hold_alkalinity;
  return options;
}

}  // namespace

AheadAnswer run_ahead(const Loop& loop, const Plumbing& plumbing, const Settled& running, const Weather& weather,
                      const AheadRequest& request) {
  const auto only = [&](std::size_t) { return MemberInput{loop, weather}; };
  return std::move(run_ahead_together(loop, plumbing, running, request, 1, only, alone_tolerance).front());
}

AheadAnswer run_ahead(const Loop& loop, const Plumbing& plumbing, RunningWater& running, const Weather& weather,
                      const AheadRequest& request) {
  if (running.how == Pulsed::mean) return run_ahead(loop, plumbing, running.water, weather, request);
  const Forcing forcing(loop.site, weather);
  const Equations equations(loop, plumbing, running.water, forcing, *running.pulses, running.how);
  RunOptions options = options_of(request);
  options.pulses = &*running.pulses;
  const Trajectory run = simulate(loop, equations, start_of(loop, request), end_of(loop, request), options);
  if (!run.not_by_cycles.empty()) {
    running.not_by_cycles = run.not_by_cycles;
    running.how = Pulsed::mean;
    return run_ahead(loop, plumbing, running, weather, request);
  }
  AheadAnswer a;
  Telling(loop, equations, forcing, run, a).tell();
  return a;
}

std::vector<AheadAnswer> run_ahead_together(const Loop& loop, const Plumbing& plumbing, const Settled& running,
                                            const AheadRequest& request, std::size_t members,
                                            const std::function<MemberInput(std::size_t)>& make, double tolerance) {
  std::vector<AheadAnswer> all(members);
  const auto take = [&](std::size_t m, const Loop& member, const Equations& equations, const Forcing& forcing,
                        const Trajectory& run) { Telling(member, equations, forcing, run, all[m]).tell(); };
  simulate_together({plumbing, running, start_of(loop, request), end_of(loop, request), options_of(request), members,
                     make, take, tolerance});
  return all;
}

}  // namespace leat::answers
