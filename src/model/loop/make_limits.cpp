// The limits to keep: said, or what the fish of the loop can bear.
#include "model/loop/make.h"
#include "model/loop/wording.h"
#include "science/fish/species.h"
#include "science/water/substances.h"

namespace leat::model {
namespace {

using namespace units;

/// A limit and where it comes from.
struct Bearable {
  double value;
  std::string reason;
};

struct BearableWater {
  Bearable high_c, low_c, oxygen_mg, ammonia_mg, nitrite_mg, nitrate_mg;
};

BearableWater of_trout() {
  return {{18.0, "trout: feed is cut above 17 to 18 degC (common practice)"},
          {3.0, "trout hardly eat below"},
          {6.0, "trout: under 6 mg/L no feed (common practice)"},
          {0.0125, "trout: Piper et al. 1982, from memory"},
          {0.1, "trout: British Columbia guideline, mean at chloride 6 to 8 mg/L"},
          {75.0, "trout: Davidson et al. 2014: 80 to 100 harmed over months"}};
}

/// Warm fish from the table of species; chemistry from the warm column of common limits.
BearableWater of_warm_fish(const science::Species& s) {
  const std::string name(s.name);
  const auto celsius = [](const std::optional<Temperature<>>& t, double otherwise) {
    return t ? t->celsius() : otherwise;
  };
  const double oxygen = s.oxygen_target ? s.oxygen_target->in(science::milligram_per_litre) : 5.0;
  return {{celsius(s.feed_stop_high, celsius(s.best_high, 28.0) + 3.0),
           name + ": above it they stop growing or feeding (table of species)"},
          {celsius(s.feed_stop_low, 15.0), name + ": below it they stop feeding (table of species)"},
          {oxygen, name + ": what is aimed at (table of species)"},
          {0.05, "warm-water fish: UF/IFAS, harm above 0.05"},
          {0.5, "warm-water fish: common practice"},
          {150.0, "warm-water fish: common practice"}};
}

BearableWater bearable(const Loop& loop) {
  for (const FishGroup& group : loop.fish)
    if (const science::Species* s = science::find_species(group.species); s && s->season == science::Season::cold)
      return of_trout();
  for (const FishGroup& group : loop.fish)
    if (const science::Species* s = science::find_species(group.species)) return of_warm_fish(*s);
  return of_trout();
}

/// Of two limits one must be the lower.
void check_order(Filling& fill, const Component& c, std::string_view low, std::string_view high, bool ordered,
                 const std::string& low_shown, const std::string& high_shown) {
  if (ordered || !Filling::sound(c, {low, high})) return;
  if (Filling::has(c, low))
    fill.complain(
        c, low,
        fmt::format("{} is not below {}, {}{}", low_shown, high, high_shown,
                    Filling::has(c, high) ? "; correct one of the two" : ", which was assumed; write it too"));
  else if (Filling::has(c, high))
    fill.complain(c, high,
                  fmt::format("{} is not above {}, {}, which was assumed; write it too", high_shown, low, low_shown));
}

}  // namespace

void make_limits(Filling& fill, Loop& loop) {
  const Component& c = part_or_empty(fill, "limits");
  const BearableWater b = bearable(loop);
  const auto from_mg = [&](std::string_view key, const Bearable& limit, std::string_view basis) {
    return dissolved(fill, c, key, limit.value, basis, limit.reason);
  };
  Limits& limits = loop.limits;
  limits.temperature_high = fill.temperature(c, "temperature_high", b.high_c.value, b.high_c.reason);
  limits.temperature_low = fill.temperature(c, "temperature_low", b.low_c.value, b.low_c.reason);
  const auto degrees = [&](std::string_view key, Temperature<> t) {
    return Filling::has(c, key) ? quoted(Filling::written(c, key)) : fmt::format("{:g} degC", t.celsius());
  };
  check_order(fill, c, "temperature_low", "temperature_high", limits.temperature_low < limits.temperature_high,
              degrees("temperature_low", limits.temperature_low), degrees("temperature_high", limits.temperature_high));
  limits.oxygen_low = from_mg("dissolved_oxygen_low", b.oxygen_mg, "O2");
  limits.unionised_ammonia_high = from_mg("unionised_ammonia_high", b.ammonia_mg, "N");
  limits.nitrite_high = from_mg("nitrite_high", b.nitrite_mg, "N");
  limits.nitrate_high = from_mg("nitrate_high", b.nitrate_mg, "N");
  limits.alkalinity_low =
      from_mg("alkalinity_low", {40.0, "nitrifiers stall and pH falls fast below 20 to 40 (common practice)"}, "CaCO3");
  limits.pH_low = fill.number(c, "pH_low", 6.5, "Piper et al. 1982: 6.5 to 9.0");
  limits.pH_high = fill.number(c, "pH_high", 8.5, "ammonia turns poisonous above");
  limits.gas_pressure_high =
      fill.number(c, "gas_pressure_high", 1.10, "110 % is a legal limit for rivers (WAC 173-201A); fish get the bends");
  check_order(fill, c, "pH_low", "pH_high", limits.pH_low < limits.pH_high, fmt::format("{:g}", limits.pH_low),
              fmt::format("{:g}", limits.pH_high));
  limits.freeboard = fill.take<dim::length>(c, "freeboard", 50.0 * millimetre, "50 mm", "common practice, no source");
  limits.turnover_low = fill.take<dim::frequency>(c, "turnover_low", Frequency<>(1.0 / 3600.0), "1 per hour",
                                                  "FAO technical paper 589, from memory: 1 to 2 per hour");
}

}  // namespace leat::model
