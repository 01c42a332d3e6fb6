#include "answers/drawdown.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/check_study.h"
#include "science/fish/oxygen_demand.h"
#include "science/fish/oxygen_drawdown.h"
#include "science/gas/oxygen_saturation.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;

constexpr double kPerHour = 3600.0;
const Density<> kFive(5e-3), kThree(3e-3);

double grams_an_hour(double kg_per_second) {
  return kg_per_second * 1e3 * kPerHour;
}

/// What does not depend on the state of the fish.
struct StillTank {
  Density<> oxygen, saturation;
  Frequency<> exchange;
  double demand_per_volume = 0.0;  ///< kg/m3/s at factor 1

  Duration<> to(Density<> level, double factor, double surface = 1.0) const {
    return science::time_to_oxygen_level(oxygen, level, saturation, surface * exchange,
                                         Density<>(factor * demand_per_volume));
  }
};

TimeLeft time_left(const StillTank& tank, const char* state, double factor) {
  TimeLeft t{state, factor, {}, {}, {}, {}, {}, {}};
  const double soon = factor * kDemandBand, late = factor / kDemandBand;
  t.to_five = tank.to(kFive, factor);
  t.to_five_soonest = tank.to(kFive, soon, 1.0 / kSurfaceBand);
  t.to_five_latest = tank.to(kFive, late, kSurfaceBand);
  t.to_three = tank.to(kThree, factor);
  t.to_three_soonest = tank.to(kThree, soon, 1.0 / kSurfaceBand);
  t.to_three_latest = tank.to(kThree, late, kSurfaceBand);
  return t;
}

std::string hours(Duration<> t) {
  if (!std::isfinite(t.si())) return "never";
  return t.si() < 5400.0 ? fmt::format("{:.0f} min", t.si() / 60.0) : fmt::format("{:.1f} h", t.si() / 3600.0);
}

/// Small kits with coarse stones to fine diffusers, rated in kg of oxygen for a kWh (common practice; Boyd 1998 has 0.9
/// for diffused air).
constexpr double kPoorKit = 0.2, kUsualKit = 0.5, kFineStone = 0.92;

Action air_by_battery(const StillTank& tank, const DrawdownInput& input, Temperature<> water, double need) {
  const double left = science::transfer_left(water, tank.saturation, kFive);
  const auto gives = [&](double rated) { return input.battery_air.si() * rated / 3.6e6 * left; };
  Action a{"air by battery", {}, {}};
  a.why = fmt::format(
      "{:.0f} W through a small kit gives {:.2g} to {:.2g} g of oxygen an hour at 5 mg/L, through a fine stone "
      "up to {:.2g}: {:.0f} to {:.0f} % of what fed fish take; it buys time and may not hold",
      input.battery_air.si(), grams_an_hour(gives(kPoorKit)), grams_an_hour(gives(kUsualKit)),
      grams_an_hour(gives(kFineStone)), 100.0 * gives(kPoorKit) / need, 100.0 * gives(kFineStone) / need);
  if (input.battery)
    a.why += fmt::format("; the battery lasts {:.0f} h", (*input.battery / input.battery_air).si() / 3600.0);
  a.caution = "keep battery and inverter above and away from the water; never run a generator indoors, its fumes kill";
  return a;
}

Action buckets(const StillTank& tank, double need) {
  const double each = 0.010, an_hour = 20.0, there = 0.95 * tank.saturation.si();
  const double gives = each * an_hour * (there - kFive.si()) / kPerHour;
  return {
      "buckets from the raft bed or the sump",
      fmt::format("{:.0f} of {:.0f} L an hour, at {:.1f} mg/L, bring {:.2g} g an hour: {:.0f} % of what calm fish take",
                  an_hour, 1e3 * each, 1e3 * there, grams_an_hour(gives), 100.0 * gives / need),
      "pour slowly from a height, well away from the fish"};
}

void add_actions(const StillTank& tank, const DrawdownInput& input, Temperature<> water, double demand, Drawdown& d) {
  const science::DemandFactors factors;
  d.actions.push_back({"give no feed",
                       fmt::format("fasted fish have {} to 3 mg/L, fed ones {}", hours(tank.to(kThree, factors.fasted)),
                                   hours(tank.to(kThree, factors.fed))),
                       {}});
  d.actions.push_back({"keep hands and nets out",
                       fmt::format("frightened fish have {} to 3 mg/L", hours(tank.to(kThree, factors.frightened))),
                       {}});
  d.actions.push_back(air_by_battery(tank, input, water, factors.fed * demand));
  d.actions.push_back(buckets(tank, demand));
  if (input.comes_back.in(units::litre) >= 1.0)
    d.actions.push_back({"stand clear of the sump's brim",
                         fmt::format("{:.0f} L come back to it from beds and rims", input.comes_back.in(units::litre)),
                         {}});
  if (input.vent_in_doubt)
    d.actions.push_back(
        {"look at the vent of the overflow",
         fmt::format("closed, it siphons the tank down to its floor: {:.0f} L", input.water.in(units::litre)),
         {}});
  d.actions.push_back({"cool the water only with ice of clean water in a closed bag",
                       "colder water holds more and fish take less", "ice and water from the tap may hold chlorine"});
  d.actions.push_back({"when the power is back: one pump first, then watch each siphon",
                       "they have lost their prime; give no feed before oxygen is over 7 mg/L",
                       {}});
}

/// Saturation of fresh water at the site's height.
Density<> saturation_at(const Loop& loop, Temperature<> water) {
  return science::oxygen_saturation_mass(water, science::air_pressure_standard_atmosphere(loop.site.place.altitude));
}

}  // namespace

Drawdown draw_down(const Loop& loop, std::size_t v, const DrawdownInput& input) {
  Drawdown d;
  d.tank = loop.vessels[v].path;
  d.temperature = input.temperature.value_or(loop.water.temperature);
  if (!input.temperature && !loop.water.temperature_said)
    d.assumed.push_back(fmt::format("water at {:.1f} degC", d.temperature.celsius()));
  d.saturation = saturation_at(loop, d.temperature);
  d.oxygen = input.oxygen.value_or(0.9 * d.saturation);
  if (!input.oxygen)
    d.assumed.push_back(fmt::format("oxygen at {:.1f} mg/L when it failed, 90 % of saturation", 1e3 * d.oxygen.si()));
  double demand = 0.0;  // kg/s
  for (const FishGroup& group : loop.fish)
    if (static_cast<std::size_t>(group.vessel) == v)
      demand += group.count * group.mass.si() *
                science::oxygen_uptake_liao_blended(d.temperature, group.mass, science::liao_trout).si();
  d.demand = MassRate<>(demand);
  d.has_fish = demand > 0.0;
  if (!d.has_fish || input.water.si() <= 1e-6) return d;
  const StillTank tank{d.oxygen, d.saturation, (input.open_surface * input.transfer + input.air_exchange) / input.water,
                       demand / input.water.si()};
  if (input.air_exchange.si() > 0.0) d.assumed.push_back("its air line runs on");
  const science::DemandFactors f;
  for (const auto& [state, factor] :
       {std::pair{"frightened", f.frightened}, {"fed", f.fed}, {"usual", f.usual}, {"fasted", f.fasted}})
    d.states.push_back(time_left(tank, state, factor));
  add_actions(tank, input, d.temperature, demand, d);
  return d;
}

}  // namespace leat::answers
