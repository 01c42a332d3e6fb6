#include "science/carbonate/acidity.h"
#include "science/nitrogen/limits.h"
#include "science/nitrogen/unionised_ammonia.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

const InputRow kAcidity{"acidity", "-", 5, 11, "pH"};

Number<> acidity_of(const Given& g) {
  return Number<>(g("acidity"));
}

MixedConstants<> constants_of(const Given& g) {
  return mixed_constants(temperature_of(g), ionic_strength_of(g, Concentration<>(0.0)));
}

Number<> unionised_share(const Given& g) {
  return unionised_ammonia_share(acidity_of(g), constants_of(g));
}

std::vector<Entry> share_entries() {
  return {
      {"ammonium_pka",
       "pKa of ammonium at zero ionic strength",
       {temperature_row},
       {{"pka", "-", [](const Given& g) { return ammonium_pka(temperature_of(g)).si(); }}},
       "Emerson et al. 1975"},
      {"unionised_ammonia_fraction",
       "share of total ammonia that is un-ionised",
       rows({{kAcidity, temperature_row}, ionic_strength_rows()}),
       {{"fraction", "-", [](const Given& g) { return unionised_share(g).si(); }}},
       "Emerson et al. 1975; Davies 1962"},
      {"unionised_ammonia_nitrogen",
       "un-ionised ammonia as nitrogen",
       rows({{amount_row("ammonia", "total, mg/L as N"), kAcidity, temperature_row}, ionic_strength_rows()}),
       {{"nitrogen", "mg/L",
         [](const Given& g) {
           const Concentration<> total = amount_of(g, "ammonia", molar_mass::nitrogen, "mg/L");
           return (unionised_share(g) * total * molar_mass::nitrogen).in(milligram_per_litre);
         }}},
       "Emerson et al. 1975; Davies 1962"},
      {"nitrous_acid_share",
       "share of total nitrite that is nitrous acid",
       rows({{kAcidity, temperature_row}, ionic_strength_rows()}),
       {{"fraction", "-", [](const Given& g) { return nitrous_acid_share(acidity_of(g), constants_of(g)).si(); }}},
       "Anthonisen et al. 1976"},
  };
}

double mg(Density<> d) {
  return d.in(milligram_per_litre);
}

std::vector<Entry> limit_entries() {
  return {
      {"ammonia_limit_acute_salmonids",
       "one-hour limit of total ammonia nitrogen where salmonids live",
       {kAcidity, temperature_row},
       {{"limit", "mg/L",
         [](const Given& g) { return mg(ammonia_limit_acute_salmonids(acidity_of(g), temperature_of(g))); }}},
       "EPA 822-R-13-001"},
      {"ammonia_limit_acute",
       "one-hour limit of total ammonia nitrogen without salmonids",
       {kAcidity, temperature_row},
       {{"limit", "mg/L", [](const Given& g) { return mg(ammonia_limit_acute(acidity_of(g), temperature_of(g))); }}},
       "EPA 822-R-13-001"},
      {"ammonia_limit_chronic",
       "thirty-day mean limit of total ammonia nitrogen",
       {kAcidity, temperature_row},
       {{"limit", "mg/L", [](const Given& g) { return mg(ammonia_limit_chronic(acidity_of(g), temperature_of(g))); }}},
       "EPA 822-R-13-001"},
      {"ammonia_limit_acute_salmonids_1999",
       "one-hour limit of 1999 of total ammonia nitrogen where salmonids live",
       {kAcidity},
       {{"limit", "mg/L", [](const Given& g) { return mg(ammonia_limit_acute_salmonids_1999(acidity_of(g))); }}},
       "EPA 822-R-99-014"},
      {"nitrite_limits",
       "nitrite nitrogen that fish bear at a chloride",
       {{"chloride", "mg/L", 0, 500, "as Cl"}},
       {{"mean", "mg/L", [](const Given& g) { return mg(nitrite_limits(g("chloride") * milligram_per_litre).mean); }},
        {"maximum", "mg/L",
         [](const Given& g) { return mg(nitrite_limits(g("chloride") * milligram_per_litre).maximum); }}},
       "British Columbia freshwater guideline"},
  };
}

}  // namespace

std::vector<Entry> ammonia_entries() {
  std::vector<Entry> all = share_entries();
  for (Entry& entry : limit_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
