#include <string>

#include "base/units/parse.h"
#include "science/water/dosing.h"
#include "science/water/entry_help.h"
#include "science/water/formula.h"

namespace leat::science::water_entry {
namespace {

/// A reagent as it is sold: "HCl 31.45 % w/w". Pure when no strength is said.
struct Product {
  Reagent reagent;
  Number<> strength;
};

Product product_of(const Given& g, std::string_view name) {
  const std::string_view text = g.word(name);
  const std::size_t space = std::min(text.find(' '), text.size());
  const auto reagent = find_reagent(text.substr(0, space));
  need(reagent.has_value(), name);
  double strength = g.get("strength", 1.0);
  if (const std::size_t percent = text.find('%'); percent != std::string_view::npos && percent > space) {
    const auto number = read_number(text.substr(space, percent - space));
    need(std::holds_alternative<double>(number), name);
    strength = 0.01 * std::get<double>(number);
  }
  return {*reagent, Number<>(strength)};
}

Concentration<> alkalinity_of(const Given& g, std::string_view name) {
  return amount_of(g, name, molar_mass::calcium_carbonate_equivalent, "mg/L");
}

double grams(const Given& g, std::string_view product, std::string_view change) {
  const Product p = product_of(g, product);
  return mass_for_alkalinity(p.reagent, g("volume") * units::litre, alkalinity_of(g, change)).in(units::gram) /
         p.strength.si();
}

/// An element that an acid brings along, as mass per volume.
double brought(const Given& g, std::string_view element, MolarMass<> mass) {
  const Product p = product_of(g, "acid");
  const auto formula = read_formula(p.reagent.formula);
  const double per_equivalent = formula->count(element) / std::abs(p.reagent.equivalents);
  return (alkalinity_of(g, "alkalinity_drop") * mass * per_equivalent).in(milligram_per_litre);
}

double salt_for_chloride(const Given& g) {
  const auto formula = read_formula(g.word("salt"));
  need(formula.has_value() && formula->count("Cl") > 0, "salt");
  return mass_for_rise(g("volume") * units::litre, g("chloride_rise") * milligram_per_litre, formula->share_of("Cl"))
      .in(units::gram);
}

/// "10", "10 mg Cl per mg NO2", "20 mg Cl per mg NO2-N": chloride over nitrite as the ion.
Number<> chloride_ratio(const Given& g) {
  if (!g.words.contains("ratio")) return Number<>(g.get("ratio", 10.0));
  const std::string_view text = g.word("ratio");
  const auto number = read_number(text.substr(0, text.find(' ')));
  need(std::holds_alternative<double>(number), "ratio");
  const bool per_nitrogen = text.ends_with("-N") || text.ends_with("N/L") || text.ends_with(" N");
  return std::get<double>(number) * (per_nitrogen ? molar_mass::nitrogen / molar_mass::nitrite : Number<>(1.0));
}

const InputRow kVolume{"volume", "L", 0, 1e7, "of water"};
const InputRow kStrength = maybe({"strength", "-", 0, 1, "pure share of the product; 1 if not given"});

}  // namespace

std::vector<Entry> dosing_entries() {
  return {
      {"alkalinity_dose",
       "mass of a base that raises alkalinity",
       {{"salt", "", 0, 0, "formula: NaHCO3, KHCO3, K2CO3, Ca(OH)2, KOH, CaCO3 ..."},
        kVolume,
        amount_row("alkalinity_rise", "mg/L as CaCO3, or meq/L"),
        kStrength},
       {{"mass", "g", [](const Given& g) { return grams(g, "salt", "alkalinity_rise"); }},
        {"carbon", "mmol/L",
         [](const Given& g) {
           return carbon_with_alkalinity(product_of(g, "salt").reagent, alkalinity_of(g, "alkalinity_rise")).si();
         }}},
       "atomic weights"},
      {"acid_dose",
       "mass of an acid product that lowers alkalinity",
       {{"acid", "", 0, 0, "formula and strength: HCl 31.45 % w/w, HNO3, H3PO4, H2SO4"},
        kVolume,
        amount_row("alkalinity_drop", "mg/L as CaCO3, or meq/L"),
        kStrength},
       {{"mass", "g", [](const Given& g) { return grams(g, "acid", "alkalinity_drop"); }}},
       "atomic weights; phosphoric acid counts to H2PO4"},
      {"acid_dose_nutrients",
       "what an acid that lowers alkalinity brings along",
       {{"acid", "", 0, 0, "formula: H3PO4, HNO3"}, amount_row("alkalinity_drop", "mg/L as CaCO3, or meq/L")},
       {{"phosphorus", "mg/L", [](const Given& g) { return brought(g, "P", molar_mass::phosphorus); }},
        {"nitrogen", "mg/L", [](const Given& g) { return brought(g, "N", molar_mass::nitrogen); }}},
       "atomic weights"},
      {"salt_dose_for_chloride",
       "mass of a salt that raises chloride",
       {{"salt", "", 0, 0, "formula: NaCl, CaCl2.2H2O, KCl"}, kVolume, {"chloride_rise", "mg/L", 0, 5000, "as Cl"}},
       {{"mass", "g", salt_for_chloride}},
       "atomic weights"},
      {"chloride_for_nitrite",
       "chloride that keeps nitrite out of the gill",
       {amount_row("nitrite", "mg/L as N"), maybe({"ratio", "", 0, 0, "mg Cl per mg NO2; 10 if not given"})},
       {{"chloride", "mg/L",
         [](const Given& g) {
           const Concentration<> nitrite = amount_of(g, "nitrite", molar_mass::nitrogen, "mg/L");
           return chloride_against_nitrite(nitrite * molar_mass::nitrite, chloride_ratio(g)).in(milligram_per_litre);
         }}},
       "SRAC 462"},
      {"iron_dose",
       "mass of a chelate that raises iron",
       {{"iron_rise", "mg/L", 0, 20, "as Fe"}, kVolume, {"iron_content", "-", 0.001, 1, "iron in the product by mass"}},
       {{"mass", "g",
         [](const Given& g) {
           return mass_for_rise(g("volume") * units::litre, g("iron_rise") * milligram_per_litre,
                                Number<>(g("iron_content")))
               .in(units::gram);
         }}},
       "mass balance"},
      {"chlorine_neutraliser",
       "mass that neutralises chlorine, per mass of chlorine",
       {},
       {{"thiosulphate", "g/g", [](const Given&) { return chlorine_need().thiosulphate.si(); }},
        {"thiosulphate_least", "g/g", [](const Given&) { return chlorine_need().thiosulphate_least.si(); }},
        {"ascorbic_acid", "g/g", [](const Given&) { return chlorine_need().ascorbic_acid.si(); }},
        {"nitrogen_of_chloramine", "g/g", [](const Given&) { return chlorine_need().nitrogen_left.si(); }}},
       "atomic weights"},
  };
}

}  // namespace leat::science::water_entry
