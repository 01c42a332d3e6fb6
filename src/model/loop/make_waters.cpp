// The loop's water, its sources, and the limits to keep.
#include <cmath>

#include "model/loop/make.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

using namespace units;

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

WaterQuality quality_of(Filling& fill, const Component& c, const WaterQuality* like) {
  WaterQuality w;
  const std::string as_loop = "taken as the loop's own";
  const double t = like ? like->temperature.celsius() : 12.0;
  w.temperature = fill.temperature(c, "temperature", t, like ? as_loop : "not measured");
  w.temperature_said = Filling::has(c, "temperature");
  w.pH = fill.number(c, "pH", like ? like->pH : 7.0, like ? as_loop : "not measured");
  const double alk = like ? like->alkalinity.si() * 50.04 : 60.0;
  w.alkalinity =
      dissolved(fill, c, "alkalinity", std::round(alk * 10.0) / 10.0, "CaCO3", like ? as_loop : "not measured");
  if (const Said* oxygen = c.find("dissolved_oxygen"))
    w.dissolved_oxygen = Density<>(oxygen->number) / *science::mass_per_mole_of_basis("O2");
  else
    fill.assume(c, "dissolved_oxygen", "95 % of saturation", "not measured");
  w.ammonia = dissolved(fill, c, "ammonia", like ? 0.0 : 0.2, "N", like ? "clean water" : "not measured");
  w.nitrite = dissolved(fill, c, "nitrite", like ? 0.0 : 0.05, "N", like ? "clean water" : "not measured");
  w.nitrate = dissolved(fill, c, "nitrate", like ? 1.0 : 15.0, "N", like ? "clean water" : "not measured");
  return w;
}

}  // namespace

void make_waters(Filling& fill, Loop& loop) {
  loop.water = quality_of(fill, part_or_empty(fill, "water"), nullptr);
  loop.total_water = fill.said<dim::volume>(part_or_empty(fill, "loop"), "water");
  for (const Component* c : fill.description().of_kind("source")) {
    Source source;
    source.path = c->path();
    source.vessel = vessel_of(fill, *c, "to", loop);
    if (source.vessel < 0)
      for (std::size_t v = 0; v < loop.vessels.size(); ++v)
        if (loop.vessels[v].kind == VesselKind::sump) source.vessel = static_cast<int>(v);
    if (source.vessel < 0) fill.complain(*c, "to", "is missing, and there is no sump; say where the water is added");
    source.water = quality_of(fill, *c, &loop.water);
    const std::string top_up = fill.word(*c, "top_up", "float", "a float valve holds the level");
    source.top_up = top_up == "none" ? TopUp::none : top_up == "daily" ? TopUp::daily : TopUp::held;
    loop.sources.push_back(std::move(source));
  }
  if (loop.sources.empty() && !loop.vessels.empty()) {
    Source source{"source.assumed", 0, loop.water, TopUp::held};
    for (std::size_t v = 0; v < loop.vessels.size(); ++v)
      if (loop.vessels[v].kind == VesselKind::sump) source.vessel = static_cast<int>(v);
    source.water.ammonia = source.water.nitrite = Concentration<>(0.0);
    fill.assume(part_or_empty(fill, "source"), "top_up", "float",
                "losses are made good with clean water like the loop's own");
    loop.sources.push_back(source);
  }
  const Component& c = part_or_empty(fill, "limits");
  Limits& limits = loop.limits;
  limits.temperature_high =
      fill.temperature(c, "temperature_high", 18.0, "trout: feed is cut above 17 to 18 degC (common practice)");
  limits.temperature_low = fill.temperature(c, "temperature_low", 3.0, "trout hardly eat below");
  const auto from_mg = [&](std::string_view key, double mg, std::string_view basis, std::string reason) {
    return dissolved(fill, c, key, mg, basis, std::move(reason));
  };
  limits.oxygen_low = from_mg("oxygen_low", 6.0, "O2", "trout: under 6 mg/L no feed (common practice)");
  limits.unionised_ammonia_high = from_mg("unionised_ammonia_high", 0.0125, "N", "Piper et al. 1982, from memory");
  limits.nitrite_high = from_mg("nitrite_high", 0.1, "N", "British Columbia guideline, mean at chloride 6 to 8 mg/L");
  limits.nitrate_high = from_mg("nitrate_high", 75.0, "N", "Davidson et al. 2014: 80 to 100 harmed trout over months");
  limits.pH_low = fill.number(c, "pH_low", 6.5, "Piper et al. 1982: 6.5 to 9.0");
  limits.pH_high = fill.number(c, "pH_high", 8.5, "trout; ammonia turns poisonous above");
  limits.freeboard = fill.take<dim::length>(c, "freeboard", 50.0 * millimetre, "50 mm", "common practice, no source");
  limits.turnover_low = fill.take<dim::frequency>(c, "turnover_low", 1.0 / hour.si() * Frequency<>(1.0), "1 per hour",
                                                  "FAO technical paper 589, from memory: 1 to 2 per hour");
}

}  // namespace leat::model
