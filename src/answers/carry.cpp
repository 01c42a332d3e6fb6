#include "answers/carry.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/carry_year.h"
#include "model/simulate/feeding.h"
#include "model/simulate/simulate.h"
#include "science/fish/oxygen_demand.h"
#include "science/fish/oxygen_drawdown.h"
#include "science/fish/species.h"
#include "science/gas/aeration.h"
#include "science/nitrogen/nitrification.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/pressure.h"

namespace leat::answers {
namespace {

using namespace model;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// The water of one week: of each vessel, of the fish tanks together, and the warmest hour of these.
struct WeekWater {
  std::vector<Temperature<>> vessels;
  Temperature<> tanks, warmest;
};

/// Feed a day over live mass, by the rule that `feed` goes by; nothing is fed where it is too warm or too cold.
double ration(const CarryStock& stock, Temperature<> water) {
  FishGroup one = stock.group;
  one.feed = std::nullopt;
  const Ration r = ration_of(one, one.count * one.mass, water, Concentration<>(9e-3 / 31.998e-3));
  return r.by_rule.si() * units::day.si();
}

/// Live mass whose breath after a meal the flows and air lines of all tanks cover, each tank at its limit.
double by_oxygen(const Loop& loop, const CheckAnswer& check, const CarryStock& stock, const BesideLoop& beside,
                 Temperature<> water) {
  const double full =
      science::oxygen_saturation_mass(water, science::air_pressure_standard_atmosphere(loop.site.place.altitude)).si();
  const double limit = loop.limits.oxygen_low.si() * 31.998e-3;
  const double back = std::min(1.0, 0.95 + 0.04 * beside.oxygen_back);
  double brought = 0.0;  // kg/s
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    if (loop.vessels[v].kind != VesselKind::tank) continue;
    brought += beside.flow * check.vessels[v].through.si() * (back * full - limit);
    for (const AirLine& air : loop.airs)
      if (at(air.vessel) == v)
        brought += science::exchange_flow_of_air_stone(air.flow,
                                                       Number<>(std::min(1.0, air.transfer_per_metre * air.depth.si())))
                       .si() *
                   (full - limit);
  }
  const double demand = stock.group.respiration * science::DemandFactors{}.fed *
                        science::oxygen_uptake_liao_blended(water, stock.group.mass, science::liao_trout).si();
  return std::max(0.0, brought) / demand;
}

/// Live mass whose ammonia all the film turns over with the ammonia at its own limit.
double by_film(const Loop& loop, const CarryStock& stock, const WeekWater& week, double fed) {
  const Temperature<> water = week.tanks;
  const double share = science::unionised_ammonia_fraction(water, Number<>(loop.water.pH)).si();
  const double limit =
      std::min(1e-3 / 14.007e-3, loop.limits.unionised_ammonia_high.si() / share);  // mol/m3, 1 mg/L at most
  double turned = 0.0;                                                              // mol/s
  for (std::size_t v = 0; v < loop.vessels.size(); ++v) {
    const Number<> factors = science::film_temperature_factor(week.vessels[v]) *
                             science::nitrification_acidity_factor(Number<>(loop.water.pH));
    turned += (science::nitrification_rate(science::ammonia_film, Concentration<>(limit),
                                           Concentration<>(6e-3 / 31.998e-3), factors) *
               loop.vessels[v].film_area)
                  .si();
  }
  const double made = fed * stock.protein * 0.092 / 14.007e-3 / units::day.si();  // mol/s and kg
  return made > 0.0 ? turned / made : 1e9;
}

double by_space(const Loop& loop, const CarryStock& stock) {
  const double most = stock.species.stocking_simple ? stock.species.stocking_simple->si() : 10.0;
  double water = 0.0;
  for (const Vessel& v : loop.vessels)
    if (v.kind == VesselKind::tank) water += v.capacity().si();
  return most * water;
}

CarryWeek week_of(const Loop& loop, const CheckAnswer& check, const CarryStock& stock, const BesideLoop& beside,
                  CivilDate first, const WeekWater& water) {
  CarryWeek w;
  w.first = first;
  w.water = water.tanks;
  w.warmest = water.warmest;
  w.ration = ration(stock, water.tanks);
  w.limits = {{"oxygen", by_oxygen(loop, check, stock, beside, water.tanks)},
              {"film", by_film(loop, stock, water, w.ration)},
              {"space", by_space(loop, stock)}};
  // What kills is said of days, so it is held against the week; the warmest hour is told.
  if (stock.species.lethal_high && water.tanks > *stock.species.lethal_high) w.limits.push_back({"warmth", 0.0});
  std::sort(w.limits.begin(), w.limits.end(), [](const CarryLimit& a, const CarryLimit& b) { return a.kg < b.kg; });
  return w;
}

/// Mean air of seven days from `day` on, for weeks whose water could not be run.
Temperature<> mean_of_week(const Weather& weather, std::size_t day) {
  double sum = 0.0;
  std::size_t count = 0;
  for (std::size_t d = day; d < std::min(day + 7, weather.days.size()); ++d, ++count)
    sum += 0.5 * (weather.days[d].low.celsius() + weather.days[d].high.celsius());
  return Temperature<>::from_celsius(std::max(1.0, sum / static_cast<double>(std::max<std::size_t>(count, 1))));
}

/// The tanks that fish live in; where none do, all tanks.
std::vector<std::size_t> fish_tanks(const Loop& loop) {
  std::vector<std::size_t> tanks;
  for (const FishGroup& g : loop.fish) tanks.push_back(at(g.vessel));
  for (std::size_t v = 0; v < loop.vessels.size() && loop.fish.empty(); ++v)
    if (loop.vessels[v].kind == VesselKind::tank) tanks.push_back(v);
  return tanks;
}

/// One week out of the run: means of each day's coldest and warmest.
WeekWater week_of_water(const Loop& loop, const AheadAnswer& run, std::size_t day) {
  WeekWater week;
  for (const VesselAhead& v : run.vessels) {
    double sum = 0.0;
    for (std::size_t d = day; d < day + 7; ++d)
      sum += 0.5 * (v.days[d].temperature_low.value + v.days[d].temperature_high.value);
    week.vessels.push_back(Temperature<>::from_kelvin(sum / 7.0));
  }
  double sum = 0.0, warmest = 0.0, water = 0.0;
  for (const std::size_t v : fish_tanks(loop)) {
    const double volume = loop.vessels[v].capacity().si();
    sum += volume * week.vessels[v].kelvin();
    water += volume;
    for (std::size_t d = day; d < day + 7; ++d)
      warmest = std::max(warmest, run.vessels[v].days[d].temperature_high.value);
  }
  week.tanks = Temperature<>::from_kelvin(water > 0.0 ? sum / water : week.vessels.front().kelvin());
  week.warmest = Temperature<>::from_kelvin(water > 0.0 ? warmest : week.tanks.kelvin());
  return week;
}

}  // namespace

Loop water_alone(Loop loop) {
  loop.fish.clear();
  loop.fish_to_come.clear();
  loop.deeds = {};
  for (Vessel& v : loop.vessels) v.film_area = Area<>(0.0);
  if (loop.sources.empty()) {
    Source tap;
    tap.path = "source.assumed";
    tap.water = loop.water;
    for (std::size_t v = loop.vessels.size(); v-- > 0;)
      if (loop.vessels[v].kind == VesselKind::sump) tap.vessel = static_cast<int>(v);
    loop.sources.push_back(tap);
  }
  return loop;
}

CarryStock stock_of(const Loop& loop) {
  FishGroup group;
  if (loop.fish.empty()) {
    group.species = "rainbow trout";
    group.count = 1.0;
    group.mass = Mass<>(0.150);
  } else {
    group = loop.fish.front();
  }
  const science::Species* found = science::find_species(group.species);
  return {group, found ? *found : *science::find_species("rainbow trout"), group.feed_protein};
}

CarryYear carry_year(const Loop& loop, const CheckAnswer& check, const Weather& weather, CivilDate first,
                     const AheadAnswer& year, const BesideLoop& beside) {
  const CarryStock stock = stock_of(loop);
  CarryYear all;
  for (int w = 0; w < kCarryWeeks; ++w) {
    const std::size_t day = at(7 * w);
    const bool ran =
        year.dates.size() >= day + (year.finished ? 7 : 8);  // the last day of a run cut short is not whole
    const Temperature<> air = mean_of_week(weather, day);
    all.weeks_of_air += !ran;
    all.weeks.push_back(
        week_of(loop, check, stock, beside, first.plus_days(7 * w),
                ran ? week_of_water(loop, year, day) : WeekWater{std::vector(loop.vessels.size(), air), air, air}));
  }
  const auto tightest = std::min_element(
      all.weeks.begin(), all.weeks.end(),
      [](const CarryWeek& x, const CarryWeek& y) { return x.limits.front().kg < y.limits.front().kg; });
  all.tightest = static_cast<std::size_t>(tightest - all.weeks.begin());
  return all;
}

CarryAnswer carry(const Loop& loop, const Weather& weather, CivilDate first, const CarryDraws& draws) {
  CarryAnswer a;
  a.loop_name = loop.name;
  const CarryStock stock = stock_of(loop);
  if (loop.fish.empty()) a.assumed.push_back("no fish are described: trout of 150 g");
  a.species = stock.group.species;
  a.one_fish = stock.group.mass;
  a.kills_above = stock.species.lethal_high;
  for (const FishGroup& g : loop.fish) a.now += g.count * g.mass;
  const CheckAnswer plumbing = check(loop);
  const AheadAnswer run = ahead(water_alone(loop), weather, {first, 7 * kCarryWeeks, false});
  CarryYear year = carry_year(loop, plumbing, weather, first, run);
  a.weeks = std::move(year.weeks);
  a.weeks_of_air = year.weeks_of_air;
  a.tightest = year.tightest;
  a.all_year_kg = a.weeks[a.tightest].limits.front().kg;
  double hungriest = 0.0;
  for (const CarryWeek& w : a.weeks) hungriest = std::max(hungriest, w.ration * a.all_year_kg * 1e3);  // g/d
  a.bed_least = Area<>(hungriest / 100.0);
  a.bed_most = Area<>(hungriest / 40.0);
  for (const Vessel& v : loop.vessels)
    if (v.kind == VesselKind::raft_bed || v.kind == VesselKind::gravel_bed) a.bed += v.area;
  if (!draws.years.empty() && run.finished) a.sure = carry_surely(loop, plumbing, first, draws, a);
  a.assumed.push_back(
      "the loop's own water is run through one generated or recorded year, without its fish; years differ");
  if (a.weeks_of_air > 0)
    a.assumed.push_back(
        fmt::format("{} weeks could not be run and are taken as warm as their mean air: {}", a.weeks_of_air, run.said));
  a.assumed.push_back(
      "water that comes back near saturation: what beds and solids take of its oxygen first is not counted here, leat "
      "ahead counts it");
  a.assumed.push_back(fmt::format("pH {:.1f}, the film grown in full and evenly reached", loop.water.pH));
  return a;
}

}  // namespace leat::answers
