#include "answers/drawdown.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/drawdown_tank.h"
#include "science/fish/oxygen_drawdown.h"
#include "science/fish/potential.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;
using science::Exchange;

const Density<> kTroutNeed(5e-3), kTroutTarget(7e-3);
constexpr double kOxygenMolarMass = 0.031998;  // kg/mol

Duration<> from_now(Duration<> t, Duration<> since) {
  return t <= since ? Duration<>(0.0) : t - since;
}

/// The middle and both ends, each with demand and surface at once. A help is as sure as its rating, so only the surface
/// is spread.
TimeBand band_to(const StillTank& tank, Density<> level, Density<> from, double factor, double spread) {
  const auto at = [&](double demand, double surface) {
    return tank.to(level, from, factor * demand, {surface * tank.surface.flow, tank.surface.towards});
  };
  return {at(spread, 1.0 / kSurfaceSpread), at(1.0, 1.0), at(1.0 / spread, kSurfaceSpread)};
}

/// When nobody knows when it failed, the early ends count from when all was last seen well, the late one from now.
TimeBand counted_from_now(const TimeBand& t, const Drawdown& d) {
  return {from_now(t.soonest, d.since), from_now(t.likely, d.since),
          d.since_known ? from_now(t.latest, d.since) : t.latest};
}

TimeLeft time_left(const StillTank& tank, const Drawdown& d, FishState state, double factor) {
  TimeLeft t;
  t.state = state;
  t.factor = factor;
  t.to_low = band_to(tank, d.levels.low, d.oxygen, factor, d.demand_spread);
  t.to_danger = band_to(tank, d.levels.danger, d.oxygen, factor, d.demand_spread);
  t.to_low_now = counted_from_now(t.to_low, d);
  t.to_danger_now = counted_from_now(t.to_danger, d);
  t.oxygen_now = tank.after(d.since, d.oxygen, factor, tank.surface);
  const double rest = science::still_tank_oxygen(tank.saturation.si(), (tank.surface.flow / tank.water).si(),
                                                 (factor * tank.demand / tank.water).si());
  if (rest > 0.0) t.rests_at = Density<>(rest);
  return t;
}

const science::Species* species_of(const FishGroup& group) {
  return science::find_species(group.species);
}

bool lives_in(const FishGroup& group, std::size_t vessel) {
  return static_cast<std::size_t>(group.vessel) == vessel && group.count > 0.0 && group.mass.si() > 0.0;
}

bool said(const Loop& loop, std::string_view path) {
  return std::none_of(loop.assumptions.begin(), loop.assumptions.end(),
                      [&](const Assumption& assumed) { return assumed.path == path; });
}

/// The strictest of the species in the tank, danger at 0.6 of what they need; the grower's own limit in place of the
/// first.
OxygenLevels levels_of(const Loop& loop, std::size_t vessel) {
  OxygenLevels levels;
  for (const FishGroup& group : loop.fish) {
    if (!lives_in(group, vessel)) continue;
    const science::Species* s = species_of(group);
    const Density<> need = s && s->oxygen_min ? *s->oxygen_min : kTroutNeed;
    const Density<> full = s && s->oxygen_appetite_full ? *s->oxygen_appetite_full
                           : s && s->oxygen_target      ? *s->oxygen_target
                                                        : kTroutTarget;
    levels.feed_again = std::max(levels.feed_again, full);
    if (need <= levels.low) continue;
    levels.low = need;
    levels.danger = 0.6 * need;
    levels.source =
        s && s->oxygen_min
            ? fmt::format("{} mg/L is the least for {} (table of species)", mg_words(need), s->name)
            : fmt::format("{} mg/L as for trout, as there is no figure for {}", mg_words(need), group.species);
  }
  const Density<> own(loop.limits.oxygen_low.si() * kOxygenMolarMass);
  if (said(loop, "limits.dissolved_oxygen_low") && own > levels.danger) {
    levels.low = own;
    levels.source = fmt::format("{} mg/L is the limit of the loop file", mg_words(own));
  }
  levels.source += fmt::format("; {} mg/L, danger, is 0.6 of what the fish need", mg_words(levels.danger));
  return levels;
}

/// Fish that the water's own heat or cold kills, whatever the oxygen.
std::string beyond_bearing(const Loop& loop, std::size_t vessel, Temperature<> water) {
  std::string out;
  for (const FishGroup& group : loop.fish) {
    const science::Species* s = lives_in(group, vessel) ? species_of(group) : nullptr;
    if (s && s->lethal_high && water > *s->lethal_high)
      out += fmt::format(" {:.0f} degC itself kills {}: they bear {:.0f}.", water.celsius(), s->name,
                         s->lethal_high->celsius());
    if (s && s->lethal_low && water < *s->lethal_low)
      out += fmt::format(" {:.0f} degC itself kills {}: they bear {:.0f}.", water.celsius(), s->name,
                         s->lethal_low->celsius());
  }
  return out;
}

FishState state_by_meal(const DrawdownInput& input, Drawdown& d) {
  if (input.state) return *input.state;
  if (!input.fed_ago) {
    d.assumed.push_back("fish fed not long ago, as nobody said when");
    return FishState::fed;
  }
  const science::DigestingTimes times = science::digesting_times(d.temperature);
  return *input.fed_ago > times.done   ? FishState::fasted
         : *input.fed_ago > times.more ? FishState::usual
                                       : FishState::fed;
}

std::string lead(const Drawdown& d) {
  if (!d.since_known)
    return fmt::format("If it failed right after all was last seen well, {} ago. ", time_words(d.since));
  return d.since.si() < 60.0 ? "" : fmt::format("It failed {} ago. ", time_words(d.since));
}

/// "it falls to 5 mg/L", with the earliest end first.
std::string falls(const char* when, const TimeBand& t, Density<> level) {
  if (t.soonest.si() <= 0.0 && t.likely.si() <= 0.0) return fmt::format("{} mg/L is likely past", mg_words(level));
  if (t.soonest.si() <= 0.0)
    return fmt::format("{} mg/L may be past already, {}", mg_words(level),
                       std::isfinite(t.likely.si()) ? "likely in " + time_words(t.likely) : "though likely it holds");
  if (!std::isfinite(t.soonest.si())) return fmt::format("it never falls to {} mg/L", mg_words(level));
  return fmt::format("{} to {} mg/L at the earliest{}, {}", time_words(t.soonest), mg_words(level), when,
                     std::isfinite(t.likely.si()) ? "likely " + time_words(t.likely) : "likely never");
}

std::string sentence_start(FishState state) {
  std::string word(state_name(state));
  word[0] = static_cast<char>(word[0] - 'a' + 'A');
  return word;
}

std::string verdict_of(const Drawdown& d) {
  if (!d.has_fish) return "No fish in it.";
  if (!d.has_water) return "No water stays over the fish: move them now, into water of the same temperature.";
  const TimeLeft& t = *d.likely_left();
  if (t.oxygen_now <= d.levels.danger)
    return fmt::format("{}Oxygen is likely at {} mg/L by now, and {} is danger: air and buckets at once.", lead(d),
                       mg_words(t.oxygen_now), mg_words(d.levels.danger));
  std::string out =
      fmt::format("{}{} fish: {}; {}.", lead(d), sentence_start(t.state),
                  falls(" from now", t.to_danger_now, d.levels.danger), falls("", t.to_low_now, d.levels.low));
  if (t.rests_at && *t.rests_at > d.levels.danger)
    out += fmt::format(" What they take and what surface and air lines give meet at {} mg/L{}.", mg_words(*t.rests_at),
                       std::isfinite(t.to_danger.soonest.si()) ? ", but neither is known that well" : "");
  return out;
}

std::string band_words(const Drawdown& d) {
  if (d.sure)
    return fmt::format(
        "The ends are 5 and 95 % of {} draws of {} things that nobody knows: one time in twenty it is sooner than the "
        "first.",
        d.sure->how.members, d.sure->how.drawn.size());
  return fmt::format(
      "The band has both at their worst, then both at their best: uptake {:.1f} times either way ({}), surface half to "
      "double of 0.03 m/h (common practice; 0.02 in a calm by Cole & Caraco 1998). It is no probability.",
      d.demand_spread,
      d.demand_spread < 1.4 ? "Liao's law against a second fit and other powers of mass"
                            : "the error of the law's level, as nobody fitted this species");
}

void take_water(const Loop& loop, const DrawdownInput& input, Drawdown& d) {
  d.temperature = input.temperature.value_or(loop.water.temperature);
  if (!input.temperature && !loop.water.temperature_said)
    d.assumed.push_back(fmt::format("water at {:.1f} degC", d.temperature.celsius()));
  d.saturation = science::oxygen_saturation_mass(
      d.temperature, science::air_pressure_standard_atmosphere(loop.site.place.altitude), input.salinity);
  // Half a mg/L is what a kit is good for.
  const double off = input.beside.oxygen_at_start;
  const Density<> described(loop.water.dissolved_oxygen.si() * 31.998e-3);
  const bool by_file = !input.oxygen && loop.water.oxygen_said && described < 0.9 * d.saturation;  // the careful side
  d.oxygen = input.oxygen || by_file ? input.oxygen.value_or(described) + Density<>(0.5e-3 * off)
                                     : (0.9 + 0.06 * off) * d.saturation;
  d.oxygen = std::max(d.oxygen, Density<>(0.0));
  if (!input.oxygen)
    d.assumed.push_back(fmt::format("oxygen at {:.1f} mg/L when it failed, {}", 1e3 * d.oxygen.si(),
                                    by_file ? "as the loop's file has it" : "90 % of saturation"));
  if (input.air_exchange.si() > 0.0) d.assumed.push_back("its air line runs on");
  d.assumed.push_back("nothing but fish takes oxygen; sludge, and algae at night, shorten all times");
}

void add_states(const DrawdownInput& input, const StillTank& tank, Drawdown& d) {
  const science::DemandFactors f;
  for (const auto& [state, factor] : {std::pair{FishState::frightened, f.frightened},
                                      {FishState::fed, f.fed},
                                      {FishState::usual, f.usual},
                                      {FishState::fasted, science::demand_factor_fasted(d.temperature)}})
    d.states.push_back(time_left(tank, d, state, std::pow(factor, input.beside.meal)));
}

}  // namespace

std::string_view state_name(FishState state) {
  switch (state) {
    case FishState::frightened:
      return "frightened";
    case FishState::fed:
      return "fed";
    case FishState::usual:
      return "usual";
    case FishState::fasted:
      return "fasted";
  }
  return {};
}

std::string time_words(Duration<> time) {
  const double h = time.si() / 3600.0;
  if (!std::isfinite(h)) return "never";
  if (h > 24.0) return "over a day";
  return h < 0.995 ? fmt::format("{:.0f} min", 60.0 * h) : fmt::format("{:.1f} h", h);
}

std::string mg_words(Density<> oxygen) {
  const double tenths = std::round(1e4 * oxygen.si());
  return fmt::format("{:g}", tenths / 10.0);
}

const TimeLeft* Drawdown::likely_left() const {
  const auto found = std::find_if(states.begin(), states.end(), [&](const TimeLeft& t) { return t.state == likely; });
  return found == states.end() ? nullptr : &*found;
}

FishDemand fish_demand(const Loop& loop, std::size_t vessel, Temperature<> water) {
  FishDemand all;
  for (const FishGroup& group : loop.fish) {
    if (!lives_in(group, vessel)) continue;
    const science::Species* s = species_of(group);
    const bool own = s && s->oxygen_law != science::OxygenLaw::unsupported;
    if (!own)
      all.assumed.push_back(group.species + " take what trout take, as the table of species has no law for them");
    const auto uptake = own ? science::oxygen_uptake(*s, water, group.mass)
                            : science::oxygen_uptake_liao_blended(water, group.mass, science::liao_trout);
    all.rate += MassRate<>(group.respiration * group.count * group.mass.si() * uptake.si());
    all.spread = std::max(all.spread, own ? science::uptake_spread(s->oxygen_law) : 1.5);
  }
  return all;
}

Duration<> StillTank::to(Density<> level, Density<> from, double factor, const Exchange& by) const {
  return science::time_to_oxygen_level(from, level, by.towards, by.flow / water,
                                       factor * demand / water * Duration<>(1.0));
}

Density<> StillTank::after(Duration<> time, Density<> from, double factor, const Exchange& by) const {
  return science::still_tank_oxygen_after(from, by.towards, by.flow / water, factor * demand / water * Duration<>(1.0),
                                          time);
}

Duration<> StillTank::to_with_help(Density<> level, Density<> from, double factor, const Exchange& help,
                                   Duration<> ends) const {
  const Exchange by = science::both(surface, help);
  const Duration<> with = to(level, from, factor, by);
  if (with <= ends) return with;
  return ends + to(level, after(ends, from, factor, by), factor, surface);
}

StillTank still_tank(const DrawdownInput& input, const Drawdown& d) {
  const Flow<> surface = input.beside.still_surface * (input.open_surface * input.transfer);
  return {input.water, d.saturation, {surface + input.air_exchange, d.saturation}, d.demand};
}

Drawdown times_left(const Loop& loop, std::size_t v, const DrawdownInput& input) {
  Drawdown d;
  d.tank = loop.vessels[v].path;
  d.since = input.since;
  d.since_known = input.since_known;
  take_water(loop, input, d);
  const FishDemand demand = fish_demand(loop, v, d.temperature);
  d.demand = demand.rate;
  d.demand_spread = demand.spread;
  d.assumed.insert(d.assumed.end(), demand.assumed.begin(), demand.assumed.end());
  d.levels = levels_of(loop, v);
  d.has_fish = demand.rate.si() > 0.0;
  d.has_water = input.water.in(units::litre) >= 0.01;
  if (d.has_fish && d.has_water) {
    d.likely = state_by_meal(input, d);
    add_states(input, still_tank(input, d), d);
  }
  return d;
}

void tell_in_words(const Loop& loop, std::size_t v, const DrawdownInput& input, Drawdown& d) {
  if (!d.states.empty()) {
    d.band = band_words(d);
    add_actions(still_tank(input, d), input, d);
  }
  d.verdict = verdict_of(d) + beyond_bearing(loop, v, d.temperature);
}

Drawdown draw_down(const Loop& loop, std::size_t v, const DrawdownInput& input) {
  Drawdown d = times_left(loop, v, input);
  tell_in_words(loop, v, input, d);
  return d;
}

}  // namespace leat::answers
