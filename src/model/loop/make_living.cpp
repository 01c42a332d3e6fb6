// Fish and plants.
#include <algorithm>
#include <cmath>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/crops/crop.h"
#include "science/fish/species.h"

namespace leat::model {
namespace {

using namespace units;

FishGroup make_fish(Filling& fill, const Component& c, const Loop& loop) {
  FishGroup fish;
  fish.path = c.path();
  fish.vessel = vessel_of(fill, c, "in", loop);
  if (!Filling::has(c, "in")) {
    for (std::size_t v = 0; v < loop.vessels.size() && fish.vessel < 0; ++v)
      if (loop.vessels[v].kind == VesselKind::tank) fish.vessel = static_cast<int>(v);
    const bool said_already = loop.vessels.empty() || fill.description().has_unknown_parts;
    if (fish.vessel < 0 && !said_already)
      fill.complain(c, "in", "is missing, and no tank is described; add a table such as [tank.main]");
    else if (fish.vessel >= 0)
      fill.assume(c, "in", loop.vessels[static_cast<std::size_t>(fish.vessel)].path, "the first tank");
  }
  fish.species = fill.word(c, "species", "rainbow trout", "not said");
  if (!science::find_species(fish.species))
    fill.complain(c, "species",
                  fmt::format("{} is not in the table of species{}", quoted(fish.species),
                              near_or_all(fish.species, science::species_names())));
  if (const science::Species* s = science::find_species(fish.species);
      s && !(s->growth && s->growth_temperatures && s->appetite()))
    fill.assume(c, "species", "growing and eating like rainbow trout",
                fmt::format("no source here supports the growth of {}", s->name));
  if (const Said* count = c.find("count"))
    fish.count = count->number;
  else
    fill.complain(c, "count", "is missing; say how many fish, such as count = 45");
  fish.mass = fill.take<dim::mass>(c, "mass", 60.0 * gram, "60 g", "not said; weigh a bucketful and count");
  fish.feed = fill.said<dim::mass_rate>(c, "feed");
  if (!fish.feed)
    fill.assume(c, "feed", "by rule",
                "growth rule with the feeding table as a guard, each day, for the water's temperature and oxygen");
  fish.feed_protein = fill.number(c, "feed_protein", 0.45, "usual for small trout; read the bag");
  if (const Said* spread = c.find("spread")) fish.spread = spread->number;
  if (const Said* meals = c.find("meals")) {
    fish.meals = meals->hours;
  } else {
    fish.meals = {8.0, 17.0};
    fill.assume(c, "meals", "08:00 and 17:00", "two meals a day are usual");
  }
  return fish;
}

/// Plants to the square metre: 22 as of leafy ones, unless the table of crops is farther off than people's habits are.
double places_per_m2(const science::Crop* crop) {
  const double leafy = 22.0, habit = 1.0 / 3.0;
  if (!crop || !crop->places_per_m2) return leafy;
  const auto& [low, high] = *crop->places_per_m2;
  return leafy >= (1.0 - habit) * low && leafy <= (1.0 + habit) * high ? leafy : 0.5 * (low + high);
}

Planting make_planting(Filling& fill, const Component& c, const Loop& loop) {
  Planting p;
  p.path = c.path();
  p.vessel = vessel_of(fill, c, "in", loop);
  if (!Filling::has(c, "in")) fill.complain(c, "in", "is missing; say which bed, such as in = \"raft_bed.north\"");
  p.crop = fill.word(c, "crop", "lettuce", "not said");
  const science::Crop* crop = science::find_crop(p.crop);
  if (!crop)
    fill.complain(
        c, "crop",
        fmt::format("{} is not in the table of crops{}", quoted(p.crop), near_or_all(p.crop, science::crop_names())));
  const double density = places_per_m2(crop);
  const std::string spacing = density == 22.0
                                  ? "22 leafy plants to the square metre"
                                  : fmt::format("{:g} of them to the square metre (table of crops)", density);
  const auto area = fill.said<dim::area>(c, "area");
  const Said* places = c.find("places");
  p.places = places ? places->number : area ? std::max(1.0, std::round(area->si() * density)) : 0.0;
  if (!places && !area) fill.complain(c, "places", "is missing; say how many plants, such as places = 40");
  const Vessel* bed = p.vessel < 0 ? nullptr : &loop.vessels[static_cast<std::size_t>(p.vessel)];
  p.area = area.value_or(Area<>(p.places / density));
  if (!area && bed && p.area > bed->area) {
    p.area = bed->area;
    fill.assume(c, "area", fmt::format("{:.2f} m2", p.area.si()), "so many plants take the whole bed");
  } else if (!area) {
    fill.assume(c, "area", fmt::format("{:.2f} m2", p.area.si()), spacing);
  }
  if (area && bed && *area > bed->area * 1.01)
    fill.complain(c, "area",
                  fmt::format("{} is more than {} has, {:.3g} m2; write what these plants take of it",
                              quoted(Filling::written(c, "area")), bed->path, bed->area.si()));
  if (!places && area) fill.assume(c, "places", fmt::format("{:.0f}", p.places), spacing);
  p.age = fill.take<dim::time>(c, "age", Duration<>(0.0), "0 days", "just planted out");
  const bool can_be_picked = crop && crop->thermal_time_to_pick();
  if (const Said* harvest = c.find("harvest")) {
    p.picked = harvest->text == "picked";
    if (p.picked && crop && !can_be_picked)
      fill.complain(c, "harvest",
                    fmt::format("nothing in the table of crops says how {} is picked; write \"whole\"", crop->name));
  } else if (can_be_picked) {
    p.picked = true;
    fill.assume(c, "harvest", "picked",
                fmt::format("{:.0f} % of what stands, {:g} times, then whole (table of crops)",
                            100.0 * *crop->pick_share, crop->picks.value_or(1.0)));
  }
  return p;
}

}  // namespace

void make_living(Filling& fill, Loop& loop) {
  for (const Component* c : fill.description().of_kind("fish")) loop.fish.push_back(make_fish(fill, *c, loop));
  for (const Component* c : fill.description().of_kind("planting"))
    loop.plantings.push_back(make_planting(fill, *c, loop));
}

}  // namespace leat::model
