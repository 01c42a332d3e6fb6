// How many fish, how much feed, how much bed: the arithmetic of a plan.
#pragma once

#include <cmath>

#include "base/units/quantity.h"
#include "science/crops/growth.h"
#include "science/fish/ramp.h"

namespace leat::science {

/// Feed per day for a number of fish: n W r.
inline MassRate<> daily_feed(double count, Mass<> fish, Frequency<> ration) {
  return MassRate<>(count * fish.si() * ration.si());
}

/// Fish that a daily feed can keep at a ration: F / r.
inline Mass<> biomass_from_feed(MassRate<> feed, Frequency<> ration) {
  return Mass<>(feed.si() / ration.si());
}

/// Feed per mass gained. Add deaths back to the gain for the biological ratio, leave them out for the economic one.
template <class Q>
Number<> feed_conversion_ratio(Q feed, Q gain) {
  return Number<>(feed.si() / gain.si());
}

/// Daily feed for a planted area.
///
/// ratio    feed per area and time            40 to 50 g/m2/d leaves, 50 to 80 fruit, for feed of 32 % protein
/// source   Somerville et al. 2014, FAO Fisheries Technical Paper 589
inline MassRate<> feed_from_area(ArealMassRate<> ratio, Area<> bed) {
  return ratio * bed;
}

/// The ratio for a feed of another protein share: ratio x 32 % / protein.
inline ArealMassRate<> feed_ratio_for_protein(ArealMassRate<> at_32_percent, double protein) {
  return at_32_percent * (0.32 / protein);
}

/// Sizes that belong together in a small loop.
struct LoopSizes {
  Mass<> fish;
  MassRate<> feed;
  Area<> plants;
};

/// Fish, feed and bed for a tank.
///
///   20 kg/m3, 1 % of body weight per day, 50 g per m2 and day
///
/// tank     volume of the fish tank           0.5 to 3 m3
/// returns  500 L: 10 kg, 100 g/d, 2 m2
/// source   FAO Fisheries Technical Paper 589, table 8.1, remembered
inline LoopSizes loop_sizes_fao(Volume<> tank) {
  const Mass<> fish = Density<>(20.0) * tank;
  const MassRate<> feed(fish.si() * 0.01 / units::day.si());
  return {fish, feed, Area<>(feed.in(units::gram / units::day) / 50.0)};
}

/// Mass of fish per volume at harvest: stock per volume x survival x mass.
inline Density<> harvest_density(double stocked_per_m3, double survival, Mass<> fish) {
  return Density<>(stocked_per_m3 * survival * fish.si());
}

/// Fish per year from one tank harvested at an interval.
inline MassRate<> annual_fish_yield(Density<> at_harvest, Volume<> tank, Duration<> interval) {
  return (at_harvest * tank) / interval;
}

/// Fish per volume by the density index of hatcheries.
///
///   density = D L        D in lb/ft3 per inch of length
///
/// index    0.15 to 0.30 in use, 0.5 the top
/// source   Piper et al. 1982
inline Density<> density_from_index(double index_lb_ft3_in, Length<> fish) {
  constexpr double lb_per_ft3 = 0.45359237 / (0.3048 * 0.3048 * 0.3048);
  return Density<>(index_lb_ft3_in * fish.in(Length<>(0.0254)) * lb_per_ft3);
}

/// Flow index at another oxygen of the inflow.
///
///   F' = F (O' - Omin) / (O - Omin)
///
/// source   Piper et al. 1982, p 70
inline Number<> flow_index_scaled(Number<> index, Density<> oxygen, Density<> oxygen_new, Density<> oxygen_min) {
  return Number<>(index.si() * ((oxygen_new - oxygen_min) / (oxygen - oxygen_min)).si());
}

/// Time until the oxygen of a tank without air falls to a floor.
///
///   (O - Omin) V / (r B)
///
/// uptake   mass of oxygen per mass of fish and time
/// returns  1 m3, 20 kg, 10 to 5 mg/L, 300 mg/kg/h: 50 min
/// error    leaves out the air that the surface still gives and what algae and bacteria take
inline Duration<> time_to_oxygen_floor(Density<> oxygen, Density<> floor, Volume<> tank, Mass<> fish,
                                       Frequency<> uptake) {
  return ((oxygen - floor) * tank) / MassRate<>(uptake.si() * fish.si());
}

/// Deaths per fish and time.
inline Frequency<> mortality_rate(double deaths, double fish_days) {
  return Frequency<>(deaths / (fish_days * units::day.si()));
}

/// Ammonia nitrogen that a square metre of grown-in film takes up per day: a rule for sizing, not a constant of the
/// model.
///
///   0.3 0.5 0.7 0.9 1.0 g/m2/d at 5 10 15 20 25 °C, straight between, held at the ends
///
/// error    a factor of two, for load and flow more than for area
/// source   On-line aquaculture dictionary, table of nitrification activity by temperature (a guide only)
inline ArealMassRate<> nitrification_rate_guide(Temperature<> water) {
  const double step = held_within((water.celsius() - 5.0) / 5.0, 0.0, 4.0);
  // The table gains 0.2 per step up to 20 °C and half of that in the last one.
  return (0.3 + 0.2 * step - 0.1 * positive_part(step - 3.0)) * gram_per_square_metre_day;
}

}  // namespace leat::science
