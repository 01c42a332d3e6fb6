// The loop's water and its sources.
#include <algorithm>
#include <cmath>

#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/water/substances.h"

namespace leat::model {

/// A concentration said as mass of its basis, as moles (equivalents for alkalinity).
Concentration<> dissolved(Filling& fill, const Component& c, std::string_view key, double otherwise_mg_l,
                          std::string_view basis, std::string reason) {
  const Said* said = c.find(key);
  if (!said) fill.assume(c, key, fmt::format("{:g} mg/L as {}", otherwise_mg_l, basis), std::move(reason));
  const std::string as = said && !said->basis.empty() ? said->basis : std::string(basis);
  const auto per_mole = science::mass_per_mole_of_basis(as);
  if (!per_mole) {
    fill.complain(
        c, key, fmt::format("\"{}\" is counted as {}, which is not known here; write it as {}", said->text, as, basis));
    return Concentration<>(0.0);
  }
  const Density<> density = said ? Density<>(said->number) : Density<>(otherwise_mg_l * 1e-3);
  return density / *per_mole;
}

namespace {

WaterQuality quality_of(Filling& fill, const Component& c, const WaterQuality* like) {
  WaterQuality w;
  const std::string as_loop = "taken as the loop's own";
  const double t = like ? like->temperature.celsius() : 12.0;
  w.temperature = fill.temperature(c, "temperature", t, like ? as_loop : "not measured");
  for (const auto& [key, said] :
       {std::pair<const char*, bool WaterQuality::*>{"temperature", &WaterQuality::temperature_said},
        {"pH", &WaterQuality::pH_said},
        {"alkalinity", &WaterQuality::alkalinity_said},
        {"dissolved_oxygen", &WaterQuality::oxygen_said},
        {"ammonia", &WaterQuality::ammonia_said},
        {"nitrite", &WaterQuality::nitrite_said}})
    w.*said = Filling::has(c, key);
  w.pH = fill.number(c, "pH", like ? like->pH : 7.0, like ? as_loop : "not measured");
  const double alk = like ? like->alkalinity.si() * 50.04 : 60.0;
  w.alkalinity =
      dissolved(fill, c, "alkalinity", std::round(alk * 10.0) / 10.0, "CaCO3", like ? as_loop : "not measured");
  if (const Said* oxygen = c.find("dissolved_oxygen"))
    // Nought would mean "not said" further on, so a reading of nought is kept as a trace.
    w.dissolved_oxygen =
        std::max(Concentration<>(1e-6), Density<>(oxygen->number) / *science::mass_per_mole_of_basis("O2"));
  else
    fill.assume(c, "dissolved_oxygen", "95 % of saturation", "not measured");
  w.ammonia = dissolved(fill, c, "ammonia", like ? 0.0 : 0.2, "N", like ? "clean water" : "not measured");
  w.nitrite = dissolved(fill, c, "nitrite", like ? 0.0 : 0.05, "N", like ? "clean water" : "not measured");
  w.nitrate = dissolved(fill, c, "nitrate", like ? 1.0 : 15.0, "N", like ? "clean water" : "not measured");
  make_minerals(fill, c, w, like);
  return w;
}

/// All the water must find room in the vessels.
void check_total_water(Filling& fill, const Loop& loop) {
  Volume<> room{};
  for (const Vessel& v : loop.vessels) {
    if (!sound_heights(fill, v)) return;
    room += v.capacity();
  }
  if (!loop.total_water || loop.vessels.empty() || *loop.total_water <= room * 1.001) return;
  const Component& c = part_or_empty(fill, "loop");
  fill.complain(c, "water",
                fmt::format("{} is more than the vessels hold up to their rims, {:.0f} L; correct it, or their sizes",
                            quoted(Filling::written(c, "water")), room.in(units::litre)));
}

/// The float valve as a thing that lets water in, where its height is known.
void set_float(Filling& fill, const Component& c, const Loop& loop, Source& source) {
  source.float_level = fill.said<dim::length>(c, "level");
  source.bore = fill.said<dim::length>(c, "bore");
  source.outlet_level = fill.said<dim::length>(c, "outlet_level");
  source.stuck_open = fill.flag(c, "stuck_open", false);
  source.float_flow = Flow<>(600.0 * units::litre_per_hour);
  if (const auto flow = fill.said<dim::flow>(c, "flow"))
    source.float_flow = *flow;
  else if (source.float_level || source.stuck_open)
    fill.assume(c, "flow", "600 L/h", "a half-inch float valve at house pressure (common practice); time a bucket");
  if (!source.float_level || source.vessel < 0) return;
  const Vessel& v = loop.vessels[static_cast<std::size_t>(source.vessel)];
  if (sound_heights(fill, v) && (*source.float_level <= v.floor || *source.float_level >= v.rim))
    fill.complain(c, "level",
                  fmt::format("{} is not between the floor at {} and the rim at {} of {}; heights are above the common "
                              "mark, not above the floor",
                              quoted(Filling::written(c, "level")), metres(v.floor), metres(v.rim), v.path));
}

}  // namespace

void make_waters(Filling& fill, Loop& loop) {
  const Component& whole = part_or_empty(fill, "loop");
  loop.film =
      fill.word(whole, "film", "grown",
                "a loop that has run for months: its film is grown, the waste of weeks lies in its gravel") == "new"
          ? Film::fresh
          : Film::grown;
  loop.water = quality_of(fill, part_or_empty(fill, "water"), nullptr);
  loop.total_water = fill.said<dim::volume>(part_or_empty(fill, "loop"), "water");
  check_total_water(fill, loop);
  for (const Component* c : fill.description().of_kind("source")) {
    Source source;
    source.path = c->path();
    source.vessel = vessel_of(fill, *c, "to", loop);
    if (source.vessel < 0 && !loop.vessels.empty()) {
      source.vessel = sump_of(loop);
      fill.assume(*c, "to", named(loop, source.vessel), "the sump, or else the lowest vessel, is topped up");
    }
    source.water = quality_of(fill, *c, &loop.water);
    const std::string top_up = fill.word(*c, "top_up", "float", "a float valve holds the level");
    source.top_up = top_up == "none" ? TopUp::none : top_up == "daily" ? TopUp::daily : TopUp::held;
    if (source.top_up == TopUp::daily)
      fill.assume(*c, "top_up", "as by a float valve", "a fill once a day is run as if it came little by little");
    set_float(fill, *c, loop, source);
    loop.sources.push_back(std::move(source));
  }
  if (loop.sources.empty() && !loop.vessels.empty()) {
    Source source;
    source.path = "source.assumed";
    source.vessel = sump_of(loop);
    source.water = loop.water;
    source.water.ammonia = source.water.nitrite = Concentration<>(0.0);
    fill.assume(part_or_empty(fill, "source"), "top_up", "float",
                "losses are made good with clean water like the loop's own");
    loop.sources.push_back(source);
  }
}

}  // namespace leat::model
