#include "science/water/entry_help.h"
#include "science/water/formula.h"
#include "science/water/unit_conversion.h"

namespace leat::science::water_entry {
namespace {

double converted(const Given& g) {
  const auto factor = conversion_factor(g.word("from"), g.word("to"));
  need(factor.has_value(), "from, to: known units that have something in common");
  return g("value") * factor->si();
}

double chloride_share(const Given& g) {
  const auto formula = read_formula(g.word("salt"));
  need(formula.has_value(), "salt");
  return formula->share_of(g.words.contains("element") ? g.word("element") : "Cl").si();
}

}  // namespace

std::vector<Entry> conversion_entries() {
  return {
      {"unit_conversion",
       "a reading counted in another unit",
       {{"value", "-", 0, 1e9, "the number read"},
        {"from", "", 0, 0, "what it counts: NH3, NO3-N, P2O5, meq/L, degree German hardness ..."},
        {"to", "", 0, 0, "what it shall count"}},
       {{"value", "", converted}},
       "atomic weights; definitions of the degrees"},
      {"hardness_from_ca_mg",
       "hardness from calcium and magnesium",
       {maybe(amount_row("calcium", "Ca, mg/L or mmol/L")), maybe(amount_row("magnesium", "Mg, mg/L or mmol/L"))},
       {{"hardness", "mg/L",
         [](const Given& g) {
           const Concentration<> sum = hardness(amount_or_none(g, "calcium", molar_mass::calcium, "mg/L"),
                                                amount_or_none(g, "magnesium", molar_mass::magnesium, "mg/L"));
           return (sum * molar_mass::calcium_carbonate_equivalent).in(milligram_per_litre);
         }}},
       "APHA 2340 B"},
      {"chloride_mass_fraction",
       "share of an element in a salt by mass",
       {{"salt", "", 0, 0, "formula"}, maybe({"element", "", 0, 0, "Cl if not given"})},
       {{"fraction", "-", chloride_share}},
       "atomic weights"},
  };
}

}  // namespace leat::science::water_entry
