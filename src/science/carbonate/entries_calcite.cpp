#include "science/carbonate/calcite.h"
#include "science/water/entry_help.h"

namespace leat::science::water_entry {
namespace {

AcidBaseTotals<> totals_of(const Given& g) {
  return {amount_of(g, "alkalinity", molar_mass::calcium_carbonate_equivalent, "meq/L"),
          amount_of(g, "inorganic_carbon", molar_mass::carbon, "mmol/L"),
          amount_or_none(g, "ammonia", molar_mass::nitrogen, "mg/L"),
          amount_or_none(g, "nitrite", molar_mass::nitrogen, "mg/L"),
          amount_or_none(g, "phosphate", molar_mass::phosphorus, "mg/L")};
}

Concentration<> calcium_of(const Given& g) {
  return amount_of(g, "calcium", molar_mass::calcium, "mmol/L");
}

Concentration<> strength_of(const Given& g) {
  return ionic_strength_of(g, totals_of(g).alkalinity + calcium_of(g));
}

std::vector<InputRow> index_rows() {
  return rows(
      {{amount_row("alkalinity", "meq/L, or mg/L as CaCO3"),
        amount_row("inorganic_carbon", "all of it, mmol/L, or mg/L as C"), amount_row("calcium", "mmol/L or mg/L"),
        maybe(amount_row("ammonia", "total, mg/L as N")), maybe(amount_row("nitrite", "mg/L as N")),
        maybe(amount_row("phosphate", "mg/L as P")), temperature_row},
       ionic_strength_rows()});
}

double dissolution(const Given& g) {
  const double h = g.numbers.contains("proton_activity") ? -std::log10(g("proton_activity")) : g("acidity");
  const ArealAmountRate<> rate =
      calcite_dissolution(temperature_of(g), Number<>(h), Concentration<>(1e3 * g("carbon_dioxide_activity")),
                          Number<>(g("calcite_index")));
  return rate.si() * 0.1;
}

}  // namespace

std::vector<Entry> calcite_entries() {
  const auto water = [](const Given& g) { return calcite_equilibrium_open(temperature_of(g), gas_pressure_of(g)); };
  return {
      {"calcite_index_without_pairs",
       "log10 of ion activities over the solubility of calcite, without ion pairs",
       index_rows(),
       {{"calcite_index", "-",
         [](const Given& g) {
           return calcite_index_without_pairs(temperature_of(g), strength_of(g), totals_of(g), calcium_of(g)).si();
         }}},
       "Plummer & Busenberg 1982"},
      {"calcite_index_with_pairs",
       "log10 of ion activities over the solubility of calcite",
       rows({index_rows(), {maybe(amount_row("magnesium", "mmol/L or mg/L"))}}),
       {{"calcite_index", "-",
         [](const Given& g) {
           return calcite_index_with_pairs(temperature_of(g), strength_of(g), totals_of(g), calcium_of(g),
                                           amount_or_none(g, "magnesium", molar_mass::magnesium, "mmol/L"))
               .si();
         }}},
       "Plummer & Busenberg 1982"},
      {"calcite_dissolution",
       "calcite that dissolves per area",
       {maybe({"proton_activity", "-", 1e-11, 1e-3, "mol/L"}),
        maybe({"acidity", "-", 3, 11, "pH, in place of the activity"}),
        {"carbon_dioxide_activity", "-", 0, 0.1, "mol/L"},
        {"calcite_index", "-", -6, 3, "log10 of ion activities over solubility"},
        temperature_row},
       {{"rate", "mmol/cm2/s", dissolution}},
       "Plummer, Wigley & Parkhurst 1978"},
      {"calcite_equilibrium_open",
       "water in balance with calcite and with carbon dioxide of the air",
       rows({{temperature_row}, carbon_dioxide_rows()}),
       {{"acidity", "-", [water](const Given& g) { return water(g).acidity.si(); }},
        {"alkalinity", "meq/L", [water](const Given& g) { return water(g).alkalinity.si(); }},
        {"calcium", "mmol/L", [water](const Given& g) { return water(g).calcium.si(); }},
        {"ionic_strength", "mol/L", [water](const Given& g) { return 1e-3 * water(g).ionic_strength.si(); }}},
       "charge balance; Plummer & Busenberg 1982"},
  };
}

}  // namespace leat::science::water_entry
