#include "science/nitrogen/stoichiometry.h"

#include "science/algae/growth.h"
#include "science/fish/nitrogen.h"
#include "science/water/dosing.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

/// An entry that says how much of one thing goes with a mass of another: per gram, and for the mass that is given.
Entry per_gram(std::string_view name, std::string_view meaning, std::string_view input, std::string_view output,
               Number<> ratio, std::string_view source) {
  const std::string key(input);
  return {name,
          meaning,
          {assume({input, "g", 0, 1e9, "mass of it"}, 1.0)},
          {{output, "g/g", [ratio](const Given&) { return ratio.si(); }},
           {"mass", "g", [ratio, key](const Given& g) { return ratio.si() * g(key); }}},
          source};
}

Number<> oxygen_of_step(std::string_view step) {
  const bool from_ammonia = step.starts_with("NH"), to_nitrate = step.ends_with("NO3") || step.ends_with("NO3-");
  const bool from_nitrite = step.starts_with("NO2"), to_nitrite = step.ends_with("NO2") || step.ends_with("NO2-");
  need((from_ammonia && (to_nitrite || to_nitrate)) || (from_nitrite && to_nitrate), "step");
  if (from_nitrite) return oxygen_for_nitrite_step;
  return to_nitrite ? oxygen_for_ammonia_step : oxygen_for_nitrification;
}

/// A base for the alkalinity that nitrification takes, per nitrogen.
double base_per_nitrogen(const Given& g) {
  const auto reagent = find_reagent(g.words.contains("salt") ? g.word("salt") : "NaHCO3");
  need(reagent.has_value() && reagent->equivalents > 0.0, "salt");
  const double equivalents = g.has("equivalents") ? g("equivalents") : 2.0;
  return equivalents / reagent->equivalents * (molar_mass_of(*reagent) / molar_mass::nitrogen).si();
}

NitrogenSource source_of(const Given& g) {
  const std::string_view word = g.words.contains("nitrogen_source") ? g.word("nitrogen_source") : "NO3";
  const bool ammonium = word.starts_with("NH") || word.starts_with("amm");
  need(ammonium || word.starts_with("NO3") || word.starts_with("nitrate"), "nitrogen_source");
  return ammonium ? NitrogenSource::ammonium : NitrogenSource::nitrate;
}

const InputRow kSource = maybe({"nitrogen_source", "", 0, 0, "NO3 or NH4; NO3 if not given"});

std::vector<Entry> step_entries() {
  return {
      {"nitrification_oxygen",
       "oxygen that nitrification takes, per nitrogen",
       {{"step", "", 0, 0, "NH4 to NO2, NO2 to NO3, or NH4 to NO3"}},
       {{"oxygen", "g/g", [](const Given& g) { return oxygen_of_step(g.word("step")).si(); }}},
       "atomic weights"},
      {"nitrification_alkalinity",
       "alkalinity that nitrification takes, per nitrogen, and the base that replaces it",
       {maybe({"nitrogen", "g", 0, 1e9, "nitrified"}), maybe({"salt", "", 0, 0, "formula of the base; NaHCO3 if none"}),
        maybe({"equivalents", "-", 0, 2, "lost per mole; 2 if not given"})},
       {{"base", "g/g", base_per_nitrogen},
        {"alkalinity", "g/g", [](const Given& g) { return g.get("equivalents", 2.0) * alkalinity_per_nitrogen.si(); }}},
       "atomic weights"},
      per_gram("nitrification_alkalinity_second_step", "alkalinity that nitrite to nitrate takes", "nitrogen",
               "alkalinity", Number<>(0.0), "charge balance"),
      per_gram("ammonia_excretion_alkalinity", "alkalinity gained with ammonia given off", "nitrogen", "alkalinity",
               alkalinity_per_nitrogen, "charge balance"),
      per_gram("net_alkalinity_protein_to_nitrate", "alkalinity lost from protein to nitrate", "nitrogen", "alkalinity",
               alkalinity_per_nitrogen, "charge balance"),
      per_gram("denitrification_alkalinity", "alkalinity gained as nitrate becomes gas", "nitrogen", "alkalinity",
               alkalinity_per_nitrogen, "charge balance"),
      per_gram("denitrification_oxygen_equivalent", "oxygen spared as nitrate becomes gas", "nitrogen", "oxygen",
               oxygen_spared_by_denitrification, "electron balance"),
      per_gram("carbon_oxidation_oxygen", "oxygen that carbon takes", "carbon", "oxygen", oxygen_for_carbon,
               "atomic weights"),
      per_gram("protein_nitrogen", "nitrogen in protein", "protein", "nitrogen", Number<>(nitrogen_of_protein),
               "factor 6.25"),
  };
}

std::vector<Entry> breath_entries() {
  return {
      {"respiratory_carbon_dioxide",
       "carbon dioxide given off per oxygen breathed",
       {assume({"oxygen", "g", 0, 1e9, "breathed"}, 1.0),
        assume({"respiratory_quotient", "-", 0.6, 1.2, "moles of CO2 per mole of O2"}, 1.0)},
       {{"carbon_dioxide", "g/g",
         [](const Given& g) { return g("respiratory_quotient") * carbon_dioxide_per_oxygen.si(); }},
        {"mass", "g",
         [](const Given& g) { return g("oxygen") * g("respiratory_quotient") * carbon_dioxide_per_oxygen.si(); }}},
       "atomic weights"},
      {"photosynthesis_oxygen",
       "oxygen given off per carbon taken",
       {assume({"carbon", "g", 0, 1e9, "taken"}, 1.0), kSource},
       {{"oxygen", "g/g",
         [](const Given& g) { return photosynthesis_oxygen_per_carbon(source_of(g)) * oxygen_for_carbon.si(); }}},
       "Stumm & Morgan 1996"},
      {"photosynthesis_proton_uptake",
       "acid taken up per mole of nitrogen",
       {assume({"nitrogen", "mol", 0, 1e9, "taken"}, 1.0), kSource},
       {{"protons", "eq/mol", [](const Given& g) { return photosynthesis_acid_per_nitrogen(source_of(g)); }}},
       "Stumm & Morgan 1996"},
      {"photosynthesis_alkalinity",
       "alkalinity gained per mole of nitrogen taken, where it counts HPO4",
       {assume({"nitrogen", "mol", 0, 1e9, "taken"}, 1.0), assume({"phosphorus", "mol", 0, 1e9, "taken"}, 0.0),
        kSource},
       {{"alkalinity", "eq/mol",
         [](const Given& g) {
           return photosynthesis_alkalinity(source_of(g), g("nitrogen"), g("phosphorus")) / g("nitrogen");
         }}},
       "charge balance; Brewer & Goldman 1976"},
  };
}

}  // namespace

std::vector<Entry> stoichiometry_entries() {
  std::vector<Entry> all = step_entries();
  for (Entry& entry : breath_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
