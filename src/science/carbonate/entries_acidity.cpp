#include <cmath>

#include "science/carbonate/acidity.h"
#include "science/carbonate/ion_pairs.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

const InputRow kAlkalinity = amount_row("alkalinity", "meq/L, or mg/L as CaCO3");
const InputRow kCarbon = amount_row("inorganic_carbon", "all of it, mmol/L, or mg/L as C");
const InputRow kAcidity{"acidity", "-", 1, 13.5, "pH"};

std::vector<InputRow> total_rows() {
  return {maybe(amount_row("ammonia", "total, mg/L as N")), maybe(amount_row("nitrite", "mg/L as N")),
          maybe(amount_row("phosphate", "mg/L as P"))};
}

Concentration<> carbon_of(const Given& g) {
  return amount_or_none(g, "inorganic_carbon", molar_mass::carbon, "mmol/L");
}

AcidBaseTotals<> totals_of(const Given& g) {
  return {amount_or_none(g, "alkalinity", molar_mass::calcium_carbonate_equivalent, "meq/L"), carbon_of(g),
          amount_or_none(g, "ammonia", molar_mass::nitrogen, "mg/L"),
          amount_or_none(g, "nitrite", molar_mass::nitrogen, "mg/L"),
          amount_or_none(g, "phosphate", molar_mass::phosphorus, "mg/L")};
}

/// When it is not said: that of a water with one sort of ion against its alkalinity.
Concentration<> strength_of(const Given& g) {
  return ionic_strength_of(g, Concentration<>(std::abs(totals_of(g).alkalinity.si())));
}

MixedConstants<> constants_of(const Given& g) {
  return mixed_constants(temperature_of(g), strength_of(g));
}

Number<> closed_acidity(const Given& g) {
  need(g.has("inorganic_carbon"), "inorganic_carbon");
  return acidity_closed(constants_of(g), totals_of(g));
}

Number<> open_acidity(const Given& g) {
  return acidity_open(constants_of(g), totals_of(g), carbon_dioxide_saturation(temperature_of(g), gas_pressure_of(g)));
}

double carbon_dioxide_mg(Concentration<> c) {
  return (c * molar_mass::carbon_dioxide).in(milligram_per_litre);
}

std::vector<Entry> root_entries() {
  return {
      {"acidity_closed",
       "pH of a water whose inorganic carbon is known",
       rows({{kAlkalinity, kCarbon}, total_rows(), {temperature_row}, ionic_strength_rows()}),
       {{"acidity", "-", [](const Given& g) { return closed_acidity(g).si(); }},
        {"carbon_dioxide", "mg/L",
         [](const Given& g) {
           return carbon_dioxide_mg(carbon_dioxide_of(closed_acidity(g), constants_of(g), carbon_of(g)));
         }},
        {"unionised_ammonia", "mg/L",
         [](const Given& g) {
           const Concentration<> free =
               unionised_ammonia_share(closed_acidity(g), constants_of(g)) * totals_of(g).ammonia;
           return (free * molar_mass::nitrogen).in(milligram_per_litre);
         }}},
       "charge balance; Plummer & Busenberg 1982; Davies 1962"},
      {"acidity_open",
       "pH of a water in balance with carbon dioxide of the air",
       rows({{kAlkalinity}, total_rows(), {temperature_row}, carbon_dioxide_rows(), ionic_strength_rows()}),
       {{"acidity", "-", [](const Given& g) { return open_acidity(g).si(); }},
        {"inorganic_carbon", "mmol/L",
         [](const Given& g) {
           return inorganic_carbon_of(open_acidity(g), constants_of(g),
                                      carbon_dioxide_saturation(temperature_of(g), gas_pressure_of(g)))
               .si();
         }}},
       "charge balance; Plummer & Busenberg 1982; Davies 1962"},
      {"alkalinity_at_acidity",
       "alkalinity of a water at a pH",
       rows({{kAcidity, kCarbon}, total_rows(), {temperature_row}, ionic_strength_rows()}),
       {{"alkalinity", "meq/L",
         [](const Given& g) {
           return leat::science::alkalinity_of(Number<>(g("acidity")), constants_of(g), totals_of(g)).si();
         }}},
       "charge balance"},
  };
}

PairedWater paired_of(const Given& g) {
  return paired_water(temperature_of(g), strength_of(g), totals_of(g),
                      amount_or_none(g, "calcium", molar_mass::calcium, "mmol/L"),
                      amount_or_none(g, "magnesium", molar_mass::magnesium, "mmol/L"));
}

/// Bicarbonate alkalinity is taken as all of it: pH 5.5 to 8.5, ammonia and phosphate taken off first.
double carbon_dioxide_of_alkalinity(const Given& g) {
  const MixedConstants<> k = mixed_constants(temperature_of(g), ionic_strength_of(g, Concentration<>(0.0)));
  return carbon_dioxide_mg(carbon_dioxide_of_bicarbonate(Number<>(g("acidity")), k, totals_of(g).alkalinity));
}

std::vector<Entry> other_entries() {
  return {
      {"acidity_closed_with_pairs",
       "pH of a hard water whose inorganic carbon is known",
       rows({{kAlkalinity, kCarbon, amount_row("calcium", "mmol/L or mg/L"), amount_row("magnesium", "mmol/L or mg/L")},
             total_rows(),
             {temperature_row},
             ionic_strength_rows()}),
       {{"acidity", "-", [](const Given& g) { return paired_of(g).acidity.si(); }}},
       "as acidity_closed, with pairs of calcium and magnesium"},
      {"carbon_dioxide_from_alkalinity",
       "dissolved carbon dioxide from pH and alkalinity",
       rows({{kAcidity, kAlkalinity, temperature_row}, ionic_strength_rows()}),
       {{"carbon_dioxide", "mg/L", carbon_dioxide_of_alkalinity}},
       "first constant of carbonic acid; pH 5.5 to 8.5"},
  };
}

}  // namespace

std::vector<Entry> acidity_entries() {
  std::vector<Entry> all = root_entries();
  for (Entry& entry : other_entries()) all.push_back(std::move(entry));
  return all;
}

}  // namespace leat::science::water_entry
