#include "answers/feed.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "science/fish/feeding.h"
#include "science/fish/species.h"
#include "science/gas/oxygen_saturation.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;

/// Table and growth rule must agree within this; else the smaller is taken (common practice).
constexpr double kGuard = 1.5;

const science::Species& species_of(const FishGroup& group) {
  const science::Species* found = science::find_species(group.species);
  return found ? *found : *science::find_species("rainbow trout");
}

double percent(Frequency<> ration) {
  return 100.0 * ration.si() * units::day.si();
}

/// Before any cut: what was stated, or table and rule with the guard between them.
double base_ration(const FishGroup& group, GroupFeed& g) {
  if (group.feed) {
    g.why.push_back(fmt::format("you feed {:.0f} g a day; they would take {:.0f} % of it at this warmth and oxygen",
                                1e3 * g.ration.a_day.si(), 100.0 * g.ration.eaten_share));
    return g.ration.a_day.si() * g.ration.eaten_share;
  }
  const double rule = g.ration.by_rule.si() * units::day.si() * g.biomass.si();
  const double table = g.ration.by_table.si() * units::day.si() * g.biomass.si();
  const bool trout = species_of(group).name == "rainbow trout";
  g.why.push_back(fmt::format("growth that this warmth and oxygen allow asks for {:.2g} % of their mass a day",
                              percent(g.ration.by_rule)));
  if (!trout) return rule;
  g.why.push_back(fmt::format("the feeding table for trout has {:.2g} %", percent(g.ration.by_table)));
  if (rule <= 0.0) return 0.0;
  const double apart = std::max(rule, table) / std::max(1e-12, std::min(rule, table));
  if (apart <= kGuard) return rule;
  g.why.push_back(fmt::format("they differ {:.1f} times, so the smaller is taken", apart));
  return std::min(rule, table);
}

/// Temperatures at which nothing is given.
bool too_warm_or_cold(const science::Species& s, Temperature<> water, GroupFeed& g) {
  if (s.feed_stop_low && water < *s.feed_stop_low) {
    g.why.push_back(fmt::format("below {:.0f} degC they are not fed", s.feed_stop_low->celsius()));
    return true;
  }
  if (s.feed_stop_high && water > *s.feed_stop_high) {
    g.why.push_back(fmt::format("above {:.0f} degC they are not fed: digesting takes oxygen that warm water lacks",
                                s.feed_stop_high->celsius()));
    return true;
  }
  return false;
}

double cut_for_water(const FeedRequest& r, const science::Species& s, Temperature<> water, const Limits& limits,
                     GroupFeed& g) {
  double share = 1.0;
  if (r.oxygen && s.oxygen_min && *r.oxygen < *s.oxygen_min) {
    g.why.push_back(fmt::format("oxygen at {:.1f} mg/L is below {:.1f}: nothing until it is back over 7",
                                1e3 * r.oxygen->si(), 1e3 * s.oxygen_min->si()));
    share = 0.0;
  }
  if (r.ammonia && r.pH) {
    const double toxic = science::unionised_ammonia_fraction(water, Number<>(*r.pH)).si() * r.ammonia->si();
    const double limit = limits.unionised_ammonia_high.si() * 14.007e-3;
    if (toxic > limit) {
      g.why.push_back(
          fmt::format("un-ionised ammonia at {:.3f} mg/L is over {:.4f}: nothing today", 1e3 * toxic, 1e3 * limit));
      share = 0.0;
    } else if (toxic > 0.5 * limit) {
      g.why.push_back("un-ionised ammonia is over half its limit: half the feed");
      share = std::min(share, 0.5);
    }
  }
  if (r.nitrite && r.nitrite->si() > limits.nitrite_high.si() * 14.007e-3) {
    g.why.push_back(fmt::format("nitrite at {:.2f} mg/L as N is over {:.2f}: nothing today", 1e3 * r.nitrite->si(),
                                14.007 * limits.nitrite_high.si()));
    share = 0.0;
  }
  if (r.left_over && share > 0.0) {
    g.why.push_back("feed was left at the last meal: a fifth less");
    share *= 0.8;
  }
  return share;
}

GroupFeed feed_group(const Loop& loop, const FishGroup& group, const FeedRequest& r, Temperature<> water,
                     Density<> oxygen) {
  GroupFeed g;
  g.path = group.path;
  g.species = group.species;
  g.biomass = group.count * group.mass;
  g.meals = group.meals.empty() ? std::vector<double>{9.0} : group.meals;
  g.ration = ration_of(group, g.biomass, water, Concentration<>(oxygen.si() / 31.998e-3));
  const science::Species& s = species_of(group);
  double today = base_ration(group, g);
  today *= too_warm_or_cold(s, water, g) ? 0.0 : cut_for_water(r, s, water, loop.limits, g);
  g.today = Mass<>(today);
  g.stop = today <= 0.0;
  g.share_of_mass = g.biomass.si() > 0.0 ? today / g.biomass.si() : 0.0;
  g.a_meal = g.today / static_cast<double>(g.meals.size());
  return g;
}

}  // namespace

namespace {

/// What was not read today, as the loop's file states it.
FeedRequest with_described(const WaterQuality& water, FeedRequest r, FeedAnswer& a) {
  const auto say = [&](const std::string& what) { a.assumed.push_back(what + ", as the loop's file has it"); };
  if (!r.oxygen && water.oxygen_said) {
    r.oxygen = Density<>(water.dissolved_oxygen.si() * 31.998e-3);
    say(fmt::format("oxygen at {:.1f} mg/L", 1e3 * r.oxygen->si()));
  }
  if (!r.ammonia && water.ammonia_said) {
    r.ammonia = Density<>(water.ammonia.si() * 14.007e-3);
    say(fmt::format("total ammonia at {:.2f} mg/L as N", 1e3 * r.ammonia->si()));
  }
  if (!r.pH && water.pH_said && r.ammonia) {
    r.pH = water.pH;
    say(fmt::format("pH {:.1f}", *r.pH));
  }
  if (!r.nitrite && water.nitrite_said) {
    r.nitrite = Density<>(water.nitrite.si() * 14.007e-3);
    say(fmt::format("nitrite at {:.2f} mg/L as N", 1e3 * r.nitrite->si()));
  }
  return r;
}

}  // namespace

FeedAnswer feed(const Loop& loop, const FeedRequest& asked) {
  FeedAnswer a;
  const FeedRequest r = with_described(loop.water, asked, a);
  a.loop_name = loop.name;
  a.temperature = r.temperature.value_or(loop.water.temperature);
  if (!r.temperature && !loop.water.temperature_said)
    a.assumed.push_back(fmt::format("water at {:.1f} degC; read the thermometer", a.temperature.celsius()));
  const Density<> full = science::oxygen_saturation_mass(
      a.temperature, science::air_pressure_standard_atmosphere(loop.site.place.altitude));
  const Density<> oxygen = r.oxygen.value_or(0.85 * full);
  if (!r.oxygen) a.assumed.push_back(fmt::format("oxygen at {:.1f} mg/L, 85 % of saturation", 1e3 * oxygen.si()));
  if (!r.ammonia || !r.pH)
    a.assumed.push_back("ammonia within its limit, since total ammonia and pH were not both said");
  for (const FishGroup& group : loop.fish) a.groups.push_back(feed_group(loop, group, r, a.temperature, oxygen));
  a.stop_rules = {"stop as soon as pellets sink past them", "nothing when fish gasp, or when oxygen is under 5 mg/L",
                  "nothing on the day before and after fish are moved or graded", "nothing while the power is off"};
  return a;
}

}  // namespace leat::answers
