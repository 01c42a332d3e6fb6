#include "science/fish/entries.h"
#include "science/fish/entry_input.h"
#include "science/fish/oxygen_demand.h"
#include "science/fish/oxygen_drawdown.h"
#include "science/fish/potential.h"
#include "science/fish/stocking.h"
#include "science/gas/night_oxygen.h"

namespace leat::science {
namespace {

const InputRow kFish = input("fish_mass", "g", 1, 2000, "mass of one fish");
const InputRow kWater = input("temperature", "degC", 0, 32, "temperature of the water");

/// Constants by the species named, or by a remark that names salmon.
const LiaoSpecies& liao_in(const Given& g) {
  const std::string_view named = g.has("species") ? g.word("species") : remark(g);
  return named.starts_with("salmon") ? liao_salmon : liao_trout;
}

double liao_step(const Given& g) {
  const LiaoSpecies& species = liao_in(g);
  const double t_f = g("temperature") * 1.8 + 32.0;
  return liao_branch(species.warm, species.mass_power, t_f, 1.0) /
         liao_branch(species.cold, species.mass_power, t_f, 1.0);
}

double oxygen_per_feed(const Given& g) {
  const double left =
      number_in(g, "digestible", "MJ/kg") - number_in(g, "retained", "MJ/kg") - number_in(g, "excreted", "MJ/kg");
  // The oxycalorific coefficient is another publication's 13.6 or 14.1 as often as ours.
  return left / number_in(g, "oxycalorific", "MJ/kg", oxycalorific_kj_per_g);
}

std::vector<Entry> uptake_entries() {
  return {
      {"oxygen_uptake_liao",
       "Oxygen uptake of fed trout or salmon",
       {kWater, kFish, optional_words("species", "trout or salmon; trout unless given")},
       {{"rate", "mg/kg/h",
         [](const Given& g) {
           return oxygen_uptake_liao(celsius(g("temperature")), grams(g("fish_mass")), liao_in(g)).in(mg_per_kg_hour);
         }},
        {"rate_blended", "mg/kg/h",
         [](const Given& g) {
           return oxygen_uptake_liao_blended(celsius(g("temperature")), grams(g("fish_mass")), liao_in(g))
               .in(mg_per_kg_hour);
         }}},
       "Liao 1971"},
      {"oxygen_step_liao",
       "How far the two branches of Liao's law lie apart",
       {kWater, optional_words("species", "trout or salmon; trout unless given")},
       {{"ratio", "-", liao_step}},
       "Liao 1971"},
      {"oxygen_uptake_bioenergetic",
       "Oxygen uptake of trout by mass and a bell of temperature",
       {kWater, kFish, optional_words("stage", "juvenile or adult; juvenile unless given")},
       {{"rate", "mg/kg/h",
         [](const Given& g) {
           const bool adult = g.has("stage") && g.word("stage").starts_with("adult");
           return oxygen_uptake_bioenergetic(celsius(g("temperature")), grams(g("fish_mass")),
                                             adult ? respiration_trout_adult : respiration_trout_juvenile)
               .in(mg_per_kg_hour);
         }}},
       "Tyler & Bolduc 2008; Railsback & Rose 1999"},
      {"oxygen_uptake_tilapia",
       "Oxygen uptake of Nile tilapia",
       {kFish, kWater},
       {{"rate", "mg/kg/h",
         [](const Given& g) {
           return oxygen_uptake_tilapia(celsius(g("temperature")), grams(g("fish_mass"))).in(mg_per_kg_hour);
         }}},
       "probably Khater et al. 2021, equation 4"},
      {"oxygen_uptake_allometric",
       "Oxygen uptake of a fish that nobody has fitted",
       {kFish, kWater},
       {{"rate", "mg/kg/h",
         [](const Given& g) {
           return oxygen_uptake_allometric(celsius(g("temperature")), grams(g("fish_mass"))).in(mg_per_kg_hour);
         }}},
       "level of the tilapia law; usual slopes"},
  };
}

std::vector<Entry> exchange_entries() {
  return {
      {"oxygen_per_feed",
       "Oxygen that fish use for the feed they eat",
       {words("digestible", "energy, MJ/kg of feed"), words("retained", "energy in growth, MJ/kg of feed"),
        words("excreted", "by gills and urine, MJ/kg of feed"),
        optional_words("oxycalorific", "energy per oxygen, kJ/g; 13.56 unless given")},
       {{"oxygen", "kg/kg", oxygen_per_feed}},
       "Elliott & Davison 1975"},
      {"oxygen_daily_ratio",
       "Highest over lowest rate of a day",
       {input("peak", "mg/kg/h", 0, 5000, "highest rate"), input("trough", "mg/kg/h", 1e-6, 5000, "lowest rate")},
       {{"ratio", "-", [](const Given& g) { return g("peak") / g("trough"); }}},
       "definition"},
      {"carbon_dioxide_from_oxygen",
       "Carbon dioxide given off with oxygen taken up",
       {input("oxygen", "mg/kg/h", 0, 5000, "oxygen uptake"),
        assumed("quotient", "mol/mol", 0.7, 1.0, 0.85, "moles of CO2 per mole of O2")},
       {{"carbon_dioxide", "mg/kg/h",
         [](const Given& g) {
           return carbon_dioxide_from_oxygen(g("oxygen") * mg_per_kg_hour, Number<>(g("quotient"))).in(mg_per_kg_hour);
         }}},
       "stoichiometry"},
      {"time_to_oxygen_floor",
       "Time without air until oxygen falls to a floor",
       {input("oxygen", "mg/L", 0, 20, "at the start"), input("floor", "mg/L", 0, 20, "not to be passed"),
        input("volume", "L", 1, 1e5, "of the tank"), input("fish", "kg", 1e-3, 1e4, "all fish in it"),
        input("uptake", "mg/kg/h", 1, 2000, "oxygen uptake")},
       {{"time", "min",
         [](const Given& g) {
           return time_to_oxygen_floor(Density<>(1e-3 * g("oxygen")), Density<>(1e-3 * g("floor")),
                                       g("volume") * units::litre, Mass<>(g("fish")), g("uptake") * mg_per_kg_hour)
               .in(units::minute);
         }}},
       "mass balance without surface exchange"},
  };
}

/// A tank without flow.
struct Still {
  Density<> oxygen, saturation, demand;  // the last per second
  Frequency<> exchange;
};

Still still_in(const Given& g) {
  return {Density<>(1e-3 * g("oxygen")), Density<>(1e-3 * g("saturation")), Density<>(1e-3 * g("demand") / 3600.0),
          Frequency<>(g("exchange") / 3600.0)};
}

const InputRow kStart = input("oxygen", "mg/L", 0, 20, "at the start"),
               kSaturation = input("saturation", "mg/L", 5, 15, "of the water under its air"),
               kExchange = input("exchange", "1/h", 0, 10, "K_L A / V of the surface"),
               kDemand = input("demand", "mg/L/h", 0, 1000, "of the fish and all else");

std::vector<Entry> still_tank_entries() {
  return {
      {"time_to_oxygen_level",
       "Time until a still tank's oxygen has fallen to a level, with what its surface gives",
       {kStart, input("level", "mg/L", 0, 20, "not to be passed"), kSaturation, kExchange, kDemand},
       {{"time", "h",
         [](const Given& g) {
           const Still s = still_in(g);
           return time_to_oxygen_level(s.oxygen, Density<>(1e-3 * g("level")), s.saturation, s.exchange, s.demand)
               .in(units::hour);
         }}},
       "mass balance of a well-mixed tank"},
      {"still_tank_oxygen_after",
       "Oxygen of a still tank after a while, with what its surface gives",
       {kStart, kSaturation, kExchange, kDemand, input("time", "h", 0, 1000, "since the flow stopped")},
       {{"oxygen", "mg/L",
         [](const Given& g) {
           const Still s = still_in(g);
           return 1e3 * still_tank_oxygen_after(s.oxygen, s.saturation, s.exchange, s.demand, hours(g("time"))).si();
         }}},
       "mass balance of a well-mixed tank"},
      {"demand_factor_fasted",
       "Times the uptake of fed fish that fasted ones take",
       {kWater},
       {{"factor", "-", [](const Given& g) { return demand_factor_fasted(celsius(g("temperature"))); }}},
       "Wieser 1985; Kieffer 1998"},
      {"digesting_times",
       "How long after a meal fish take more oxygen, and when they count as fasted",
       {kWater},
       {{"more", "h", [](const Given& g) { return digesting_times(celsius(g("temperature"))).more.in(units::hour); }},
        {"done", "h", [](const Given& g) { return digesting_times(celsius(g("temperature"))).done.in(units::hour); }}},
       "common practice"},
  };
}

}  // namespace

namespace {

Density<> mg(double value) {
  return Density<>(1e-3 * value);
}
Frequency<> hourly(double value) {
  return Frequency<>(value / 3600.0);
}

std::vector<Entry> night_entries() {
  const InputRow first = input("first", "mg/L", 0, 30, "reading"),
                 second = input("second", "mg/L", 0, 30, "later reading");
  const InputRow between = input("between", "h", 0.1, 12, "the two"),
                 reaeration = input("reaeration", "1/h", 1e-3, 10, "");
  return {
      {"night_equilibrium_oxygen",
       "Oxygen towards which a night goes",
       {first, second, between, reaeration},
       {{"oxygen", "mg/L",
         [](const Given& g) {
           return 1e3 * night_equilibrium_oxygen(mg(g("first")), mg(g("second")), g("between") * units::hour,
                                                 hourly(g("reaeration")))
                            .si();
         }}},
       "mass balance of a mixed water in the dark"},
      {"night_oxygen",
       "Oxygen after a time in the dark, from two readings",
       {first, second, between, reaeration, input("after", "h", 0, 16, "the second reading")},
       {{"oxygen", "mg/L",
         [](const Given& g) {
           const auto rest = night_equilibrium_oxygen(mg(g("first")), mg(g("second")), g("between") * units::hour,
                                                      hourly(g("reaeration")));
           return 1e3 * night_oxygen(mg(g("second")), rest, g("after") * units::hour, hourly(g("reaeration"))).si();
         }}},
       "mass balance of a mixed water in the dark"},
      {"night_oxygen_log_line",
       "The same by the line through the logarithms; it has no floor",
       {first, second, between, input("after", "h", 0, 16, "the second reading")},
       {{"oxygen", "mg/L",
         [](const Given& g) {
           return 1e3 * night_oxygen_log_line(mg(g("first")), mg(g("second")), g("between") * units::hour,
                                              g("after") * units::hour)
                            .si();
         }}},
       "Madenjian et al. 1987 (from memory)"},
  };
}

}  // namespace

std::vector<Entry> oxygen_entries() {
  std::vector<Entry> all = uptake_entries();
  for (Entry& entry : night_entries()) all.push_back(std::move(entry));
  for (Entry& entry : exchange_entries()) all.push_back(std::move(entry));
  for (Entry& entry : still_tank_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science
